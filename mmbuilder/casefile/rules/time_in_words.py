"""Words tell no time of day beside one that slides count from T+0: an event's own, or an outcome's."""

from __future__ import annotations

from collections.abc import Iterator

from pydantic_core import PydanticCustomError

from mmbuilder.case import told_time
from mmbuilder.case.counted_time import Counting
from mmbuilder.case.model import Case
from mmbuilder.case.when import When, parse_when
from mmbuilder.casefile.context import EVENTS, Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.problem import Severity

CODE = "time-in-words"
WHY = "a time of day beside one that is counted from T+0 makes the room reckon"
GOOD = (
    "{timeline: {index event: a, events: [{id: a, kind: step, when: 10:39, what: The protocol was called}]}}"
)
BAD = (
    "{timeline: {index event: a, events: [{id: a, kind: step, when: 10:39, what: Protocol called at 10:39}]}}"
)


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each event whose words tell its own time again, and each text of the outcome whose time stays.

    For outside, every time is told of elsewhere.
    """
    if ctx.told_outside:
        return
    dial = ctx.case.specialty == "ophthalmology"
    yield from _of_outcome(ctx.case)
    for place, event in enumerate(ctx.case.timeline.events):
        said = event.what.value
        if any(_of(event.when, said[one.start : one.end]) for one in told_time.find(said, dial=dial)):
            yield Finding(
                (*EVENTS, place, "what"),
                "`what` tells the time of the event again",
                found="the time of day that stands under `when`",
                expected="the words without it; the slides tell it from T+0",
                severity=Severity.WARN,
            )


def _of_outcome(case: Case) -> Iterator[Finding]:
    outcome, counting = case.outcome, Counting(case)
    told = {"summary": outcome.summary, "last state": outcome.last_state, "told": outcome.told}
    for key, said in told.items():
        if said is not None and any(
            time.why and not time.bare for time in counting.find(said.value, ("outcome", key))
        ):
            yield Finding(
                ("outcome", key),
                f"`{key}` tells a time of day that cannot be counted from the index event",
                found="a time of day",
                expected="how long after, or a part of the day: `the same afternoon`",
                severity=Severity.WARN,
            )


def _of(when: When, told: str) -> bool:
    """Whether a time of day in words is that of an event, by the clock and not into a recording."""
    try:
        again = parse_when(told)
    except PydanticCustomError:
        return False
    one, other = when.first, again.first
    return not when.elapsed and one is not None and other is not None and one.seconds == other.seconds
