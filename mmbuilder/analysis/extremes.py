"""Readings in figures: the lowest and the highest of a line, never without the window they hold for."""

from __future__ import annotations

import math
from dataclasses import dataclass

from mmbuilder.safe.case import Series

Reading = tuple[float, float]
"""Minutes from the index event, and the value."""


@dataclass(frozen=True)
class Extremes:
    """What a line of readings comes to; artefacts count for nothing in it.

    Attributes:
        lowest, highest: the first reading of that value.
        window: first and last reading that counts; minutes.
        count: how many count.
    """

    lowest: Reading
    highest: Reading
    window: tuple[float, float]
    count: int


def extremes(line: Series) -> Extremes | None:
    """Sum a line up; None if no reading of it counts."""
    good = [
        point
        for place, point in enumerate(line.points)
        if place not in line.artefacts and math.isfinite(point[1])
    ]
    if not good:
        return None
    return Extremes(
        lowest=min(good, key=lambda point: (point[1], point[0])),
        highest=max(good, key=lambda point: (point[1], -point[0])),
        window=(good[0][0], good[-1][0]),
        count=len(good),
    )
