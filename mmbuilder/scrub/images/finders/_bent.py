"""Writing along an arc: round a seal, a bottle or a band on a wrist, and what is printed on a curve.

The network marks it as one bent band. The rectangle round that is as high as the arc, and what is so high is seldom
writing: the arc is cut into short lines, each of them as good as straight.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, cos, degrees, pi, sin
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

    import numpy as np
    from numpy.typing import NDArray

    Marked = NDArray[np.bool_]

BENT = 0.6
"""Share of its rectangle that a straight band fills at the least."""
BAND = 0.75
"""Share of an arc, as thick all along, that a band fills at the least."""
LONG, PIECE = 6.0, 4.0
"""Times its thickness that an arc is long at the least, and a piece of it."""
TURNED = 30.0, 330.0
"""Degrees that an arc turns by: less is as good as straight, more is a ring."""
WIDE = 3.0
"""Thicknesses that an arc's middle is away from it at the least."""


@dataclass(frozen=True)
class Piece:
    """A short straight band.

    Attributes:
        x, y: its middle.
        length, height: along and across the arc.
        angle: degrees, clockwise as seen.
    """

    x: float
    y: float
    length: float
    height: float
    angle: float


def pieces(marked: Marked, area: float) -> tuple[Piece, ...]:
    """Return the pieces of a band that is bent to an arc; none if it is straight, or bent otherwise.

    Args:
        marked: where the band is, row by row.
        area: of the rectangle round it.
    """
    import numpy as np

    if np.count_nonzero(marked) >= BENT * area:
        return ()
    y, x = (side.astype(np.float64) for side in np.nonzero(marked))
    across, down, radius = _circle(x, y)
    far = np.hypot(x - across, y - down)
    thick = max(1.0, float(far.std()) * 12**0.5)
    lean = np.arctan2(y - down, x - across)
    middle = float(np.arctan2(np.sin(lean).mean(), np.cos(lean).mean()))
    off = (lean - middle + pi) % (2 * pi) - pi
    first, last = float(off.min()), float(off.max())
    long = radius * (last - first)
    turned = TURNED[0] <= degrees(last - first) <= TURNED[1]
    if not (turned and radius >= WIDE * thick and long >= LONG * thick and x.size >= BAND * long * thick):
        return ()
    return tuple(_cut(across, down, radius, thick, (middle + first, middle + last)))


def _circle(x: NDArray[np.float64], y: NDArray[np.float64]) -> tuple[float, float, float]:
    """Return the middle and the radius of the circle nearest to all places."""
    import numpy as np

    own = np.column_stack((2 * x, 2 * y, np.ones_like(x)))
    across, down, rest = np.linalg.lstsq(own, x**2 + y**2, rcond=None)[0]
    return float(across), float(down), float(max(0.0, rest + across**2 + down**2) ** 0.5)


def _cut(
    across: float, down: float, radius: float, thick: float, ends: tuple[float, float]
) -> Iterator[Piece]:
    first, last = ends
    number = ceil(radius * (last - first) / (PIECE * thick))
    step = (last - first) / number
    for index in range(number):
        lean = first + (index + 0.5) * step
        x, y = across + radius * cos(lean), down + radius * sin(lean)
        yield Piece(x, y, radius * step, thick, degrees(lean) + 90)
