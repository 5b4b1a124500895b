"""From the rows of a readings file to lines on the time axis of the case, with their gaps."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import pairwise
from statistics import median

from mmbuilder.case.clocks import ClockFault, Reckoner
from mmbuilder.case.freetext import FreeText
from mmbuilder.case.model import ReadingGap, Readings
from mmbuilder.case.when import When
from mmbuilder.casefile.readings.faults import Pen, tell_artefact, tell_backwards, tell_filled
from mmbuilder.casefile.readings.table import Table

_LATE = 1.5
"""A silence is a gap when it is longer than this many times the interval that was due."""

_LATE_UNSAID = 3.0
"""The same where nobody said what was due: then the usual interval of the line stands in."""

_HALF_DAY = 720.0


@dataclass(frozen=True)
class RawGap:
    """A stretch without readings, in minutes from the index event, and why if the author said so."""

    start: float
    end: float
    why: FreeText | None = None


@dataclass(frozen=True)
class RawSeries:
    """One line of readings.

    Attributes:
        name, unit: as the author wrote them.
        points: (minutes from the index event, value in `unit`), in order of time.
        artefacts: indices into `points` that the author marked.
        gaps: stretches no line may cross.
        dropped: device sentinels left out.
        missing: cells without a value.
        alarm_below, alarm_above: limits at which the alarm was set.
    """

    name: FreeText
    unit: FreeText
    points: tuple[tuple[float, float], ...] = field(repr=False)
    artefacts: frozenset[int] = frozenset()
    gaps: tuple[RawGap, ...] = ()
    dropped: int = 0
    missing: int = 0
    alarm_below: float | None = None
    alarm_above: float | None = None


def _start(table: Table, readings: Readings, reckoner: Reckoner) -> float:
    """Minutes from the index event at the file's second 0.

    A file without dates belongs to the day on which it covers the index event, be that over
    midnight; else to the day of the index event, if it comes within half a day of it.
    """
    base = reckoner.minutes(0, table.day, readings.clock, elapsed=table.elapsed)
    if table.elapsed or table.day is not None or not table.times:
        return base
    first, last = base + table.times[0] / 60, base + table.times[-1] / 60
    around = [days for days in (0.0, -1440.0, 1440.0) if first + days <= 0 <= last + days]
    if len(around) == 1:
        return base + around[0]
    if around or min(abs(first), abs(last)) > _HALF_DAY:
        raise ClockFault(
            "readings-no-date",
            "times without dates, so that the day is not sure",
            "a date beside the time in every row",
            "2001-02-13 14:20",
            (),
            text="the day of these readings is not clear",
            why="the readings could be a day early or late",
        )
    return base


def series(table: Table, readings: Readings, reckoner: Reckoner, pen: Pen) -> Iterator[RawSeries]:
    """Yield one series for each column asked for; artefacts that hit no reading are told.

    Raises:
        ClockFault: the file, or a gap or artefact of it, has no place in time.
    """
    start = _start(table, readings, reckoner)
    told = [_told(gap, readings, reckoner, pen) for gap in readings.gaps]
    marked = [_window(when, readings, reckoner) for when in readings.artefacts]
    hit: set[int] = set()
    shown: set[RawGap] = set()
    for column in table.columns:
        points = tuple((start + seconds / 60, number) for seconds, number in column.points)
        pairs = set(_hits(points, marked))
        hit |= {mark for _, mark in pairs}
        gaps = _gaps([minute for minute, _ in points], _due(readings), told)
        shown |= {gap for gap in told if any(_meet(gap, one) for one in gaps)}
        yield RawSeries(
            column.line.name,
            column.line.unit,
            points,
            frozenset(index for index, _ in pairs),
            gaps,
            column.dropped,
            column.missing,
            column.line.alarm_below,
            column.line.alarm_above,
        )
    for mark in sorted(set(range(len(marked))) - hit):
        tell_artefact(readings.artefacts[mark], pen)
    for gap, stated in zip(told, readings.gaps, strict=True):
        if gap not in shown and gap.start < gap.end:
            tell_filled(stated.starts, pen)


def _hits(
    points: tuple[tuple[float, float], ...], marked: list[tuple[float, float]]
) -> Iterator[tuple[int, int]]:
    """Yield (point, artefact) wherever an artefact of the author's covers a reading."""
    minutes = [minute for minute, _ in points]
    for mark, (lo, hi) in enumerate(marked):
        yield from ((index, mark) for index in range(bisect_left(minutes, lo), bisect_left(minutes, hi)))


def _told(gap: ReadingGap, readings: Readings, reckoner: Reckoner, pen: Pen) -> RawGap:
    start, end = (_centre(when, readings, reckoner) for when in (gap.starts, gap.ends))
    if end < start:
        tell_backwards(gap.ends, pen)
        return RawGap(start, start, gap.why)
    return RawGap(start, end, gap.why)


def _centre(when: When, readings: Readings, reckoner: Reckoner) -> float:
    centre = reckoner.moment(when, readings.clock).centre
    if centre is None:
        raise ClockFault(
            "gap-no-time",
            "a gap without a time",
            "when it starts and when it ends",
            "gaps:\n  - from: 14:20\n    to: 14:35\n    why: cuff off",
            when.path,
            text="this gap has no time",
        )
    return centre


def _window(when: When, readings: Readings, reckoner: Reckoner) -> tuple[float, float]:
    """All that a time of this precision covers: 14:20 is the whole of that minute."""
    moment = reckoner.moment(when, readings.clock)
    lo = float("-inf") if moment.lo is None else moment.lo
    hi = float("inf") if moment.hi is None else moment.hi
    return (lo - 1e-6, hi + moment.precision - 1e-6) if moment.placed else (0.0, 0.0)


def _due(readings: Readings) -> float | None:
    return None if readings.every is None else readings.every.seconds / 60


def _gaps(minutes: list[float], due: float | None, told: list[RawGap]) -> tuple[RawGap, ...]:
    """Silences of a line, each with the author's reason where one overlaps it, and the author's own gaps.

    A gap of the file is none of a line that has readings in it: nothing is hatched over what was measured.
    """
    found, used = [], set[int]()
    for start, end in _silences(minutes, due):
        reasons = [place for place, gap in enumerate(told) if _meet(gap, RawGap(start, end))]
        used.update(reasons)
        found.append(RawGap(start, end, told[reasons[0]].why if reasons else None))
    others = (gap for place, gap in enumerate(told) if place not in used)
    found.extend(gap for gap in others if not _filled(gap, minutes))
    return tuple(sorted(found, key=lambda gap: (gap.start, gap.end)))


def _meet(one: RawGap, other: RawGap) -> bool:
    return one.start < other.end and other.start < one.end


def _filled(gap: RawGap, minutes: list[float]) -> bool:
    """Whether a reading lies within a gap, its ends left aside."""
    return bisect_right(minutes, gap.start) < bisect_left(minutes, gap.end)


def _silences(minutes: list[float], due: float | None) -> Iterator[tuple[float, float]]:
    steps = [(start, end) for start, end in pairwise(minutes) if end > start]
    if due is None and len(steps) < 4:
        return
    limit = due * _LATE if due is not None else median(end - start for start, end in steps) * _LATE_UNSAID
    yield from ((start, end) for start, end in steps if end - start > limit + 1e-9)
