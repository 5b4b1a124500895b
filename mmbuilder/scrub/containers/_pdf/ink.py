"""What is drawn in a part of a page: every pixel off the ground that is no rule, and its groups."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from mmbuilder.scrub.containers._pdf.reading import Area

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Pixels = NDArray[np.uint8]
    Mask = NDArray[np.bool_]

FAINT = 10
"""Levels from the ground, of 255, from which a pixel is ink: a drawn page has no noise, a name may be pale."""
NOISE = 6.0
"""Times the median step from the ground from which a pixel of a scan is ink: 4 sigma of its grain."""
RULE = 40
"""Pixels, and 1.5 times the height of the part: a longer level run is a rule or an edge of a field, no letter."""
SPECK = 4
"""Pixels; a smaller dot is grain."""
APART = 0.3
"""Share of the height of a part that two letters of one word may stand apart."""
LONG_LEAST, SHORT_LEAST, DRAWN_LEAST = 14, 4, 25
"""Sides in pixels, and pixels, of the smallest group that may be writing: three letters 10 pixels high have
some 60 pixels and are 20 long, a drawn bullet is 12 long."""
MINE = 0.5
"""Share of what hangs together that lies in a word's place, from which it is the word's."""
DOT = 0.15
"""Share of a line's height; what does not cross the middle of the letters is a dot up to this size."""
DENSE = 0.5
"""Share of the ink of a line's fullest row from which a row lies between foot and top of small letters."""
PALE = 0.5
"""Share of a word's own blackness below which ink in its place is of another pen."""
EDGE = 3
"""Pixels of soft edge round a letter of a scan."""
MARGIN = 4
"""Pixels covered round a group: the soft edge of letters."""


def drawn(part: Pixels) -> Mask:
    """Return what stands off the ground of a part, without rules and edges that run through it."""
    import numpy as np

    away = _away(part)
    ink = away > max(FAINT, NOISE * float(np.median(away)))
    return ink & ~_rules(ink)


def _away(part: Pixels) -> NDArray[np.int16]:
    import numpy as np

    ground = np.median(part.reshape(-1, 3), axis=0).astype(np.int16)
    return np.asarray(np.abs(part.astype(np.int16) - ground).max(2))


def _rules(ink: Mask) -> Mask:
    """Level runs longer than a letter is wide, upright runs from edge to edge, and their soft edges."""
    import cv2
    import numpy as np

    height = ink.shape[0]
    marked = ink.astype(np.uint8)
    level = cv2.morphologyEx(marked, cv2.MORPH_OPEN, np.ones((1, max(RULE, int(1.5 * height))), np.uint8))
    upright = np.broadcast_to(ink.all(axis=0), ink.shape).astype(np.uint8)
    return np.asarray(cv2.dilate(np.maximum(level, upright), np.ones((3, 3), np.uint8)) > 0)


def outside(ink: Mask, places: Mask) -> Mask:
    """Return the ink that hangs together mostly outside some places, without specks."""
    import numpy as np

    parts, sizes = _parts(ink)
    whole = sizes[:, -1]
    foreign = (np.bincount(parts[places], minlength=len(whole)) < MINE * whole) & (whole >= SPECK)
    foreign[0] = False
    return np.asarray(foreign[parts])


def strange(line: Pixels) -> Mask:
    """Return the ink in the place of a line of a scan that is none of its letters.

    Letters cross the middle of the small ones, or are no larger than a dot; and they are of one pen.
    """
    import cv2
    import numpy as np

    ink = drawn(line)
    if not ink.any():
        return ink
    parts, sizes = _parts(ink)
    dense = ink.sum(1)
    rows = np.flatnonzero(dense >= DENSE * dense.max())
    quarter = (rows[-1] - rows[0]) // 4
    crossing = (
        np.bincount(parts[rows[0] + quarter : rows[-1] + 1 - quarter].ravel(), minlength=len(sizes)) > 0
    )
    large = sizes[:, [cv2.CC_STAT_WIDTH, cv2.CC_STAT_HEIGHT]].max(1) > DOT * len(line)
    foreign = large & ~crossing
    foreign[0] = False
    away = _away(line)
    black = away > PALE * np.percentile(away[ink], 90)
    near = cv2.dilate(black.astype(np.uint8), np.ones((2 * EDGE + 1, 2 * EDGE + 1), np.uint8)) > 0
    return np.asarray(foreign[parts] | (ink & ~near))


def _parts(ink: Mask) -> tuple[NDArray[np.int32], NDArray[np.int32]]:
    """What hangs together: the number of its part for each pixel, and of each part its box and its pixels."""
    import cv2
    import numpy as np

    _, parts, sizes, _ = cv2.connectedComponentsWithStats(ink.astype(np.uint8), connectivity=8)
    return np.asarray(parts, np.int32), np.asarray(sizes, np.int32)


def groups(ink: Mask) -> Iterator[Area]:
    """Return the place of each stretch of ink that is large enough to be writing, with a margin."""
    import cv2
    import numpy as np

    height, width = ink.shape
    reach = 2 * max(SPECK, int(APART * height)) + 1
    joined = cv2.dilate(ink.astype(np.uint8), np.ones((3, reach), np.uint8))
    count, parts = cv2.connectedComponents(joined, connectivity=8)
    for number in range(1, count):
        rows, columns = np.nonzero(ink & (parts == number))
        left, top, right, bottom = (int(n) for n in (columns.min(), rows.min(), columns.max(), rows.max()))
        sides = sorted((right - left + 1, bottom - top + 1))
        if sides[0] >= SHORT_LEAST and sides[1] >= LONG_LEAST and len(rows) >= DRAWN_LEAST:
            # What touches the edge of the part goes on beyond it.
            beyond = max(MARGIN, height // 3)
            above, below = (beyond if at_edge else MARGIN for at_edge in (top == 0, bottom == height - 1))
            before, after = (beyond if at_edge else MARGIN for at_edge in (left == 0, right == width - 1))
            yield left - before, top - above, right + 1 + after, bottom + 1 + below
