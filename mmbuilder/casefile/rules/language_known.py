"""The language of the fixed words is one there is a catalogue for."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.labels import ENGLISH, languages

CODE = "unknown-language"
WHY = "the headings and labels on slides and paper are told in this language"
GOOD = "language: en"
BAD = "language: english"


def check(ctx: Context) -> Iterator[Finding]:
    """Yield a language without a catalogue."""
    if ctx.case.language not in languages():
        yield Finding(
            ("language",),
            "there are no words for slides and paper in this language",
            found="a tag that is not on the list",
            expected=f"one of: {', '.join(languages())}",
            example=f"language: {ENGLISH}",
        )
