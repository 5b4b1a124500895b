"""Draw phases and recordings: those that the cut has, as far as it has them."""

from __future__ import annotations

from itertools import pairwise

from mmbuilder.figures.bands import Band
from mmbuilder.figures.bars import HEIGHT, Bar, Bars
from mmbuilder.figures.hatch import Hatch, hatched
from mmbuilder.figures.layout import Placed
from mmbuilder.figures.pen import Pen
from mmbuilder.figures.sheet import Box, Stroke, rectangle, stroke
from mmbuilder.figures.style import LINE, TEXT, Ink, fit, width
from mmbuilder.safe.text import SafeText, wording


def draw_bars(pen: Pen, name: str, bars: Bars, title: SafeText) -> None:
    """Draw the bars that have begun, each with its name."""
    if name not in pen.plan.bands:
        return
    band = pen.plan.bands[name]
    visible = [bar for bar in bars.bars if bar.start <= pen.until]
    if visible:
        pen.name(title, band.bottom - HEIGHT / 2 + TEXT * 0.33)
    above = {placed.label.key: placed for placed in bars.names.placed}
    for bar in visible:
        _bar(pen, bar, band, _fill_of(name, bar))
        if bar.place in above:
            _name_above(pen, bar, above[bar.place], bars.names.rows, band)
    if name == "recorder":
        _off(pen, visible, band)


def _fill_of(name: str, bar: Bar) -> Ink:
    if name == "recorder":
        return Ink.TAPE
    return Ink.STONE if bar.place % 2 else Ink.PALE


def _box(left: float, right: float, bar: Bar, band: Band) -> Box:
    bottom = band.bottom - bar.row * (HEIGHT + 2)
    return Box(left, bottom - HEIGHT, right, bottom)


def _bar(pen: Pen, bar: Bar, band: Band, ink: Ink) -> None:
    pieces = pen.pieces(bar.start, float("inf") if bar.end is None else bar.end)
    goes_on = bar.end is None or bar.end > pen.until
    for left, right in pieces:
        box = _box(left, right, bar, band)
        pen.ground.append(rectangle(box, ink))
        edges = [((left, box.top), (right, box.top)), ((left, box.bottom), (right, box.bottom))]
        edges.append(((left, box.top), (left, box.bottom)))
        if not (goes_on and right == pieces[-1][1]):
            edges.append(((right, box.top), (right, box.bottom)))
        pen.ground.append(Stroke(tuple(edges), Ink.GREY, 0.8))
    _name_inside(pen, bar, pieces, band, ink)


def _name_inside(pen: Pen, bar: Bar, pieces: list[tuple[float, float]], band: Band, ink: Ink) -> None:
    if bar.inside is None:
        return
    right = next((right for left, right in pieces if left <= bar.inside <= right), bar.inside)
    text = fit(bar.name, right - bar.inside)
    if text:
        box = _box(bar.inside, right, bar, band)
        pen.write(bar.inside, box.bottom - HEIGHT / 2 + TEXT * 0.33, text, plate=None)


def _name_above(pen: Pen, bar: Bar, placed: Placed, rows: int, band: Band) -> None:
    top = band.bottom - (bar.row + 1) * (HEIGHT + 2) + 2
    baseline = band.top + LINE * (rows - placed.row) + TEXT * 0.8
    pen.write(placed.start, baseline, bar.name)
    pen.lines.append(stroke((placed.label.x, baseline + 2), (placed.label.x, top), ink=Ink.GREY, width=0.9))


def _off(pen: Pen, visible: list[Bar], band: Band) -> None:
    """Hatch the stretches between recordings of a row, once the next one has begun."""
    for row in sorted({bar.row for bar in visible}):
        tapes = sorted((bar for bar in visible if bar.row == row), key=lambda bar: bar.start)
        for before, after in pairwise(tapes):
            if before.end is None or after.start <= before.end:
                continue
            for left, right in pen.pieces(before.end, after.start):
                box = _box(left, right, before, band)
                pen.ground.extend(hatched(box, Hatch.RECORDER_OFF))
                _words_in(pen, box, wording("off"))


def _words_in(pen: Pen, box: Box, text: SafeText) -> None:
    wide = width(text)
    if wide + 8 <= box.right - box.left:
        pen.write((box.left + box.right - wide) / 2, (box.top + box.bottom) / 2 + TEXT * 0.33, text)
