"""Words of blame are told, with a neutral way to put it; they are never changed."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.problem import Severity

CODE = "words-of-blame"
WHY = "blame ends the telling; people stop reporting what they are judged for"
GOOD = "learning: [The clip was placed before the duct was seen]"
BAD = "learning: [The nurse was careless]"


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each such word; what is quoted is left alone."""
    from mmbuilder.review import blame

    for key, text in ctx.told:
        for flag in blame.find(text.value):
            yield Finding(
                text.path,
                f"`{key}` holds the word '{flag.word}': {flag.why}",
                expected=f"such as: {flag.neutral}",
                severity=Severity.WARN,
            )
