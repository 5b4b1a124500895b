"""Readings in figures, for paper: lowest and highest with their times, the window, and what was left out.

Lines that the timeline has no place for are drawn here.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from mmbuilder.analysis.describe import describe
from mmbuilder.analysis.extremes import Extremes, Reading, extremes
from mmbuilder.analysis.timeline import MOST_LINES, Chart, Timeline
from mmbuilder.safe.case import Series
from mmbuilder.safe.moment import Known, Moment, clock
from mmbuilder.safe.text import SafeText, fill, join, number, wording
from mmbuilder.storyboard.blocks import Cell, Paragraph, Slide, Table, TimeChart, Tone
from mmbuilder.storyboard.context import Context

MISSING = wording("readings in figures: the case has none")


def make(context: Context) -> tuple[Slide, ...]:
    """One page part with a row a line of readings; those that the timeline has no place for are drawn."""
    rows = tuple(_rows(context.case.series))
    if not rows:
        return ()
    table = Table(
        header=(
            wording("Readings"),
            wording("Lowest"),
            wording("Highest"),
            wording("Window"),
            wording("Counted"),
        ),
        rows=rows,
        shares=(2.5, 2, 2, 2.5, 3),
        caption=wording("Lowest and highest reading of each line, with the window they hold for"),
    )
    told = Paragraph(
        wording("Artefacts and device values are left out. Nothing is said of the time outside the window."),
        Tone.QUIET,
    )
    headline = wording("These are the readings in figures.")
    return (Slide("readings_told", headline, (table, told, *_beside(context.timeline))),)


def _beside(timeline: Timeline) -> Iterator[TimeChart]:
    """Draw the lines that the chart of the whole has no place for, on its axis and by themselves."""
    alone = replace(timeline, events=(), phases=(), decisions=(), recordings=(), marks=(), intervals=())
    for first in range(MOST_LINES, len(timeline.series), MOST_LINES):
        chart = Chart(replace(alone, series=timeline.series[first : first + MOST_LINES]))
        yield TimeChart(chart, describe(chart))


def _rows(series: tuple[Series, ...]) -> Iterator[tuple[Cell, ...]]:
    for line in series:
        found = extremes(line)
        if found is not None:
            yield (
                Cell(join(", ", (line.name, line.unit)), strong=True),
                Cell(_told(found.lowest)),
                Cell(_told(found.highest)),
                Cell(fill("{start} to {end}", start=_at(found.window[0]), end=_at(found.window[1]))),
                Cell(_counted(line, found)),
            )


def _told(reading: Reading) -> SafeText:
    return fill("{value} at {when}", value=number(reading[1], "g"), when=_at(reading[0]))


def _at(minutes: float) -> SafeText:
    return clock(Moment(minutes, minutes, Known.EXACT))


def _counted(line: Series, found: Extremes) -> SafeText:
    """`46; 2 artefacts, 3 device values, 1 gap`."""
    parts = (
        (len(line.artefacts), wording("artefact"), wording("artefacts")),
        (line.dropped, wording("device value"), wording("device values")),
        (len(line.gaps), wording("gap"), wording("gaps")),
    )
    besides = (fill("{n} {noun}", n=n, noun=one if n == 1 else many) for n, one, many in parts if n)
    return join("; ", (number(found.count), join(", ", besides)))
