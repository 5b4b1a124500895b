"""ClassIntra grades what happened between skin incision and skin closure."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import compress

from mmbuilder.case.model import Event, Grade, Phase
from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.casefile.rules._grades import says_something
from mmbuilder.packs.schema import Edge, load, meant
from mmbuilder.problem import Severity
from mmbuilder.safe.moment import Moment
from mmbuilder.safe.terms import EventKind, Scale

CODE = "grade-outside-window"
WHY = "a grade of the operation for what happened on the ward cannot be compared with another"
WIDE = True  # a scale that was refused is filled in, and has grades of its own
GOOD = """
timeline: {events: {3: {kind: step, what: Skin closed}}}
outcome: {grades: [{scale: ClassIntra, grade: II, events: sign, treatments: minor, by: audit lead,
  when: same day}]}
"""
BAD = """
timeline: {events: {1: {kind: step, what: Skin closed}, 2: {kind: complication}}}
outcome: {grades: [{scale: ClassIntra, grade: II, events: seen}]}
"""

_TROUBLE = (EventKind.COMPLICATION, EventKind.FIRST_SIGN)
_FAR = float("inf")


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each grade of a complication all of whose events are certainly outside the window.

    Silent where incision and closure cannot be told from the pack's words, or an event has no time.
    """
    graded = [
        (place, given)
        for place, given in enumerate(ctx.case.outcome.grades)
        if given.scale is Scale.CLASSINTRA and says_something(given)
    ]
    if not graded or meant(ctx.case.specialty) is None:
        return
    from mmbuilder.clinic.severity import classintra

    window = _window(ctx)
    for place, given in graded:
        moments = [ctx.moments[at] for at in _events(ctx, given)]
        if moments and all(moment is not None and _outside(moment, *window) for moment in moments):
            said = classintra.challenge(given.grade, classintra.implied("none", "none", inside=False))
            if said is not None:
                yield Finding(
                    ("outcome", "grades", place, "grade"),
                    said,
                    found=_found(len(moments)),
                    expected="the grade of what happened in the operation, or `not applicable` and another "
                    "scale; or the events it is of",
                    example="scale: ClassIntra\ngrade: II\nevents: sign",
                    severity=Severity.WARN,
                )


def _found(count: int) -> str:
    which = "its event is" if count == 1 else f"all {count} events it can be of are"
    return f"{which} before the incision or after the closure"


def _outside(moment: Moment, incision: float, closure: float) -> bool:
    """Whether no reading of the time lies in the window."""
    from mmbuilder.clinic.severity import classintra

    if moment.lo is None or moment.hi is None:
        # A bound alone settles it where it lies beyond the far edge.
        return (moment.lo is not None and moment.lo > closure) or (
            moment.hi is not None and moment.hi < incision
        )
    nearest = min(max(incision, moment.lo), moment.hi)
    return not classintra.in_window(nearest, incision=incision, closure=closure)


def _events(ctx: Context, given: Grade) -> list[int]:
    """Positions of the events a grade is of: those it names, those of its words, or any it can be of."""
    events = ctx.case.timeline.events
    if given.events:
        return [ctx.event_ids[name] for name in given.events if name in ctx.event_ids]
    words = given.complication.plain if given.complication else ""
    same = [bool(words) and words in _names(event) for event in events]
    return list(compress(range(len(events)), same)) or [
        at for at, event in enumerate(events) if event.kind in _TROUBLE
    ]


def _names(event: Event) -> tuple[str, ...]:
    return tuple(text.plain for text in (event.what, event.label) if text)


# The window


def _window(ctx: Context) -> tuple[float, float]:
    """Return incision and closure in minutes, as wide as can be; infinite where they are not known."""
    pack, phases = load(ctx.case.specialty), ctx.case.timeline.phases
    starts = [ctx.moment(phase.starts, phase.clock) for phase in _of(pack.opening, phases)]
    ends = [ctx.moment(phase.ends, phase.clock) for phase in _of(pack.closing, phases)]
    opened = [*starts, *_marks(ctx, pack.opening)]
    closed = [*ends, *_marks(ctx, pack.closing)]
    incision = [-_FAR if one is None or one.lo is None else one.lo for one in opened]
    closure = [_FAR if one is None or one.hi is None else one.hi for one in closed]
    return min(incision, default=-_FAR), max(closure, default=_FAR)


def _of(edge: Edge, phases: tuple[Phase, ...]) -> list[Phase]:
    return [phase for phase in phases if phase.name.plain in edge.phases]


def _marks(ctx: Context, edge: Edge) -> Iterator[Moment | None]:
    for event, moment in zip(ctx.case.timeline.events, ctx.moments, strict=True):
        if event.kind is EventKind.STEP and any(name.startswith(edge.events) for name in _names(event)):
            yield moment
