"""Once a case is closed, nothing happens in it."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.casefile.context import EVENTS, Context
from mmbuilder.casefile.mark import Finding

CODE = "event-after-closure"
WHY = "either the day is wrong, or the case was not closed"
GOOD = 'timeline: {closed: "11:00"}'
BAD = 'timeline: {closed: "10:10"}'


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each event that is certainly after the closure."""
    closed = ctx.moment(ctx.case.timeline.closed, None)
    if closed is None:
        return
    line = ctx.line(("timeline", "closed"))
    for place, moment in enumerate(ctx.moments):
        if moment is not None and closed.certainly_before(moment):
            yield Finding(
                (*EVENTS, place, "when"),
                f"event {place + 1} is after the case was closed",
                found=f"the case is closed on line {line}",
                expected="events up to the closure; a visit after it stands under outcome",
                example="outcome:\n  visits:\n    - when: day 30\n      note: Wound healed",
            )
