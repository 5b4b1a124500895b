"""Nobody recognises what has not begun."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.casefile.rules._order import too_early
from mmbuilder.safe.terms import EventKind

CODE = "recognition-before-sign"
WHY = "the time from sign to recognition is the measure of the review, and it cannot be negative"
GOOD = 'timeline: {events: {2: {when: "10:05"}}}'
BAD = 'timeline: {events: {2: {when: "09:59"}}}'


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each recognition that is certainly before the earliest first sign."""
    expected = "a recognition at the same time as the first sign or after it"
    return too_early(ctx, EventKind.RECOGNITION, EventKind.FIRST_SIGN, expected)
