"""How much of the axis each panel gets: by what there is to write in it, the heart the most."""

from __future__ import annotations

import math

from mmbuilder.analysis.timeline import Interval, Panel, Timeline
from mmbuilder.figures.axis import Axis
from mmbuilder.figures.entries import Entry, Lane

HEARTS = ((0.44, 0.46, 0.5, 0.54, 0.58, 0.62), (0.38, 0.32, 0.26, 0.2))
"""Shares that the heart may have; the least at which the flags stand best is taken.

The smaller ones are for a story in which the eye would else take a longer wait for a shorter one.
"""

_LONGER = 1.5
"""Drawn so many times as long, a length is seen to be longer; no source."""

_LEAST = 0.11
"""Least share of a panel."""


def shares(timeline: Timeline, story: tuple[Entry, ...], heart: float) -> tuple[float, ...]:
    """Share out the width, in the order of the panels; the sum is 1."""
    panels = timeline.panels
    rest = [place for place, panel in enumerate(panels) if not panel.heart]
    free = 1.0 if len(rest) == len(panels) else heart if len(rest) == 0 else 1.0 - heart
    weights = {place: 1.0 + _wish(panels[place], story) for place in rest}
    parts = _floored(weights, free, min(_LEAST, free / max(len(rest), 1)))
    return tuple(parts.get(place, heart if rest else 1.0) for place in range(len(panels)))


def fair(timeline: Timeline, axis: Axis) -> bool:
    """Whether the wait for the recognition, where it is longer than the next one, is seen to be longer."""
    found = (_ends(interval, timeline) for interval in timeline.intervals[:2])
    waits = [(end - start, axis.x(end) - axis.x(start)) for start, end in found if end > start]
    if len(waits) < 2 or waits[0][0] <= waits[1][0]:
        return True
    (first, width), (then, next_width) = waits
    return width >= next_width * min(first / then, _LONGER)


def _ends(interval: Interval, timeline: Timeline) -> tuple[float, float]:
    """Return when it starts and ends; no time at all where that is not known."""
    numbers = [number for number in (interval.start, interval.end) if number is not None]
    times = [time for time in (timeline.event(number).at.centre for number in numbers) if time is not None]
    return (times[0], times[1]) if len(times) == 2 else (0.0, 0.0)


def _wish(panel: Panel, story: tuple[Entry, ...]) -> float:
    """Return what its entries ask for: a mark as much as four others, further ones ever less."""
    inside = [entry for entry in story if entry.at.centre is not None and _in(panel, entry.at.centre)]
    marks = sum(entry.rank == 0 and entry.lane is Lane.EVENTS for entry in inside)
    return 2.0 * marks + math.sqrt(len(inside) - marks)


def _in(panel: Panel, minutes: float) -> bool:
    return panel.start <= minutes <= panel.end


def _floored(weights: dict[int, float], free: float, least: float) -> dict[int, float]:
    """Share `free` out by weight, none below `least`."""
    low: set[int] = set()
    while True:
        left = free - least * len(low)
        total = sum(weight for place, weight in weights.items() if place not in low)
        parts = {p: least if p in low else left * weight / total for p, weight in weights.items()}
        new = {place for place, part in parts.items() if part < least - 1e-9 and place not in low}
        if not new:
            return parts
        low |= new
