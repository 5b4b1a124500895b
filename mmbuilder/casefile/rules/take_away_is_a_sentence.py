"""The take-away is a sentence."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.casefile.rules._lengths import words
from mmbuilder.problem import Severity

CODE = "take-away-too-short"
WHY = "it is the last slide, alone in large letters"
GOOD = "take away: Two signs out of three, and the hands come off"
BAD = "take away: no"


def check(ctx: Context) -> Iterator[Finding]:
    """Yield a take-away of fewer than four words."""
    if len(words(ctx.case.take_away)) < 4:
        yield Finding(
            ("take away",),
            "the take-away is too short to take away",
            found="fewer than four words",
            expected="one sentence that a colleague can use on Monday",
            example="take away: Two signs out of three, and the hands come off",
            severity=Severity.WARN,
        )
