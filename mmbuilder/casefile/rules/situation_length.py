"""The situation in one breath."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.casefile.rules._lengths import words
from mmbuilder.problem import Severity

CODE = "situation-too-long"
WHY = "the room has to know in one breath why it is listening; the rest belongs under background"
GOOD = f"situation: {' '.join(['word'] * 25)}"
BAD = f"situation: {' '.join(['word'] * 26)}"

MOST = 25
"""Words in the situation; common practice, no source."""


def check(ctx: Context) -> Iterator[Finding]:
    """Yield a situation of more than 25 words."""
    count = len(words(ctx.case.situation))
    if count > MOST:
        yield Finding(
            ("situation",),
            f"the situation has {count} words",
            expected=f"at most {MOST}",
            severity=Severity.WARN,
        )
