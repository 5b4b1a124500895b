"""From events to a timeline: order, the marks and intervals between them, and what to draw.

Marks: first sign, recognition, response, resolution. Derived intervals: detection =
recognition - first sign; reaction = response - recognition; control = resolution -
response (consistent with failure-to-rescue work: Silber 1992; Johnston 2015, from memory).
A missing mark gives an unknown interval, never zero; no interval is negative.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from mmbuilder.safe.case import DayAndNight, Decision, Event, Phase, Recording, ScrubbedCase, Series
from mmbuilder.safe.moment import Elapsed, Moment
from mmbuilder.safe.terms import Course, EventKind
from mmbuilder.safe.text import SafeText, clip


class Mark(StrEnum):
    """The four marks."""

    FIRST_SIGN = "first sign"
    RECOGNITION = "recognition"
    RESPONSE = "response"
    RESOLUTION = "resolution"


@dataclass(frozen=True)
class Interval:
    """A derived interval between two events, named.

    Attributes:
        name: such as "sign to recognition".
        start, end: event numbers; None where the mark is missing.
        elapsed: its length as a range.
        alternatives: lengths that follow if the other recorded times are right, deduplicated.
        by_days: whether it is told in days and hours.
    """

    name: SafeText
    start: int | None
    end: int | None
    elapsed: Elapsed
    alternatives: tuple[Elapsed, ...] = ()
    by_days: bool = False


@dataclass(frozen=True)
class Panel:
    """A stretch of the axis with a scale of its own. Minutes from the index event."""

    start: float
    end: float
    unit: str
    """`min`, `h` or `day`: what its ticks count."""
    heart: bool = False
    """Whether it enlarges the window of the marks."""


@dataclass(frozen=True)
class Timeline:
    """The whole timeline, computed once.

    Attributes:
        events: in order of time; those with no place on the axis keep their order of telling.
        marks: event numbers for each mark, in order; several first signs or recognitions may stand.
        intervals: detection, reaction, control; of a course of days also first warning to rescue.
        panels: stretches of axis; between two of them the skipped time is written.
    """

    events: tuple[Event, ...]
    phases: tuple[Phase, ...]
    decisions: tuple[tuple[int, Moment, SafeText], ...]
    """(decision number, when, short words)."""
    series: tuple[Series, ...]
    recordings: tuple[Recording, ...]
    marks: tuple[tuple[Mark, tuple[int, ...]], ...]
    intervals: tuple[Interval, ...]
    panels: tuple[Panel, ...]
    clock: SafeText
    """The reference clock and the offsets of the others, in one line."""
    zero: SafeText
    day_and_night: DayAndNight | None = None

    def event(self, number: int) -> Event:
        """Return the event with this number.

        Raises:
            KeyError: there is none.
        """
        for event in self.events:
            if event.number == number:
                return event
        raise KeyError(number)


@dataclass(frozen=True)
class Chart:
    """A timeline to be drawn up to `until` (minutes; None: all of it), on an axis that ends there.

    Nothing later than the cut is in it: `analysis.cut` filters events, phases, readings and
    decisions, so what is drawn cannot give away what is not.
    """

    timeline: Timeline
    until: float | None = None
    brackets: bool = False
    """Whether the intervals are drawn."""


_KINDS = {
    Mark.FIRST_SIGN: EventKind.FIRST_SIGN,
    Mark.RECOGNITION: EventKind.RECOGNITION,
    Mark.RESPONSE: EventKind.RESPONSE,
    Mark.RESOLUTION: EventKind.RESOLUTION,
}

MOST_LABELS = 12
"""Most labels on a chart; further events have a number (common practice, no source)."""

MOST_LINES = 3
"""Most lines of readings on a chart, the first that the case lists (common practice, no source)."""

_WORDS = 6
"""A label on the chart has six words at most (common practice, no source)."""


def build_timeline(case: ScrubbedCase) -> Timeline:
    """Order the events of a case, find its marks, intervals and panels. Minutes from the index event."""
    # Late: these need the types above.
    from mmbuilder.analysis.clocks import clock_line
    from mmbuilder.analysis.intervals import derive
    from mmbuilder.analysis.panels import panels

    events = in_order(case.events)
    marks = find_marks(events)
    decisions = tuple(_decision(decision, events) for decision in case.decisions)
    return Timeline(
        events=events,
        phases=case.phases,
        decisions=decisions,
        series=case.series,
        recordings=case.recordings,
        marks=marks,
        intervals=derive(events, marks, died=case.course is Course.DEATH),
        panels=panels(events, decisions, case.phases, case.series, case.recordings),
        clock=clock_line(case.clocks),
        zero=case.zero,
        day_and_night=case.day_and_night,
    )


def in_order(events: tuple[Event, ...]) -> tuple[Event, ...]:
    """Sort by time; an event without a place on the axis stays behind the one told before it."""
    told = sorted(enumerate(events), key=lambda pair: (pair[1].at.sequence, pair[0]))
    keyed: list[tuple[float, int, Event]] = []
    last = float("-inf")
    for place, (_, event) in enumerate(told):
        centre = event.at.centre
        last = last if centre is None else centre
        keyed.append((last, place, event))
    return tuple(event for _, _, event in sorted(keyed, key=lambda entry: entry[:2]))


def find_marks(events: tuple[Event, ...]) -> tuple[tuple[Mark, tuple[int, ...]], ...]:
    """Event numbers of each mark; those with a place on the axis first, in order of time."""
    found = []
    for mark, kind in _KINDS.items():
        bearers = sorted((event for event in events if event.kind is kind), key=lambda e: not e.at.placed)
        if bearers:
            found.append((mark, tuple(event.number for event in bearers)))
    return tuple(found)


def _decision(decision: Decision, events: tuple[Event, ...]) -> tuple[int, Moment, SafeText]:
    moment = decision.at
    if not moment.placed:
        moment = next((event.at for event in events if event.number == decision.event), moment)
    return decision.number, moment, clip(decision.question, _WORDS)
