"""Every length of time, for paper: the intervals between the marks, and the phases with what is in none."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.analysis.describe import lengths
from mmbuilder.analysis.phases import PhaseTotals, phase_totals
from mmbuilder.analysis.timeline import Interval, Timeline
from mmbuilder.safe.case import Phase
from mmbuilder.safe.moment import DAY, SECOND, Elapsed, clock, duration
from mmbuilder.safe.text import SafeText, capital, fill, join, wording
from mmbuilder.storyboard.blocks import Block, Cell, Paragraph, Slide, Table, Tone
from mmbuilder.storyboard.context import Context

MISSING = wording("lengths of time: the case has neither marks nor phases")

_NOT_RECORDED = wording("not recorded")


def make(context: Context) -> tuple[Slide, ...]:
    """One page part: a table of intervals, a table of phases, and how both were worked out."""
    blocks = (*_intervals(context.timeline), *_phases(context.case.phases))
    if not blocks:
        return ()
    return (Slide("durations", wording("This is how long everything took."), blocks),)


# --- intervals --------------------------------------------------------------------------------


def _intervals(timeline: Timeline) -> Iterator[Block]:
    if not timeline.intervals:
        return
    yield Table(
        header=(wording("Interval"), wording("Length"), wording("From"), wording("To")),
        rows=tuple(_interval(interval, timeline) for interval in timeline.intervals),
        shares=(2.5, 2, 3, 3),
        caption=wording("Intervals between the marks, each from event to event"),
    )
    yield Paragraph(
        wording(
            "Shortest: earliest end less latest start. Longest: latest end less earliest start. "
            "Never below zero where the order is known; sources that disagree are each worked out."
        ),
        Tone.QUIET,
    )


def _interval(interval: Interval, timeline: Timeline) -> tuple[Cell, ...]:
    return (
        Cell(capital(interval.name), strong=True),
        Cell(lengths(interval)),
        Cell(_end(interval.start, timeline)),
        Cell(_end(interval.end, timeline)),
    )


def _end(number: int | None, timeline: Timeline) -> SafeText:
    if number is None:
        return _NOT_RECORDED
    event = timeline.event(number)
    times = join(" or ", (clock(event.at), *(clock(other.at) for other in event.others)))
    return fill("{when}: {what}", when=times, what=event.label or event.what)


# --- phases -----------------------------------------------------------------------------------


def _phases(phases: tuple[Phase, ...]) -> Iterator[Block]:
    totals = phase_totals(phases)
    if not totals.total:
        return
    step = 1.0 if all(_whole(minutes) for minutes in _all(totals)) else SECOND
    rows = [
        _row(name, _NOT_RECORDED if at is None else _ranged(at, left_open, step))
        for (name, at), left_open in zip(totals.rows, totals.ranges, strict=True)
    ]
    if totals.overlap:
        less = fill("−{length}", length=_told(totals.overlap, step))
        rows.append(_row(wording("counted in two phases"), less))
    unassigned = _told(totals.unassigned, step) if totals.unassigned else wording("none")
    rows.append(_row(wording("in no phase"), unassigned))
    total = _ranged(totals.total, totals.whole, step)
    yield Table(
        header=(wording("Phase"), wording("Length")),
        rows=(*rows, (Cell(wording("Total"), strong=True), Cell(total, strong=True))),
        shares=(5, 3),
        caption=wording("Phases, the time in none of them, and the total"),
    )
    yield Paragraph(
        wording(
            "The phases and the time in none of them make up the total, from first start to last end. "
            "An uncertain time counts at its middle; a phase without an end has no length."
        ),
        Tone.QUIET,
    )


def _row(name: SafeText, length: SafeText) -> tuple[Cell, ...]:
    return Cell(capital(name), strong=True), Cell(length)


def _all(totals: PhaseTotals) -> Iterator[float]:
    yield from (minutes for _, minutes in totals.rows if minutes is not None)
    yield from (totals.overlap, totals.unassigned, totals.total)


def _whole(minutes: float) -> bool:
    return abs(minutes - round(minutes)) < SECOND / 2


def _ranged(minutes: float, left_open: Elapsed, step: float) -> SafeText:
    """Return a length; one of uncertain ends as its range, with what of it counts in the sum."""
    counted = _told(minutes, step)
    if left_open.lo is None or left_open.hi is None or left_open.hi - left_open.lo < step:
        return counted
    return fill("{range}, counted as {length}", range=duration(left_open), length=counted)


def _told(minutes: float, step: float) -> SafeText:
    """Return a length to the minute however long it is, so that the table adds up."""
    if minutes < 3 * DAY:
        return duration(Elapsed(minutes, minutes, step))
    hours, rest = divmod(round(minutes), 60)
    return fill("{h} h {m} min", h=hours, m=rest)
