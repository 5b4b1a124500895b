"""Follow-up visits as small multiples: one row a measure, one axis of days under all of them.

    sheet = compose(chart, width, height)      # a list of shapes, in points
    drawn = draw_series(chart, Size(31, 12.5)) # SVG and PNG, alt text, the data as rows

Each value is labelled as it was written. A line joins two visits only if both have a value and no
visit lies between them; a visit without one says so in words. Nothing is told by colour alone.
"""

from __future__ import annotations

from mmbuilder.analysis.series import SeriesChart, VisitSeries, describe_series
from mmbuilder.analysis.values import Ranked
from mmbuilder.figures.bands import Band
from mmbuilder.figures.drawn import Drawn, Size, painted, room
from mmbuilder.figures.fold import fold_all
from mmbuilder.figures.notes import paragraph
from mmbuilder.figures.series_axis import HIGH, day_axis, draw_day_axis
from mmbuilder.figures.series_page import Page
from mmbuilder.figures.series_row import (
    Row,
    Told,
    draw_frame,
    draw_lines,
    draw_marks,
    draw_usual,
    write_values,
)
from mmbuilder.figures.series_scale import Heights
from mmbuilder.figures.sheet import Sheet, Words
from mmbuilder.figures.style import LINE, TEXT, Ink, width
from mmbuilder.safe.text import EMPTY, SafeText, clip, fill, join, number, wording

_BETWEEN = 8.0
"""Between two rows; points."""

_NOTES = 2
"""Lines of notes under the axis."""

_NAME, _WIDEST = 120.0, 200.0
"""Width of the name of a row, and how far one long word may widen it; points."""

_LINES = 3
"""Most lines of a name."""

_RANKED = 0.4
"""How much taller each rank makes a row, as a share of a row without."""


def least(count: int) -> Size:
    """Return the least room at which so many rows can be read."""
    return Size(20.0, 4.4 + 1.9 * count)


def draw_series(chart: SeriesChart, size: Size) -> Drawn:
    """Draw the series at the size they have on the slide.

    Raises:
        ValueError: there is less room than `least`.
    """
    sheet = compose(chart, *room(size, least(len(chart.series))))
    return Drawn(painted((sheet,)), describe_series(chart), rows(chart))


def rows(chart: SeriesChart) -> tuple[tuple[SafeText, ...], ...]:
    """Return the data as written: a row a visit, a column a series."""
    head = (wording("Visit"), *(join(", ", (one.name, one.unit)) for one in chart.series))
    visits = dict.fromkeys(point.when for one in chart.series for point in one.points)
    told = [(when, *(_at_visit(one, when) for one in chart.series)) for when in visits]
    return (head, *told)


def _at_visit(one: VisitSeries, when: SafeText) -> SafeText:
    return join("; ", (point.words for point in one.points if point.when == when))


def compose(chart: SeriesChart, wide: float, high: float) -> Sheet:
    """Lay the series out on a sheet of `wide` by `high` points."""
    page, told = Page(wide, high), Told()
    foot = high - HIGH - _NOTES * LINE - 4
    names = [_name(one) for one in chart.series]
    bands = _bands(chart.series, foot - 2)
    axis = day_axis(chart, _gutter(chart.series, names, bands), wide - 14)
    made = [Row(one, band, axis, page, told) for one, band in zip(chart.series, bands, strict=True)]
    steps = draw_day_axis(page, axis, chart.series[0].points, bands[0].top, foot)
    for row, name in zip(made, names, strict=True):
        draw_frame(row, name)
        draw_lines(row)
        draw_marks(row)
    for row in made:
        # The range before the values: it says what they are held against.
        draw_usual(row)
        write_values(row)
    _write_notes(page, told, steps)
    return page.sheet()


def _name(one: VisitSeries) -> tuple[SafeText, ...]:
    """`acuity, logMAR, better up`, in lines; of a long name the first words, and always the unit."""
    better = wording("better up") if one.better_up else EMPTY
    tries = (
        _folded(join(", ", (clip(one.name, n), one.unit, better))) for n in range(one.name.words(), 0, -1)
    )
    return next((lines for lines in tries if len(lines) <= _LINES), (one.unit,))


def _folded(text: SafeText) -> tuple[SafeText, ...]:
    widest = max(_NAME, *(wide for word in text.split() if (wide := width(word)) <= _WIDEST))
    return fold_all(text, widest)


def _gutter(series: tuple[VisitSeries, ...], names: list[tuple[SafeText, ...]], bands: list[Band]) -> float:
    """Return where the axis begins: right of the names and of the scales."""
    ticks = [Heights(one, band).ticks() for one, band in zip(series, bands, strict=True)]
    labels = [width(text) for told in ticks for _, text in told]
    return max(width(line) for lines in names for line in lines) + max(labels) + 18


def _bands(series: tuple[VisitSeries, ...], bottom: float) -> list[Band]:
    weights = [1 + _RANKED * _ranks(one) for one in series]
    deep = bottom - _BETWEEN * (len(series) - 1)
    bands, top = [], 0.0
    for weight in weights:
        high = deep * weight / sum(weights)
        bands.append(Band(top, top + high))
        top += high + _BETWEEN
    return bands


def _ranks(one: VisitSeries) -> int:
    return max((point.value.rank + 1 for point in one.points if isinstance(point.value, Ranked)), default=0)


def _write_notes(page: Page, told: Told, steps: SafeText) -> None:
    parts = [
        (told.table, _in_table(told.table)),
        (told.ranks, wording("below the zigzag: ranks of low vision, no distances (dotted)")),
        (told.limits, wording("hollow triangle: a limit, the value is beyond it")),
        (told.none, wording("– no value at that visit")),
        (told.usual, wording("reference: healthy adults, sources in the notes")),
        (steps, fill("fine ticks: {steps}", steps=steps)),
    ]
    baseline = page.height - _NOTES * LINE + TEXT * 0.7
    for line in paragraph(tuple(text for needed, text in parts if needed), page.width - 4, _NOTES):
        page.put([Words(0, baseline, line, TEXT, False, Ink.GREY)])
        baseline += LINE


def _in_table(count: int) -> SafeText:
    noun = wording("value") if count == 1 else wording("values")
    return fill("{count} more {noun} in the table", count=number(count), noun=noun)
