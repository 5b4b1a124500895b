"""Which nights and midnights an axis has room for."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from mmbuilder.analysis.nights import later, midnights, nights
from mmbuilder.figures.axis import Axis, Scale
from mmbuilder.figures.style import width
from mmbuilder.safe.case import DayAndNight
from mmbuilder.safe.text import SafeText

_NARROW = 4.0
"""Where a night is narrower than this, nights are not shaded; points."""

_AIR = 6.0
"""Least distance between the words of two midnights; points."""


def shaded(known: DayAndNight | None, axis: Axis) -> Iterator[tuple[float, float]]:
    """Yield the nights of every panel that is wide enough to tell them apart; minutes."""
    for scale in axis.scales if known else ():
        assert known is not None
        found = list(nights(known, scale.panel.start, scale.panel.end))
        if max((scale.x(end) - scale.x(start) for start, end in found), default=0.0) >= _NARROW:
            yield from found


def flagged(known: DayAndNight | None, axis: Axis) -> Iterator[tuple[float, SafeText]]:
    """Yield each midnight with its words; a panel that counts days, or has no room for them, has none."""
    for scale in axis.scales if known else ():
        assert known is not None
        panel = scale.panel
        found = [(time, later(days)) for time, days in midnights(known, panel.start, panel.end)]
        if panel.unit != "day" and _apart(found, scale):
            yield from found


def _apart(found: list[tuple[float, SafeText]], scale: Scale) -> bool:
    return all(
        scale.x(two[0]) - scale.x(one[0]) >= (width(one[1]) + width(two[1])) / 2 + _AIR
        for one, two in pairwise(found)
    )
