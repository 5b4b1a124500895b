"""One row of the follow-up: a series in its place, with its range, lines, marks and written values."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from mmbuilder.analysis.series import Point, VisitSeries
from mmbuilder.analysis.values import Measured, NotDone, Ranked, Side, Value, Worded
from mmbuilder.figures.axis import Axis
from mmbuilder.figures.bands import Band
from mmbuilder.figures.series_axis import joined_parts, zigzag
from mmbuilder.figures.series_page import Page, beside
from mmbuilder.figures.series_scale import Heights
from mmbuilder.figures.sheet import Box, Dash, Dots, Shape, Stroke, Words, rectangle, stroke
from mmbuilder.figures.sheet import Point as Place
from mmbuilder.figures.style import LINE, TEXT, Ink, width
from mmbuilder.safe.text import SafeText, fill, wording

_DOT, _LIMIT = 8.0, 10.0
"""Marks of a value, and of a limit; points across."""

_SPREAD, _CAP = 1.0, 4.0
"""Width of the bar of a range, and half of what ends it; points."""

_NONE, _SEE_TABLE = wording("–"), wording("…")
"""Short for no value, and for words that find no room."""


@dataclass
class Told:
    """What the notes have to explain."""

    ranks: bool = False
    limits: bool = False
    usual: bool = False
    none: bool = False
    table: int = 0
    """How many values stand in the table only."""


@dataclass
class Row:
    """One series in its place."""

    one: VisitSeries
    band: Band
    axis: Axis
    page: Page
    told: Told
    heights: Heights = field(init=False)

    def __post_init__(self) -> None:
        self.heights = Heights(self.one, self.band)

    @property
    def box(self) -> Box:
        """Where its words may stand."""
        return Box(self.axis.left + 2, self.band.top - 2, self.page.width, self.band.bottom + 2)

    def at(self, point: Point) -> tuple[float, float] | None:
        """Return where the mark of a value stands; None for a visit without one."""
        if not isinstance(point.value, Measured | Ranked):
            return None
        return self.axis.x(point.time), self.heights.of(point.value)


# --- lines and marks --------------------------------------------------------------------------


def draw_frame(row: Row, name: tuple[SafeText, ...]) -> None:
    """Draw the name, the scale, and a guide for each visit."""
    page, axis, heights = row.page, row.axis, row.heights
    baseline = row.band.middle - (len(name) - 1) * LINE / 2 + TEXT * 0.33
    for place, line in enumerate(name):
        page.put([Words(0, baseline + place * LINE, line)])
    guides = tuple(((x, row.band.top), (x, row.band.bottom)) for x in _visits(row))
    page.ground.append(Stroke(guides, Ink.RULE, 0.7))
    page.ground.append(stroke((axis.left, heights.top), (axis.left, heights.bottom), ink=Ink.GREY))
    for y, text in heights.ticks():
        page.ground.append(Stroke(tuple(((s.left, y), (s.right, y)) for s in axis.scales), Ink.RULE, 0.7))
        start = axis.left - 6 - width(text)
        page.put([Words(start, y + TEXT * 0.33, text, TEXT, False, Ink.GREY)])
    if heights.zigzag is not None:
        row.told.ranks = True
        for scale in axis.scales:
            points = zigzag((scale.left, heights.zigzag), (scale.right, heights.zigzag))
            page.ground.append(stroke(*points, ink=Ink.GREY, width=0.9))


def _visits(row: Row) -> list[float]:
    return list(dict.fromkeys(row.axis.x(point.time) for point in row.one.points))


def draw_lines(row: Row) -> None:
    """Join neighbours; a line that touches a rank is dotted, for it spans no distance."""
    for before, after in row.one.joined:
        ends = [_in_time(row, point) for point in (before, after)]
        ranked = isinstance(before.value, Ranked) or isinstance(after.value, Ranked)
        dash, wide = (Dash.DOTTED, 1.6) if ranked else (Dash.SOLID, 1.8)
        for piece in joined_parts(row.axis, ends[0], ends[1]):
            row.page.lines.append(Stroke((piece,), Ink.BLUE, wide, dash))
            row.page.drawn.append(piece)


def _in_time(row: Row, point: Point) -> tuple[float, float]:
    assert isinstance(point.value, Measured | Ranked)  # only such points are joined
    return point.time, row.heights.of(point.value)


def draw_marks(row: Row) -> None:
    """Draw every value: dot, square (rank) or hollow triangle (limit), with bars for what is not sharp."""
    for point in row.one.points:
        at = row.at(point)
        if at is None:
            continue
        shape, size = _look(point.value)
        hollow = shape in (Shape.UP, Shape.DOWN)
        row.told.limits |= hollow
        _spread(row, point, *at)
        row.page.marks.append(Dots((at,), shape, size, Ink.BLUE, hollow))
        row.page.taken.append(_around(*at, size))


def _look(value: Value) -> tuple[Shape, float]:
    match value:
        case Measured(side=Side.BELOW):
            return Shape.DOWN, _LIMIT
        case Measured(side=Side.ABOVE):
            return Shape.UP, _LIMIT
        case Ranked():
            return Shape.SQUARE, _DOT
        case _:
            return Shape.DOT, _DOT


def _around(x: float, y: float, size: float) -> Box:
    half = size / 2 + 0.5
    return Box(x - half, y - half, x + half, y + half)


def _spread(row: Row, point: Point, x: float, y: float) -> None:
    """Draw how far a value or its day is uncertain, as bars."""
    days = row.axis.pieces(point.start, point.end)
    bars = [((left, y), (right, y)) for left, right in days if right > left]
    if isinstance(point.value, Measured) and point.value.high > point.value.low:
        bars.append(((x, row.heights.y(point.value.low)), (x, row.heights.y(point.value.high))))
    for bar in bars:
        row.page.lines.append(Stroke((bar, *_caps(*bar)), Ink.BLUE, _SPREAD))
        row.page.drawn.append(bar)


def _caps(start: Place, end: Place) -> Iterator[tuple[Place, Place]]:
    """Short strokes across the ends of a bar, which tell it from a line between two values."""
    across, along = (0.0, _CAP) if start[1] == end[1] else (_CAP, 0.0)
    for x, y in (start, end):
        yield (x - across, y - along), (x + across, y + along)


# --- the reference range ----------------------------------------------------------------------


def draw_usual(row: Row) -> None:
    """Draw the reference range behind everything, with its word where it hides least."""
    usual, heights = row.one.usual, row.heights
    if usual is None:
        return
    low = heights.low if usual.low is None else usual.low
    high = heights.high if usual.high is None else usual.high
    top, bottom = heights.y(high), heights.y(low)
    for scale in row.axis.scales:
        box = Box(scale.left, top, scale.right, bottom)
        row.page.ground.insert(0, rectangle(box, Ink.BAND, Ink.RULE, 0.7))
        row.page.tinted.append(box)
    row.told.usual = True
    texts = (fill("reference {range}", range=usual.words), wording("reference"))
    tries = ((text, over_lines) for over_lines in (False, True) for text in texts)
    any(row.page.put(_in_band(row, text, top, bottom), over_lines=over) for text, over in tries)


def _in_band(row: Row, text: SafeText, top: float, bottom: float) -> Iterator[Words]:
    """Every place for the word that no edge of the band runs through: in it, above it and below it."""
    wide = width(text)
    within = (top + TEXT * 0.9, bottom - TEXT * 0.35, (top + bottom) / 2 + TEXT * 0.25)
    deep = bottom - top >= LINE
    first, last = row.band.top + TEXT * 0.75, row.band.bottom - TEXT * 0.25
    outside = [y for y in (top - TEXT * 0.35, bottom + TEXT * 0.9) if first <= y <= last]
    for y, plate in [*((y, Ink.BAND) for y in within if deep), *((y, Ink.WHITE) for y in outside)]:
        for x in _along(row.axis, wide):
            yield Words(x, y, text, TEXT, False, Ink.GREY, plate)


def _along(axis: Axis, wide: float) -> Iterator[float]:
    """Left ends for a text within one panel, from the right."""
    for scale in reversed(axis.scales):
        steps = int((scale.right - scale.left - wide - 6) // 12)
        yield from (scale.right - 3 - wide - step * 12 for step in range(steps + 1))


# --- the values in words ----------------------------------------------------------------------


def write_values(row: Row) -> None:
    """Write each value beside its mark; what finds no room is counted as left to the table."""
    for point in _by_weight(row.one.points):
        text = _written(row, point)
        row.told.none |= text == _NONE
        row.told.table += text in (None, _SEE_TABLE)


def _by_weight(points: tuple[Point, ...]) -> tuple[Point, ...]:
    """Return the last and first value, the ends of the range, the other values, then what is missing."""
    there = [point for point in points if isinstance(point.value, Measured | Ranked)]
    figures = [point for point in there if isinstance(point.value, Measured)]
    ends = [pick(figures, key=_middle) for pick in (max, min)]
    # By identity: two visits may say the same.
    return tuple({id(p): p for p in (there[-1], there[0], *ends, *there, *points)}.values())


def _middle(point: Point) -> float:
    return point.value.middle if isinstance(point.value, Measured) else 0.0


def _written(row: Row, point: Point) -> SafeText | None:
    """Write a value as it was written, or shorter, and return what was written; None if nothing was."""
    at = row.at(point)
    for over_lines in (False, True):
        for text in _forms(point):
            if at is None:
                places = _on_guide(row, row.axis.x(point.time), text)
            else:
                places = beside(_around(*at, _look(point.value)[1]), text, row.box)
            if row.page.put(places, over_lines=over_lines):
                return text
    return None


def _forms(point: Point) -> tuple[SafeText, ...]:
    match point.value:
        case Measured(unit=unit):
            # The row says the unit; one it does not say stays.
            words = point.words.split()
            return words[:1] if words[1:] == (unit,) else (point.words,)
        case Ranked():
            return (point.words,)
        case NotDone():
            return (point.words, _NONE)
        case Worded():
            return (point.words, _SEE_TABLE)


def _on_guide(row: Row, x: float, text: SafeText) -> Iterator[Words]:
    """Places on the guide of a visit without a value: in the middle of the row, then below and above.

    Those beside a figure of the scale come last: there the words would be read as told of it.
    """
    wide, first, last = width(text), row.band.top + 10, row.band.bottom - 3
    left = min(max(x - wide / 2, row.box.left), row.box.right - wide)
    middle = row.band.middle + TEXT * 0.33
    steps = (
        side * step * LINE / 2 for step in range(2, round((last - first) / LINE) + 1) for side in (1, -1)
    )
    heights = (middle, last, first, *(middle + step for step in steps))
    places = [y for y in heights if first <= y <= last]
    ticks = [tick + TEXT * 0.33 for tick, _ in row.heights.ticks()] if left < row.axis.left + LINE else []
    for y in sorted(places, key=lambda y: any(abs(y - tick) < LINE for tick in ticks)):
        yield Words(left, y, text, TEXT, False, Ink.GREY, Ink.WHITE)
