"""The column at the left: names of lanes, and of the readings with the ends of their scales."""

from __future__ import annotations

from mmbuilder.analysis.timeline import Timeline
from mmbuilder.figures.strips import Strip, bounds, middle
from mmbuilder.figures.style import LINE, width, wrap
from mmbuilder.safe.case import Series
from mmbuilder.safe.text import SafeText, clip, fill, number, wording

TITLE = 98.0
"""Width of the name of a line of readings; points."""

KEY = 13.0
"""Width of the shape before it, where a strip has several lines; points."""

STRIP = 39.7
"""Least height of a strip, 1.4 cm; points."""

UNTIMED = wording("no time")
"""What stands in the box of events without a time."""

_GAP = 6.0


def gutter(timeline: Timeline, shown: tuple[Strip, ...], lanes: tuple[SafeText, ...]) -> float:
    """Return how wide the column is; points."""
    names = [*lanes, *([wording("Phase")] if timeline.phases else [])]
    names += [wording("Recorder")] if timeline.recordings else []
    widest = [width(name) + 8 for name in names]
    widest += [untimed_width() + 8] if any(not event.at.placed for event in timeline.events) else []
    return max([*widest, *(_strip_width(strip) for strip in shown)], default=0.0) + 4


def untimed_width() -> float:
    """Return the width of the box of events without a time: its words, and a ring before them."""
    return width(UNTIMED) + 19


def _strip_width(strip: Strip) -> float:
    key = KEY if len(strip.lines) > 1 else 0.0
    low, high = bounds(strip)
    ends = (value for value in (low, middle(low, high), high) if value is not None)
    scale = max(width(tick(value)) for value in ends)
    return key + max(map(width, title(strip))) + _GAP + scale + _GAP


def title(strip: Strip) -> tuple[SafeText, ...]:
    """Return what stands beside a strip: its line and unit, or each line and then the unit."""
    names = [line_name(line.name) for _, line in strip.lines]
    if len(names) > 1:
        return (*names, strip.unit)
    return wrap(fill("{name}, {unit}", name=names[0], unit=strip.unit), TITLE)


def strip_height(strip: Strip) -> float:
    """Return the least height of a strip; points."""
    return max(STRIP, LINE * len(title(strip)) + 2)


def line_name(name: SafeText) -> SafeText:
    """Return the name of a line of readings."""
    return clip(name, 4)


def line_key(line: Series) -> tuple[SafeText, SafeText]:
    """Return what tells a line of readings apart in a plan and its cuts."""
    return line.name, line.unit


def tick(value: float) -> SafeText:
    """Return a reading as a tick label."""
    return number(value, "g")
