"""From follow-up visits to series: one measure over the visits, in one unit, with its gaps kept.

A visit without a measure is a gap in its series and breaks its line; it is never zero and never
filled in. Time is told by the day, as visits are.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from mmbuilder.analysis.day_panels import day_panels
from mmbuilder.analysis.timeline import Panel
from mmbuilder.analysis.usual import NoUsual, Usual, find_usual
from mmbuilder.analysis.values import (
    LOGMAR,
    Measured,
    NotDone,
    Ranked,
    Side,
    Value,
    Worded,
    is_acuity,
    read,
    times,
)
from mmbuilder.packs.schema import Reference
from mmbuilder.safe.case import Patient, Visit
from mmbuilder.safe.moment import DAY, Moment, clock
from mmbuilder.safe.text import EMPTY, SafeText, capital, fill, join, sentence, wording

MOST = 4
"""More series than this cannot be read at one sight; the others stay in the table."""

LEAST = 2
"""Figures of fewer visits make no course."""

NOT_RECORDED = wording("not recorded")
"""What stands for a measure that a visit does not name."""


@dataclass(frozen=True)
class Point:
    """One visit in a series.

    Attributes:
        start, end: between which times it was; minutes, Day N at N days whole.
        when: the same in words.
        words: what was written.
        value: what was read in it; figures are in the unit of the series.
    """

    start: float
    end: float
    when: SafeText
    words: SafeText
    value: Value

    @property
    def time(self) -> float:
        """Where its mark stands."""
        return (self.start + self.end) / 2


@dataclass(frozen=True)
class VisitSeries:
    """One measure over all visits that have a day, in order.

    Attributes:
        better_up: the scale runs downwards, so that better stands higher (acuity in logMAR).
    """

    name: SafeText
    unit: SafeText
    points: tuple[Point, ...]
    better_up: bool = False
    usual: Usual | None = None

    @property
    def figures(self) -> tuple[Measured, ...]:
        """Every figure that can be plotted."""
        return tuple(point.value for point in self.points if isinstance(point.value, Measured))

    @property
    def enough(self) -> bool:
        """Whether there are figures of visits enough to draw."""
        return len({p.time for p in self.points if isinstance(p.value, Measured)}) >= LEAST

    @property
    def joined(self) -> tuple[tuple[Point, Point], ...]:
        """Neighbours that a line may join."""
        return tuple(pair for pair in pairwise(self.points) if _may_join(*pair))


@dataclass(frozen=True)
class SeriesChart:
    """Up to `MOST` series on one axis of days."""

    series: tuple[VisitSeries, ...]
    panels: tuple[Panel, ...]
    shares: tuple[float, ...]
    """How the width is divided among the panels."""


@dataclass(frozen=True)
class FollowUp:
    """What the visits give to draw, and what only a table can tell.

    Attributes:
        chart: None where no measure has figures enough.
        table_only: (measure, why it is not drawn).
        notes: sentences about units, days and ranges, for the notes of the slide.
    """

    chart: SeriesChart | None
    table_only: tuple[tuple[SafeText, SafeText], ...]
    notes: tuple[SafeText, ...]


def follow_up(
    visits: Sequence[Visit], references: Sequence[Reference] = (), patient: Patient | None = None
) -> FollowUp:
    """Make the series of a case's visits; `references` are those of its specialty."""
    dated = sorted(
        (visit for visit in visits if visit.at.bounded),
        key=lambda visit: (sum(_span(visit.at)), _span(visit.at)),
    )
    made = [one for name in _names(dated) for one in _of_name(name, dated)]
    enough = [one for one in made if one.enough]
    # The fullest are drawn, in the order in which the visits name them.
    fullest = sorted(enough, key=lambda one: -len(one.figures))[:MOST]
    drawn, told = _with_usual([one for one in enough if one in fullest], references, patient or Patient())
    chart = SeriesChart(drawn, *day_panels([point.time for point in drawn[0].points])) if drawn else None
    table_only = dict.fromkeys((one.name, _why(one, enough)) for one in made if one not in fullest)
    notes = (*_undated(len(visits) - len(dated)), *_of_units(made), *_turned(drawn), *told)
    return FollowUp(chart, tuple(table_only), notes)


# --- series of one name -----------------------------------------------------------------------


def _names(visits: Iterable[Visit]) -> tuple[SafeText, ...]:
    """Names of measures in order; letter case does not tell two apart."""
    found: list[SafeText] = []
    for name in (measure.name for visit in visits for measure in visit.measures):
        if not any(_same(name, other) for other in found):
            found.append(name)
    return tuple(found)


def _same(one: SafeText, other: SafeText) -> bool:
    return len(one) == len(other) and one.within(other)


def _of_name(name: SafeText, visits: Sequence[Visit]) -> Iterator[VisitSeries]:
    """One series for each unit that cannot be turned into an earlier one."""
    points = [point for visit in visits for point in _points(name, visit)]
    units: list[SafeText] = []
    for value in (point.value for point in points):
        if isinstance(value, Measured) and not any(times(name, value.unit, unit) for unit in units):
            units.append(value.unit)
    for unit in units or [EMPTY]:
        inside = tuple(replace(point, value=_within(name, point.value, unit)) for point in points)
        yield VisitSeries(name, unit, inside, better_up=is_acuity(name) and unit == LOGMAR)


def _points(name: SafeText, visit: Visit) -> Iterator[Point]:
    start, end = _span(visit.at)
    written = [measure.value for measure in visit.measures if _same(measure.name, name)]
    for words in written:
        yield Point(start, end, clock(visit.at), words, read(name, words))
    if not written:
        yield Point(start, end, clock(visit.at), NOT_RECORDED, NotDone())


def _span(at: Moment) -> tuple[float, float]:
    """Where a visit lies; one told by the day lies on its day, whatever the time of the index event."""
    first, last = at.days or (None, None)
    if first is not None and last is not None:
        return first * DAY, last * DAY
    assert at.lo is not None
    assert at.hi is not None
    return at.lo, at.hi


def _within(name: SafeText, value: Value, unit: SafeText) -> Value:
    """Turn a figure into the unit of its series; one of another kind stays words there."""
    if not isinstance(value, Measured) or value.unit == unit:
        return value
    factor = times(name, value.unit, unit)
    if factor is None:
        return Worded()
    return replace(value, low=value.low * factor, high=value.high * factor, unit=unit)


def _may_join(before: Point, after: Point) -> bool:
    """Whether both have a value of the same kind of measurement, one after the other."""
    if after.time <= before.time:
        return False
    manners = set()
    for value in (before.value, after.value):
        if isinstance(value, Measured) and value.side is Side.EXACT:
            manners.add(value.manner)
        elif not isinstance(value, Ranked):
            return False
    return len(manners) <= 1


def _why(one: VisitSeries, enough: list[VisitSeries]) -> SafeText:
    if one in enough:
        return fill("only {most} series are drawn", most=MOST)
    if not one.figures:
        return wording("no figure that can be plotted")
    return wording("figures of one visit only")


# --- what has to be said ----------------------------------------------------------------------


def _undated(count: int) -> Iterator[SafeText]:
    if count == 1:
        yield wording("One visit has no day of its own and is told in the table only.")
    elif count:
        yield fill("{count} visits have no day of their own and are told in the table only.", count=count)


def _of_units(made: Sequence[VisitSeries]) -> Iterator[SafeText]:
    for name in dict.fromkeys(one.name for one in made):
        units = [one.unit or wording("no unit") for one in made if one.name == name]
        if len(units) > 1:
            yield sentence(
                fill(
                    "{name} was written in {units}, which cannot be turned into one another",
                    name=name,
                    units=join(" and in ", units),
                )
            )


def _turned(drawn: Sequence[VisitSeries]) -> Iterator[SafeText]:
    for one in drawn:
        written = (read(one.name, point.words) for point in one.points)
        others = {value.unit: None for value in written if isinstance(value, Measured)}
        units = [unit for unit in others if unit != one.unit and times(one.name, unit, one.unit)]
        if units:
            told = {"name": one.name, "units": join(" and ", units), "unit": one.unit}
            yield sentence(fill("{name} in {units} is labelled as written and drawn in {unit}", **told))


def _with_usual(
    series: Sequence[VisitSeries], references: Sequence[Reference], patient: Patient
) -> tuple[tuple[VisitSeries, ...], list[SafeText]]:
    """Give each series its reference range; return also what is to be said of the ranges."""
    drawn, told = [], []
    for one in series:
        match find_usual(one.name, one.unit, references, patient):
            case Usual() as usual:
                drawn.append(replace(one, usual=usual))
                parts = {"range": usual.with_unit, "whom": usual.whom, "source": usual.source}
                told.append(fill("Reference for {name}: {range}, {whom} ({source}).", name=one.name, **parts))
            case NoUsual() as none:
                drawn.append(one)
                told.append(fill("No reference for {name} is drawn: {why}.", name=one.name, why=none.why))
            case None:
                drawn.append(one)
    return tuple(drawn), told


_TOLD = 8
"""So many values are told one by one; of more, the first, the ends of the range and the last."""


def describe_series(chart: SeriesChart) -> SafeText:
    """Return alt text: each series with its values as they were written, and its gaps."""
    return join(" ", map(_described, chart.series))


def _described(one: VisitSeries) -> SafeText:
    told = [point for point in one.points if not isinstance(point.value, NotDone)]
    missing = [point.when for point in one.points if isinstance(point.value, NotDone)]
    values = join(", ", (fill("{when} {words}", when=p.when, words=p.words) for p in _fewer(told)))
    heading = join(", ", (capital(one.name), wording("better upwards") if one.better_up else EMPTY))
    usual = one.usual and fill("; reference {range}", range=one.usual.with_unit)
    gaps = fill("; no value at {visits}", visits=join(", ", missing)) if missing else EMPTY
    return fill(
        "{heading}: {values}{usual}{gaps}.", heading=heading, values=values, usual=usual or EMPTY, gaps=gaps
    )


def _fewer(points: list[Point]) -> list[Point]:
    if len(points) <= _TOLD:
        return points
    figures = [p for p in points if isinstance(p.value, Measured)]
    ends = [pick(figures, key=_middle) for pick in (min, max)] if figures else []
    return [point for point in points if point in (points[0], *ends, points[-1])]


def _middle(point: Point) -> float:
    return point.value.middle if isinstance(point.value, Measured) else 0.0
