"""Where in a picture writing may be: what is narrow, and stands out from both its sides.

A network takes the same time for each pixel it sees, and most pixels of a picture are skin, drape, or the dark round an
endoscope. Writing is made of strokes. Where there are none that can be told from the picture's own grain, the network
finds nothing at full size; strokes too wide to be told so it sees at a smaller size as well.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterator

    import numpy as np
    from numpy.typing import NDArray

    from mmbuilder.scrub.images.areas import Area

    Pixels = NDArray[np.uint8]
    Map = NDArray[np.float32]
    Mask = NDArray[np.bool_]
    Counts = NDArray[np.int64]

CELL = 32
"""Pixels a side of the squares that a picture is divided into."""
STROKE = 7
"""Pixels, at half the size, that a stroke is wide at most."""
GRAIN, LEAST, MOST = 4.0, 6.0, 14.0
"""Times the picture's usual grain that a stroke stands out, and levels of 255 that this is taken for at the least and at
the most. Of the items of the tuning sets that the network found at full size none was lost; with 18 levels one was."""
SHARE = 0.03
"""Share of a square that strokes take at the least."""
SEEN = 0.1
"""Likelihood at the smaller size from which a square is looked at."""


def areas(pixels: Pixels, smaller: Map | None) -> list[Area]:
    """Return what of a picture is to be looked at closely, in areas that do not meet.

    Args:
        pixels: row, column, and colour; both sides multiples of a cell.
        smaller: how likely each place is text, seen at a smaller size, if it was.
    """
    import cv2
    import numpy as np

    size = pixels.shape[1] // CELL, pixels.shape[0] // CELL
    marked = _share(_strokes(pixels), size) >= SHARE
    if smaller is not None:
        marked |= _share(smaller >= SEEN, size) > 0
    around = cv2.dilate(marked.view(np.uint8), np.ones((3, 3), np.uint8)) > 0
    return [
        (left * CELL, top * CELL, right * CELL, bottom * CELL)
        for left, top, right, bottom in _parts(around, 0, 0)
    ]


def _share(mask: Mask, size: tuple[int, int]) -> Map:
    """Return the share of each square that a mask takes."""
    import cv2
    import numpy as np

    return np.asarray(cv2.resize(mask.astype(np.float32), size, interpolation=cv2.INTER_AREA), np.float32)


def _strokes(pixels: Pixels) -> Mask:
    """Return what is narrow and stands out, at half the size."""
    import cv2
    import numpy as np

    half = cv2.resize(pixels, None, fx=0.5, fy=0.5, interpolation=cv2.INTER_AREA)
    square = np.ones((STROKE, STROKE), np.uint8)
    bright = cv2.morphologyEx(half, cv2.MORPH_TOPHAT, square)
    far = cv2.max(bright, cv2.morphologyEx(half, cv2.MORPH_BLACKHAT, square))
    most = cv2.max(cv2.max(far[..., 0], far[..., 1]), far[..., 2])
    least = min(max(GRAIN * float(np.median(most[::4, ::4])), LEAST), MOST)
    strokes: Mask = most > least
    return strokes


def _parts(marked: Mask, left: int, top: int) -> Iterator[Area]:
    """Yield what is marked, cut along rows and columns as long as less has to be looked at for it."""
    import numpy as np

    rows, columns = np.flatnonzero(marked.any(1)), np.flatnonzero(marked.any(0))
    if not rows.size:
        return
    marked = marked[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1]
    left, top = left + int(columns[0]), top + int(rows[0])
    high, wide = marked.shape
    (least_down, down), (least_across, across) = _cut(marked), _cut(marked.T)
    if min(least_down, least_across) >= _looked_at(high, wide):
        yield left, top, left + wide, top + high
    elif least_down <= least_across:
        yield from _parts(marked[:down], left, top)
        yield from _parts(marked[down:], left, top + down)
    else:
        yield from _parts(marked[:, :across], left, top)
        yield from _parts(marked[:, across:], left + across, top)


def _cut(marked: Mask) -> tuple[float, int]:
    """Return the least that has to be looked at if the rows are cut in two, and the first row past the cut."""
    if len(marked) < 2:
        return float("inf"), 0
    both = _before(marked)[:-1] + _before(marked[::-1])[:-1][::-1]
    return float(both.min()), int(both.argmin()) + 1


def _before(marked: Mask) -> Counts:
    """Return for each row how much has to be looked at for what is marked in it and before it; the first has a mark."""
    import numpy as np

    some, wide = marked.any(1), marked.shape[1]
    first = np.minimum.accumulate(np.where(some, marked.argmax(1), wide))
    last = np.maximum.accumulate(np.where(some, wide - marked[:, ::-1].argmax(1), 0))
    high = np.maximum.accumulate(np.where(some, np.arange(1, len(marked) + 1), 0))
    return np.asarray(_looked_at(high, last - first), np.int64)


def _looked_at(high: Any, wide: Any) -> Any:
    """Return how many cells the network sees for so many: one more all round."""
    return (high + 2) * (wide + 2)
