"""The time axis: panels with scales of their own, and what lies between two of them."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from mmbuilder.analysis.panels import skipped
from mmbuilder.analysis.timeline import Panel, Timeline
from mmbuilder.figures.style import TEXT, width
from mmbuilder.safe.text import EMPTY, SafeText

_BREAK = 34.0
"""Least width of a break with skipped time; points."""

_SEAM = 12.0
"""Width of the double line where only the scale changes; points."""


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
        skips: time left out between them, in words; empty where only the scale changes.
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

    def holds(self, minutes: float) -> bool:
        """Whether a time lies in a panel."""
        # A loop: it is asked of every reading, and a generator takes three times as long.
        for scale in self.scales:  # noqa: SIM110
            if scale.panel.start <= minutes <= scale.panel.end:
                return True
        return False

    def pieces(self, start: float, end: float) -> list[tuple[float, float]]:
        """Return the parts of a stretch that lie on the axis, as (left, right) in points."""
        return [
            (scale.x(start), scale.x(end))
            for scale in self.scales
            if start <= scale.panel.end and end >= scale.panel.start
        ]

    @property
    def breaks(self) -> list[tuple[float, float, SafeText]]:
        """(left, right, skipped time) of each place between two panels."""
        pairs = pairwise(self.scales)
        return [(a.right, b.left, skip) for (a, b), skip in zip(pairs, self.skips, strict=True)]


def make_axis(timeline: Timeline, left: float, right: float, shares: tuple[float, ...]) -> Axis:
    """Lay the panels side by side; `shares` of the width that the breaks leave, one for each panel."""
    skips = skipped(timeline.panels)
    breaks = [max(_BREAK, width(text) + 10) if text else _SEAM for text in skips]
    room = right - left - sum(breaks)
    scales, at = [], left
    for panel, share, after in zip(timeline.panels, shares, [*breaks, 0.0], strict=False):
        scales.append(Scale(panel, at, at + share * room))
        at += share * room + after
    return Axis(tuple(scales), skips, left, right)


def clamped(x: float, text: SafeText, scale: Scale, size: float = TEXT) -> float:
    """Return the left end of a text centred on `x`, kept over its panel."""
    wide = width(text, size)
    return min(max(x - wide / 2, scale.left - 2), max(scale.right + 2 - wide, scale.left - 2))


NOTHING = Axis((), (EMPTY,)[:0], 0.0, 0.0)
"""The axis of a story without times."""
