"""A time much earlier than the one above it: the next day, or a slip?"""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.casefile.context import EVENTS, Context, clock_face
from mmbuilder.casefile.mark import Finding

CODE = "perhaps-next-day"
WHY = "past midnight the clock starts again, and a day is never guessed"
GOOD = 'timeline: {events: {3: {when: "day 1 01:20"}}}'
BAD = """
timeline: {events: {0: {when: "21:30"}, 1: {when: "22:05"}, 2: {when: "22:15"}, 3: {when: "11:20"}}}
"""

_SIX_HOURS = 360.0


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each event without a day that is over six hours earlier than the one above it."""
    above: float | None = None
    for place, (event, moment) in enumerate(zip(ctx.case.timeline.events, ctx.moments, strict=True)):
        if moment is None or moment.centre is None:
            continue
        stamp = event.when.first or event.when.last
        undated = stamp is not None and stamp.day is None and not event.when.elapsed
        if undated and above is not None and above - moment.centre > _SIX_HOURS:
            face = clock_face(event.when)
            yield Finding(
                (*EVENTS, place, "when"),
                f"event {place + 1} is {(above - moment.centre) / 60:.0f} h earlier than the one above it",
                found=f"{face or 'a time'} without a day",
                expected="its day: is this the next day?",
                example=f"when: day 1 {face or '01:20'}\nor, on the same day:\nwhen: day 0 {face or '01:20'}",
                quote=f"when: {face}" if face else "",
            )
        above = moment.centre
