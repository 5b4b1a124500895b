"""Draw where it is night, and where a new day begins: the axis itself goes on without a break."""

from __future__ import annotations

from mmbuilder.figures.days import flagged, shaded
from mmbuilder.figures.pen import Pen
from mmbuilder.figures.sheet import Box, Dash, Words, stroke
from mmbuilder.figures.style import TEXT, Ink, width
from mmbuilder.figures.tints import Tint

_NOT_LANES = frozenset({"flags", "brackets", "phases"})


def draw_nights(pen: Pen) -> None:
    """Shade what the cut shows of every night."""
    top, bottom = _top(pen), pen.band("axis").top
    for start, end in shaded(pen.plan.day_and_night, pen.plan.axis):
        for left, right in pen.pieces(start, end) if start < pen.until else ():
            pen.tints.append(Tint(Box(left, top, right, bottom), Ink.NIGHT))


def draw_midnights(pen: Pen) -> None:
    """Flag every midnight that the cut shows: a line over the lanes, and how many days on it is."""
    top, bottom = _top(pen), pen.band("axis").top
    baseline = pen.band("units").middle + TEXT * 0.33
    for time, text in flagged(pen.plan.day_and_night, pen.plan.axis):
        if time <= pen.until:
            x, wide = pen.plan.axis.x(time), width(text)
            pen.ground.append(stroke((x, top), (x, bottom), ink=Ink.GREY, dash=Dash.DOTTED))
            left = min(max(x - wide / 2, 0.0), pen.plan.width - wide)
            pen.free([Words(left, baseline, text, TEXT, False, Ink.GREY)])


def _top(pen: Pen) -> float:
    """Return where the lanes begin: below flags, brackets and phases."""
    return min(band.top for name, band in pen.plan.bands.items() if name not in _NOT_LANES)
