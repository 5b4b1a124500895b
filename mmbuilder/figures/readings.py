"""Draw the readings: raw points, lines that cross no gap, gaps hatched with the reason in words."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from mmbuilder.figures.hatch import READINGS, hatched
from mmbuilder.figures.notes import reason_of
from mmbuilder.figures.plan import Band, line_key, line_name, roomy, tick
from mmbuilder.figures.sheet import Box, Dots, Shape, Stroke, Words, stroke
from mmbuilder.figures.strips import LOOKS, Strip, bounds, middle, runs, strips
from mmbuilder.figures.style import TEXT, Ink, fit, width
from mmbuilder.safe.case import Gap, Series
from mmbuilder.safe.text import SafeText, fill

if TYPE_CHECKING:
    from mmbuilder.figures.timeline import Pen

_INSET = 4.0

_RAW = 3.4
"""A reading as it was taken; points across."""

_SHAPE = 7.5
"""The shape that tells one line from another; points across."""

_APART = 30.0
"""Least distance between two such shapes; points."""


def draw_readings(pen: Pen) -> None:
    """Draw every strip that has something to show; a strip stands where the plan put its unit."""
    places = {strip.unit: index for index, strip in enumerate(pen.plan.strips)}
    slots = {line_key(line): place for strip in pen.plan.strips for place, line in strip.lines}
    reasons = _reasons(pen)
    # The first three of the whole story, even if a cut does not have them all yet.
    drawn = tuple(line for line in pen.shown.series if line_key(line) in slots)
    for strip in strips(drawn):
        band = pen.plan.bands[f"strip{places[strip.unit]}"]
        scale = Scale(band, *bounds(strip))
        _scale(pen, strip, scale)
        ends = [_line(pen, line, slots[line_key(line)], scale) for _, line in strip.lines]
        _names(pen, [end for end in ends if end is not None], band)
        _gaps(pen, strip, band, reasons)


class Scale:
    """From a reading to a height on the sheet."""

    def __init__(self, band: Band, low: float, high: float) -> None:
        self.low, self.high, self.band = low, high, band

    def y(self, value: float) -> float:
        """Return the height of a reading; points from the top."""
        share = (value - self.low) / (self.high - self.low)
        return self.band.bottom - _INSET - share * (self.band.bottom - self.band.top - 2 * _INSET)


def _scale(pen: Pen, strip: Strip, scale: Scale) -> None:
    axis, band = pen.plan.axis, scale.band
    values = [scale.low, scale.high]
    half = middle(scale.low, scale.high)
    if half is not None and band.bottom - band.top > 70:
        values.append(half)
    rules = tuple(((axis.left, scale.y(v)), (axis.right, scale.y(v))) for v in values)
    pen.ground.append(Stroke(rules, Ink.RULE, 0.7))
    for value in values:
        text = tick(value)
        baseline = min(max(scale.y(value) + TEXT * 0.33, band.top + TEXT * 0.75), band.bottom - TEXT * 0.1)
        pen.write(axis.left - 6 - width(text), baseline, text, plate=None, ink=Ink.GREY)
    room = axis.left - 14 - max(width(tick(value)) for value in values)
    unit = fit(strip.unit, max(room, 30))
    pen.write(0, band.middle + TEXT * 0.33, unit, plate=None)


def _reasons(pen: Pen) -> list[SafeText]:
    gaps = sorted((gap for line in pen.shown.series for gap in line.gaps), key=lambda gap: gap.start)
    return list(dict.fromkeys(reason_of(gap.reason) for gap in gaps))


def _gaps(pen: Pen, strip: Strip, band: Band, reasons: list[SafeText]) -> None:
    done: set[tuple[float, float, SafeText]] = set()
    for _, line in strip.lines:
        for gap in line.gaps:
            key = (gap.start, gap.end, gap.reason)
            if key not in done:
                done.add(key)
                _gap(pen, gap, strip, band, reasons)


def _gap(pen: Pen, gap: Gap, strip: Strip, band: Band, reasons: list[SafeText]) -> None:
    reason = reason_of(gap.reason)
    whose = [line for _, line in strip.lines if gap in line.gaps]
    hatch = READINGS[reasons.index(reason) % len(READINGS)]
    pieces = [piece for piece in pen.pieces(gap.start, gap.end) if piece[1] - piece[0] > 1]
    for left, right in pieces:
        pen.ground.extend(hatched(Box(left, band.top + 1, right, band.bottom - 1), hatch))
    if not pieces:
        return
    left, right = max(pieces, key=lambda piece: piece[1] - piece[0])
    text = reason if roomy(gap, pen.plan.axis) else pen.plan.letters.of(reason)
    if len(whose) < len(strip.lines):
        named = fill("{name}: {text}", name=line_name(whose[0].name), text=text)
        text = named if width(named) + 8 <= right - left else text
    if text and width(text) + 2 <= right - left + 8:
        start, middle_ = (left + right - width(text)) / 2, band.middle + TEXT * 0.33
        heights = (middle_, band.top + TEXT, band.bottom - TEXT * 0.4)
        pen.free(Words(start, height, text, plate=Ink.WHITE) for height in heights)


End = tuple[float, float, SafeText, int]
"""x and y of a line's last point, its name, its look."""


def _line(pen: Pen, line: Series, look: int, scale: Scale) -> End | None:
    ink, dash, shape = LOOKS[look]
    axis = pen.plan.axis
    for run in runs(line):
        for panel in axis.scales:
            part = [(t, v) for t, v in run if panel.panel.start <= t <= panel.panel.end]
            points = tuple((panel.x(t), scale.y(v)) for t, v in part)
            if len(points) > 1:
                pen.lines.append(Stroke((points,), ink, 1.8, dash))
    good = [(axis.x(t), scale.y(v)) for run in runs(line) for t, v in run]
    bad = [line.points[place] for place in sorted(line.artefacts) if math.isfinite(line.points[place][1])]
    if good:
        pen.lines.append(Dots(tuple(good), Shape.DOT, _RAW, ink))
        pen.marks.append(Dots(tuple(_spaced(good)), shape, _SHAPE, ink))
    if bad:
        crosses = tuple((axis.x(t), scale.y(v)) for t, v in bad)
        pen.marks.append(Dots(crosses, Shape.CROSS, 8.0, Ink.BLACK))
    if not good:
        return None
    return good[-1][0], good[-1][1], line_name(line.name), look


def _spaced(points: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Return readings far enough apart to carry the shape of their line; the others stay small dots."""
    kept = points[:1]
    for point in points[1:]:
        if point[0] - kept[-1][0] >= _APART:
            kept.append(point)
    return kept


def _names(pen: Pen, ends: list[End], band: Band) -> None:
    """Write each name at the end of its line, apart from the others, joined to it if it had to move."""
    ends = sorted(ends, key=lambda end: end[1])
    step = 15.5
    tops = [end[1] for end in ends]
    for index in range(1, len(tops)):
        tops[index] = max(tops[index], tops[index - 1] + step)
    over = max(0.0, (tops[-1] if tops else 0.0) - (band.bottom - TEXT * 0.4))
    tops = [max(top - over, band.top + TEXT * 0.4 + step * index) for index, top in enumerate(tops)]
    for (x, y, name, look), height in zip(ends, tops, strict=True):
        ink = Ink.BLUE if LOOKS[look][0] is Ink.BLUE else Ink.BLACK
        start = min(x + 10, pen.plan.right - width(name, bold=True))
        pen.words.append(Words(start, height + TEXT * 0.33, name, TEXT, True, ink, Ink.WHITE))
        if abs(height - y) > 2:
            pen.lines.append(stroke((x + 3, y), (start - 1, height), ink=Ink.GREY, width=0.8))
