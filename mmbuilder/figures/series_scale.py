"""The height of a value in its row: an even scale of figures and, under a zigzag, the ranks of low vision.

Ranks are an order: they stand evenly apart because they have no distance, and the zigzag says that
the scale of figures ends above them.
"""

from __future__ import annotations

import math

from mmbuilder.analysis.series import VisitSeries
from mmbuilder.analysis.usual import Usual
from mmbuilder.analysis.values import RANKS, Measured, Ranked
from mmbuilder.figures.bands import Band
from mmbuilder.figures.gutter import tick
from mmbuilder.figures.strips import Strip, bounds, middle
from mmbuilder.figures.style import LINE
from mmbuilder.safe.case import Series
from mmbuilder.safe.text import EMPTY, SafeText

INSET = 9.0
"""Between the ends of a scale and the edge of its row; points."""

_ZIGZAG = 12.0
"""Height of the place where the scale of figures ends; points."""

_MOST_RANKS = 0.58
"""Share of a row that the ranks may take."""

_TALL = 90.0
"""A row of this height has a tick halfway; points."""

_ACUITY = (0.0, 1.0)
"""LogMAR that is always in sight, 6/6 to 6/60: else one line would look like a whole story..."""

_HALF = 0.5
"""...and the distance between its ticks."""

_BEYOND = 0.15
"""How far a scale goes on behind the end of an open range, as a share of what it spans."""

_FLAT = 0.2
"""A scale spans at least this share of its largest figure, so that 14 and 15 do not look far apart."""


class Heights:
    """From a value to a height on the sheet."""

    def __init__(self, one: VisitSeries, row: Band) -> None:
        self.inverted = one.better_up
        self.low, self.high = _ends(one)
        lowest = max((p.value.rank for p in one.points if isinstance(p.value, Ranked)), default=-1)
        self.ranks = lowest + 1
        deep = row.bottom - row.top - 2 * INSET
        ranks = min(self.ranks * LINE, _MOST_RANKS * deep) + _ZIGZAG if self.ranks else 0.0
        self.top, self.bottom = row.top + INSET, row.bottom - INSET - ranks
        self._step = (ranks - _ZIGZAG) / self.ranks if self.ranks else 0.0

    @property
    def zigzag(self) -> float | None:
        """Where the scale of figures ends, if there are ranks under it."""
        return self.bottom + _ZIGZAG / 2 if self.ranks else None

    def y(self, figure: float) -> float:
        """Return the height of a figure; points from the top."""
        share = (figure - self.low) / (self.high - self.low)
        return self.top + (share if self.inverted else 1 - share) * (self.bottom - self.top)

    def rank(self, rank: int) -> float:
        """Return the height of a rank."""
        return self.bottom + _ZIGZAG + (rank + 0.5) * self._step

    def of(self, value: Measured | Ranked) -> float:
        """Return the height of either."""
        return self.rank(value.rank) if isinstance(value, Ranked) else self.y(value.middle)

    def ticks(self) -> list[tuple[float, SafeText]]:
        """Return (height, label) of the ends of the scale, its middle if there is room, and the ranks."""
        told = [(self.y(figure), tick(figure)) for figure in self._figures()]
        return told + [(self.rank(place), RANKS[place]) for place in range(self.ranks)]

    def _figures(self) -> list[float]:
        if self.inverted:
            count = round(self.high / _HALF)
            return [place * _HALF for place in range(count + 1) if place * _HALF >= self.low]
        half = middle(self.low, self.high)
        return [self.low, self.high, *([half] if half is not None and self._tall else [])]

    @property
    def _tall(self) -> bool:
        return self.bottom - self.top > _TALL


def _ends(one: VisitSeries) -> tuple[float, float]:
    """Return both ends of the scale of figures: all values, and the reference range, are in sight."""
    values = [end for figure in one.figures for end in (figure.low, figure.high)]
    if one.better_up:
        low, high = min(_ACUITY[0], *values), max(_ACUITY[1], *values)
        return math.floor(low * 10 + 1e-9) / 10, math.ceil(high / _HALF - 1e-9) * _HALF
    if one.usual is not None:
        values += _of_range(one.usual, values)
    if not any(values):
        values.append(1.0)
    short = _FLAT * max(map(abs, values)) - (max(values) - min(values))
    if short > 0:
        least = 0.0 if min(values) >= 0 else -math.inf
        values += [max(min(values) - short / 2, least), max(values) + short / 2]
    # Without a unit, so that the usual window of a monitor does not widen the scale.
    low, high = bounds(Strip(EMPTY, ((0, Series(EMPTY, EMPTY, tuple((0.0, value) for value in values))),)))
    return low + 0.0, high + 0.0


def _of_range(usual: Usual, values: list[float]) -> list[float]:
    """Return the ends of a range; where it is open, how far the scale goes on behind its one end."""
    if usual.low is not None and usual.high is not None:
        return [usual.low, usual.high]
    if usual.high is not None:
        return [min(0.0, *values), usual.high]
    assert usual.low is not None
    more = _BEYOND * max(max(values) - min(values), usual.low - min(values), abs(usual.low) * _FLAT)
    return [usual.low, usual.low + more]
