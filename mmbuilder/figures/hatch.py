"""Hatches as plain lines, so that they survive in every program a slide is opened with."""

from __future__ import annotations

from enum import Enum

from mmbuilder.figures.sheet import Box, Fill, Item, Point, Stroke, rectangle
from mmbuilder.figures.style import Ink


class Hatch(Enum):
    """Slope of the lines (rise over run, y downwards) and the step between them in points."""

    NO_READING = (-1.0, 7.0)
    NO_READING_2 = (0.0, 6.0)
    NO_READING_3 = (-0.35, 8.0)
    RECORDER_OFF = (1.0, 5.0)
    TIME_UNKNOWN = (2.5, 12.0)


READINGS = (Hatch.NO_READING, Hatch.NO_READING_2, Hatch.NO_READING_3)
"""One for each different reason why readings are missing, in order of appearance."""


def hatched(box: Box, hatch: Hatch) -> list[Item]:
    """Fill a box with lines clipped to it."""
    slope, step = hatch.value
    return [_paper(box), Stroke(tuple(_lines(box, slope, step)), Ink.HATCH, 0.8)]


def _paper(box: Box) -> Fill:
    return rectangle(box, Ink.WHITE, Ink.HATCH, 0.8)


def _lines(box: Box, slope: float, step: float) -> list[tuple[Point, Point]]:
    """Return the segments of y = slope * x + c inside the box, `step` apart at right angles."""
    rise = step * (1 + slope * slope) ** 0.5
    corners = [y - slope * x for x in (box.left, box.right) for y in (box.top, box.bottom)]
    found, offset = [], min(corners) + rise / 2
    while offset < max(corners):
        segment = _clipped(box, slope, offset)
        if segment is not None:
            found.append(segment)
        offset += rise
    return found


def _clipped(box: Box, slope: float, offset: float) -> tuple[Point, Point] | None:
    left, right = box.left, box.right
    if slope:
        at = sorted(((box.top - offset) / slope, (box.bottom - offset) / slope))
        left, right = max(left, at[0]), min(right, at[1])
    if right - left < 0.5:
        return None
    return (left, slope * left + offset), (right, slope * right + offset)
