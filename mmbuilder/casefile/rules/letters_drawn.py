"""Every letter of the case is one that slides, figures and pages can show."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder import fonts
from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding

CODE = "letter-not-drawn"
WHY = "a letter that no font here has would stand on the slide as an empty box"
GOOD = "situation: The plan changed (план изменён)"
BAD = "situation: The plan changed (योजना बदली)"


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each text with letters that no font here has, by script."""
    for key, text in ctx.told:
        lost = fonts.missing(text.value)
        if lost:
            yield Finding(
                text.path,
                f"`{key}` holds letters that cannot be drawn",
                found=f"the script {', '.join(dict.fromkeys(map(fonts.script, lost)))}",
                expected="Latin, Greek, Cyrillic, Arabic, Hebrew, Armenian or Georgian letters",
                example="write it in one of these, such as a transcription into Latin letters",
            )
