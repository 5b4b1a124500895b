"""Where a line of writing goes on past what the network marked: its faint ends, and gaps between its pieces.

The network's likelihood fades at the ends of a line, and scripts it hardly knows are found in part. Ink
is followed from a found line outwards, as long as there are edges between the line's own two heights
and few above and below: texture has them everywhere, writing in its line.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mmbuilder.scrub.images.finders._rows import Row

    Pixels = NDArray[np.uint8]

SURE = 0.8
"""Least score of a line that is followed: writing has more, a piece of a trace on a monitor less."""
LONG, STEP_LEAST = 1.5, 4
"""Heights a line must be long, and pixels it must be high, to be followed."""
FURTHEST = 6
"""Steps, each as long as the line is high, that ink is followed at each end."""
GAP = 1
"""Steps without ink that a space between words may be."""
LIKE_LINE, OVER_GROUND = 0.45, 2.0
"""Least strength of edges in a step, as a share of the line's own and of what lies above and below."""


def followed(row: Row, pixels: Pixels) -> Row:
    """Return a row made longer at both ends by the ink that goes on there.

    Args:
        row: as it was found, unpadded.
        pixels: the whole picture: row, column, and blue, green, red.
    """
    if row.leaning or row.score < SURE:
        return row
    if row.height > row.right - row.left:
        # A line that runs down the picture is one along the rows of the picture laid on its side.
        return _turned(_along(_turned(row), pixels.transpose(1, 0, 2)))
    return _along(row, pixels)


def _turned(row: Row) -> Row:
    return replace(row, left=row.top, top=row.left, right=row.bottom, bottom=row.right)


def _along(row: Row, pixels: Pixels) -> Row:
    step = round(row.height)
    if row.right - row.left < LONG * row.height or step < STEP_LEAST:
        return row
    top, bottom = max(0, round(row.top)), min(pixels.shape[0], round(row.bottom))
    left, right = max(0, round(row.left)), min(pixels.shape[1], round(row.right))
    own = _edges(pixels[top:bottom, left:right])
    if not own:
        return row
    bands = (slice(max(0, top - step), top), slice(bottom, min(pixels.shape[0], bottom + step)))
    reached = [left, right]
    for side, way in ((0, -1), (1, 1)):
        start = reached[side]
        for number in range(FURTHEST):
            ends = sorted((start + way * step * number, start + way * step * (number + 1)))
            across = slice(max(0, ends[0]), max(0, ends[1]))
            here = _edges(pixels[top:bottom, across])
            ground = max(_edges(pixels[band, across]) for band in bands)
            if here >= LIKE_LINE * own and here >= OVER_GROUND * ground:
                reached[side] = across.start if way < 0 else min(pixels.shape[1], across.stop)
            elif abs(start + way * step * number - reached[side]) >= GAP * step:
                break
    return replace(row, left=float(min(row.left, reached[0])), right=float(max(row.right, reached[1])))


def _edges(part: Pixels) -> float:
    """Mean step from pixel to pixel along the rows; 0 where there is nothing."""
    import numpy as np

    if part.shape[0] < 2 or part.shape[1] < 2:
        return 0.0
    grey = part.astype(np.int16).sum(2)
    return float(np.abs(np.diff(grey, axis=1)).mean())
