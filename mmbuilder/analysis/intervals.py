"""Detection, reaction and control: the intervals between the marks, as ranges.

Each is [b_lo - a_hi, b_hi - a_lo]; its order is known (a recognition follows its sign), so it
starts at zero at the least. Where the recorded times contradict that order the interval is
unknown. Where sources disagree it is computed with each of their times.

Where a day or more may lie between the first warning and the rescue, that is told as well, in days
and hours: over a long course after an operation it is the figure that is compared (failure-to-rescue
work: Silber 1992, from memory). The rescue is the first response; without one, the resolution.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import product

from mmbuilder.analysis.timeline import Interval, Mark
from mmbuilder.safe.case import Event
from mmbuilder.safe.moment import DAY, Elapsed, Moment, between, duration
from mmbuilder.safe.terms import Recognised
from mmbuilder.safe.text import SafeText, wording

_RESCUE = wording("first warning to rescue")

Marks = tuple[tuple[Mark, tuple[int, ...]], ...]

UNKNOWN = Elapsed(None, None)

_NAMES = (
    (wording("first sign to recognition"), Mark.FIRST_SIGN, Mark.RECOGNITION),
    (wording("recognition to response"), Mark.RECOGNITION, Mark.RESPONSE),
    (wording("response to resolution"), Mark.RESPONSE, Mark.RESOLUTION),
)


def derive(events: tuple[Event, ...], marks: Marks, *, died: bool = False) -> tuple[Interval, ...]:
    """Compute the intervals; one between marks that are both missing is left out.

    After a death that to the resolution is no gap in the record: it is told only if there was one.
    """
    ends = {mark: _end(mark, events, dict(marks)) for mark in Mark}
    parts = tuple(
        _interval(name, ends[start], ends[end])
        for name, start, end in _NAMES
        if ends[end] is not None or (ends[start] is not None and not (died and end is Mark.RESOLUTION))
    )
    whole = _interval(_RESCUE, ends[Mark.FIRST_SIGN], ends[Mark.RESPONSE] or ends[Mark.RESOLUTION])
    return (*parts, replace(whole, by_days=True)) if _over_days(whole) else parts


def _over_days(whole: Interval) -> bool:
    """Whether a day or more may lie in it by any source. Past the line no midnight is known to count by."""
    return any((one.hi or one.lo or 0) >= DAY for one in (whole.elapsed, *whole.alternatives))


def elapsed(start: Moment, end: Moment) -> Elapsed:
    """Return the interval between two moments in a known order; unknown if the times contradict it."""
    return UNKNOWN if end.certainly_before(start) else between(start, end, ordered=True)


def _end(mark: Mark, events: tuple[Event, ...], marks: dict[Mark, tuple[int, ...]]) -> Event | None:
    """Return the event an interval is counted from: the earliest, of the complication before its cause."""
    by_number = {event.number: event for event in events}
    bearers = [by_number[number] for number in marks.get(mark, ())]
    of_complication = [event for event in bearers if event.recognised is Recognised.COMPLICATION]
    return next(iter(of_complication or bearers), None)


def _interval(name: SafeText, start: Event | None, end: Event | None) -> Interval:
    if start is None or end is None:
        return Interval(name, start.number if start else None, end.number if end else None, UNKNOWN)
    main, *others = (elapsed(a, b) for a, b in product(_times(start), _times(end)))
    return Interval(name, start.number, end.number, main, _different(main, others))


def _times(event: Event) -> tuple[Moment, ...]:
    return (event.at, *(other.at for other in event.others))


def _different(main: Elapsed, others: list[Elapsed]) -> tuple[Elapsed, ...]:
    """Keep those that would be printed differently, each once."""
    printed = {duration(main): main}
    for other in others:
        printed.setdefault(duration(other), other)
    return tuple(printed.values())[1:]
