"""Nothing is treated, and nothing is over, that has not begun."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.casefile.rules._order import too_early
from mmbuilder.safe.terms import EventKind

CODE = "end-before-sign"
WHY = "a time that runs backwards is a clock that is wrong; no interval from it can be told"
GOOD = 'timeline: {events: {3: {kind: resolution, when: "10:40"}}}'
BAD = 'timeline: {events: {3: {kind: resolution, when: "09:50"}}}'


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each response and resolution that is certainly before the earliest first sign."""
    expected = "a time after the first sign; `kind: action` for what was done before it"
    for kind in (EventKind.RESPONSE, EventKind.RESOLUTION):
        yield from too_early(ctx, kind, EventKind.FIRST_SIGN, expected)
