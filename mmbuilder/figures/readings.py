"""Draw the readings: raw points, lines that cross no gap, gaps hatched with the reason in words."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from mmbuilder.figures.bands import Band
from mmbuilder.figures.draw_alarms import draw_alarms
from mmbuilder.figures.gutter import KEY, line_key, line_name, tick, title
from mmbuilder.figures.hatch import READINGS, hatched
from mmbuilder.figures.letters import holds_letter, roomy
from mmbuilder.figures.sheet import PARTED_MOST, Box, Dots, Shape, Stroke, Words
from mmbuilder.figures.strips import LOOKS, Scale, Strip, bounds, middle, part, runs, strips
from mmbuilder.figures.style import LINE, TEXT, Ink, width
from mmbuilder.safe.case import Gap, Series
from mmbuilder.safe.text import EMPTY, SafeText, fill

if TYPE_CHECKING:
    from mmbuilder.figures.pen import Pen

_RAW = 3.4
"""A reading as it was taken; points across."""

_FINE = 4
"""Parts of a point within which two dots are one: half a pixel of the picture, a fourteenth of a dot."""

_SHAPE = 7.5
"""The shape that tells one line from another; points across."""

_APART = 30.0
"""Least distance between two such shapes; points."""


def draw_readings(pen: Pen) -> None:
    """Draw every strip that has something to show; a strip stands where the plan put it."""
    places = {strip.key: index for index, strip in enumerate(pen.plan.strips)}
    slots = {line_key(line): place for strip in pen.plan.strips for place, line in strip.lines}
    reasons = _reasons(pen)
    # The first three of the whole story, even if a cut does not have them all yet.
    drawn = tuple(line for line in pen.shown.series if line_key(line) in slots)
    for strip in strips(drawn):
        band = pen.plan.bands[f"strip{places[strip.key]}"]
        scale = Scale(band, *bounds(strip))
        _scale(pen, strip, scale)
        for _, line in strip.lines:
            _line(pen, line, slots[line_key(line)], scale)
        _title(pen, strip, slots, band)
        _gaps(pen, strip, band, reasons)
        for _, line in strip.lines:
            draw_alarms(pen, line, scale, named=len(strip.lines) > 1)


def _scale(pen: Pen, strip: Strip, scale: Scale) -> None:
    axis, band = pen.plan.axis, scale.band
    values = [scale.low, scale.high]
    half = middle(scale.low, scale.high)
    if half is not None and band.bottom - band.top > 70:
        values.append(half)
    rules = tuple(rule for value in values for rule in pen.rules(scale.y(value)))
    pen.ground.append(Stroke(rules, Ink.RULE, 0.7))
    for value in values:
        text = tick(value)
        baseline = min(max(scale.y(value) + TEXT * 0.33, band.top + TEXT * 0.75), band.bottom - TEXT * 0.1)
        pen.write(axis.left - 6 - width(text), baseline, text, plate=None, ink=Ink.GREY)


def _title(pen: Pen, strip: Strip, slots: dict[tuple[SafeText, SafeText], int], band: Band) -> None:
    """Write the names at the left; where there are several, each behind the shape of its line."""
    lines, several = title(strip), len(strip.lines) > 1
    baseline = band.middle - (len(lines) - 1) * LINE / 2 + TEXT * 0.33
    for index, text in enumerate(lines):
        height = baseline + index * LINE
        if several and index < len(strip.lines):
            ink, _, shape = LOOKS[slots[line_key(strip.lines[index][1])]]
            pen.marks.append(Dots(((5, height - TEXT * 0.33),), shape, _SHAPE + 1, ink))
        pen.write(KEY if several else 0, height, text, plate=None)


def _reasons(pen: Pen) -> list[SafeText]:
    gaps = sorted((gap for line in pen.shown.series for gap in line.gaps), key=lambda gap: gap.start)
    return list(dict.fromkeys(gap.reason for gap in gaps if gap.reason))


def _gaps(pen: Pen, strip: Strip, band: Band, reasons: list[SafeText]) -> None:
    done: set[tuple[float, float, SafeText]] = set()
    for _, line in strip.lines:
        for gap in line.gaps:
            key = (gap.start, gap.end, gap.reason)
            if key not in done:
                done.add(key)
                _gap(pen, gap, strip, band, reasons)


def _gap(pen: Pen, gap: Gap, strip: Strip, band: Band, reasons: list[SafeText]) -> None:
    if not gap.reason:
        return  # the line is broken there, and a note says so: a hatch would tell nothing more
    axis, reason = pen.plan.axis, gap.reason
    whose = [line for _, line in strip.lines if gap in line.gaps]
    hatch = READINGS[reasons.index(reason) % len(READINGS)]
    pieces = [piece for piece in pen.pieces(gap.start, gap.end) if piece[1] - piece[0] > 1]
    for left, right in pieces:
        pen.ground.extend(hatched(Box(left, band.top + 1, right, band.bottom - 1), hatch))
    if not pieces:
        return
    left, right = max(pieces, key=lambda piece: piece[1] - piece[0])
    text = reason if roomy(gap, axis) else pen.plan.letters.of(reason) if holds_letter(gap, axis) else EMPTY
    if len(whose) < len(strip.lines):
        named = fill("{name}: {text}", name=line_name(whose[0].name), text=text)
        text = named if width(named) + 8 <= right - left else text
    if text and width(text) + 2 <= right - left + 8:
        starts = ((left + right - width(text)) / 2, left + 1, right - width(text) - 1)
        heights = (band.middle + TEXT * 0.33, band.top + TEXT, band.bottom - TEXT * 0.4)
        pen.free(Words(start, height, text, plate=Ink.WHITE) for start in starts for height in heights)


def _line(pen: Pen, line: Series, look: int, scale: Scale) -> None:
    ink, dash, shape = LOOKS[look]
    axis, joined = pen.plan.axis, runs(line)
    for run in joined:
        for panel in axis.scales:
            points = tuple((panel.x(t), scale.y(v)) for t, v in part(run, panel.panel.start, panel.panel.end))
            if len(points) > 1:
                pen.lines.append(Stroke((points,), ink, 1.8, dash))
    good = [(axis.x(t), scale.y(v)) for run in joined for t, v in run if axis.holds(t)]
    bad = [line.points[place] for place in sorted(line.artefacts) if math.isfinite(line.points[place][1])]
    if good:
        pen.lines.append(Dots(tuple(_seen(good)), Shape.DOT, _RAW, ink))
        pen.marks.append(Dots(tuple(_spaced(good)), shape, _SHAPE, ink))
    if bad:
        crosses = tuple((axis.x(t), scale.y(v)) for t, v in bad if axis.holds(t))
        pen.marks.append(Dots(crosses, Shape.CROSS, 8.0, Ink.BLACK))


def _seen(points: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Return readings less those whose dot lies on another's: of thousands most cannot be told apart."""
    if len(points) <= PARTED_MOST:
        return points
    return list({(round(x * _FINE), round(y * _FINE)): (x, y) for x, y in points}.values())


def _spaced(points: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Return readings far enough apart to carry the shape of their line; the others stay small dots."""
    kept = points[:1]
    for point in points[1:]:
        if point[0] - kept[-1][0] >= _APART:
            kept.append(point)
    return kept
