"""A title that fits its slide."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.casefile.rules._lengths import words
from mmbuilder.problem import Severity

CODE = "title-too-long"
WHY = "a long title says what happened before the room has been asked"
GOOD = f"title: {' '.join(['word'] * 12)}"
BAD = f"title: {' '.join(['word'] * 13)}"

MOST = 12
"""Words in the title; common practice, no source."""


def check(ctx: Context) -> Iterator[Finding]:
    """Yield a title of more than 12 words."""
    count = len(words(ctx.case.title))
    if count > MOST:
        yield Finding(
            ("title",), f"the title has {count} words", expected=f"at most {MOST}", severity=Severity.WARN
        )
