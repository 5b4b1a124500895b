"""The time axis: panels with scales of their own, ticks, and breaks with the skipped time written."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from mmbuilder.analysis.panels import skipped
from mmbuilder.analysis.timeline import Panel, Timeline
from mmbuilder.figures.style import TEXT, width
from mmbuilder.safe.moment import DAY, Known, Moment, clock
from mmbuilder.safe.text import SafeText, fill, number, wording

_STEPS = {
    "min": (1, 2, 5, 10, 15, 20, 30, 60, 120),
    "h": (30, 60, 120, 180, 240, 360, 720, 1440),
    "day": (DAY, 2 * DAY, 5 * DAY, 7 * DAY, 14 * DAY, 28 * DAY, 56 * DAY, 364 * DAY),
}
"""Distances between ticks; minutes."""

_LEAST = 0.16
"""Least share of the width that a panel gets."""

_BREAK = 40.0
"""Least width of a break; points."""

_AIR = 16.0
"""Least distance between two tick labels; points."""


@dataclass(frozen=True)
class Scale:
    """One panel and where it lies; points."""

    panel: Panel
    left: float
    right: float

    def x(self, minutes: float) -> float:
        """Return where a time lies, kept within the panel."""
        share = (minutes - self.panel.start) / (self.panel.end - self.panel.start)
        return self.left + min(max(share, 0.0), 1.0) * (self.right - self.left)


@dataclass(frozen=True)
class Axis:
    """All panels side by side.

    Attributes:
        skips: time left out between them, in words.
        left, right: limits, in points.
    """

    scales: tuple[Scale, ...]
    skips: tuple[SafeText, ...]
    left: float
    right: float

    def x(self, minutes: float) -> float:
        """Return where a time lies; one that was skipped lies in the middle of its break."""
        for scale in self.scales:
            if scale.panel.start <= minutes <= scale.panel.end:
                return scale.x(minutes)
        for before, after in pairwise(self.scales):
            if before.panel.end < minutes < after.panel.start:
                return (before.right + after.left) / 2
        return self.left if minutes < self.scales[0].panel.start else self.scales[-1].right

    def pieces(self, start: float, end: float) -> list[tuple[float, float]]:
        """Return the parts of a stretch that lie on the axis, as (left, right) in points."""
        return [
            (scale.x(start), scale.x(end))
            for scale in self.scales
            if start <= scale.panel.end and end >= scale.panel.start
        ]

    @property
    def breaks(self) -> list[tuple[float, float]]:
        """(left, right) of each break."""
        return [(before.right, after.left) for before, after in pairwise(self.scales)]


def make_axis(timeline: Timeline, left: float, right: float) -> Axis:
    """Share the width among the panels by how much happens in each."""
    skips = skipped(timeline.panels)
    breaks = [max(_BREAK, width(text) + 12) for text in skips]
    room = right - left - sum(breaks)
    scales, at = [], left
    for index, (panel, share) in enumerate(zip(timeline.panels, _shares(timeline), strict=True)):
        scales.append(Scale(panel, at, at + share * room))
        at += share * room + (breaks[index] if index < len(breaks) else 0)
    return Axis(tuple(scales), skips, left, right)


def _shares(timeline: Timeline) -> list[float]:
    weights = [2.0 + _entries(timeline, panel) for panel in timeline.panels]
    least = _LEAST * sum(weights)
    weights = [max(weight, least) for weight in weights]
    return [weight / sum(weights) for weight in weights]


def _entries(timeline: Timeline, panel: Panel) -> int:
    moments = [event.at for event in timeline.events] + [moment for _, moment, _ in timeline.decisions]
    centres = [moment.centre for moment in moments]
    return sum(centre is not None and panel.start <= centre <= panel.end for centre in centres)


def ticks(scale: Scale) -> list[tuple[float, SafeText]]:
    """Return (x, label) of each tick; the closest step at which the labels do not touch."""
    for step in _STEPS[scale.panel.unit]:
        found = list(_at(scale, float(step)))
        if all(_apart(one, two) for one, two in pairwise(found)):
            return found
    return []


def _at(scale: Scale, step: float) -> Iterator[tuple[float, SafeText]]:
    minutes = -(-scale.panel.start // step) * step
    while minutes <= scale.panel.end + 1e-6:
        yield scale.x(minutes), tick_label(minutes, scale.panel.unit)
        minutes += step


def _apart(one: tuple[float, SafeText], two: tuple[float, SafeText]) -> bool:
    return two[0] - one[0] >= (width(one[1]) + width(two[1])) / 2 + _AIR


def tick_label(minutes: float, unit: str) -> SafeText:
    """`T+0:20` on a scale of minutes, `T+6 h` on one of hours, `Day 2` on one of days."""
    if unit == "day":
        return fill("Day {day}", day=round(minutes / DAY))
    if unit == "h" and minutes % 60 == 0:
        sign = wording("T−") if minutes < 0 else wording("T+")
        return fill("{sign}{hours} h", sign=sign, hours=number(abs(minutes) / 60, ".0f"))
    return clock(Moment(minutes, minutes, Known.EXACT))


def unit_name(unit: str) -> SafeText:
    """What the ticks of a panel count."""
    return {
        "min": wording("hours:minutes"),
        "h": wording("hours"),
        "day": wording("days"),
    }[unit]


def clamped(x: float, text: SafeText, scale: Scale, size: float = TEXT) -> float:
    """Return the left end of a text centred on `x`, kept over its panel."""
    wide = width(text, size)
    return min(max(x - wide / 2, scale.left - 4), max(scale.right + 4 - wide, scale.left - 4))
