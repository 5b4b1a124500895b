"""What stands out in a line and is no writing: a few bare filled shapes, a ruler, one shape over and over.

A filled shape has no notch, and nothing on it. A network that looks for text sees a spot, a bead, a key or a bar of colours as a letter at every size. Letters have notches, holes or gaps;
of those that have none, such as I, l, a dot or a dash, no word is made.
"""

from __future__ import annotations

from dataclasses import replace
from math import ceil
from typing import TYPE_CHECKING

from mmbuilder.scrub.images.finders._repeated import repeated
from mmbuilder.scrub.images.finders._ruler import ruler

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mmbuilder.scrub.images.finders._turned import Line

    Pixels = NDArray[np.uint8]
    Mask = NDArray[np.bool_]

HEIGHT, AROUND, WIDEST = 32, 20, 1600
"""Pixels that a line is made high, that are seen round it, and that it is long at most."""
INSIDE = slice(AROUND, -AROUND), slice(AROUND, -AROUND)
STANDS_OUT = 12
"""Levels of 255 from the ground from which something stands out, at the least."""
MOST, SPECK = 3, 0.1
"""Shapes there may be, and the share of the largest from which one counts."""
FILLED = 0.9
"""Least share of its hull that a shape fills."""
EVEN, COLUMNS = 0.4, 0.85
"""Share of its step from the ground by which a shape may change across the line, and least share of its columns
that change by no more."""
WRITTEN, WRITTEN_HIGH = 3, 8
"""Marks of so many pixels and more that a plate bears at the least, where something is written on it."""


ALONG, ACROSS = 3.0, 2.0
"""Times as long and as high as a part of a ruler that is looked at with it."""


def no_writing(line: Line, pixels: Pixels) -> bool:
    """Return whether all that stands out in a line is a few filled shapes, or a ruler.

    Args:
        line: as it was found, unpadded.
        pixels: the whole picture: row, column, and blue, green, red.
    """
    laid = _laid(line, pixels)
    far, step = _stands_out(laid)
    drawn = far > max(STANDS_OUT, step / 2)
    return ruler(drawn[INSIDE]) or _few_shapes(drawn, laid, step) or _of_a_ruler(line, pixels)


def one_shape(line: Line, pixels: Pixels) -> bool:
    """Return whether a line, as it was found in a picture, is one shape over and over."""
    return repeated(_laid(line, pixels)[INSIDE])


def _of_a_ruler(line: Line, pixels: Pixels) -> bool:
    """Whether a line is a part of a ruler: all that stands out round it as well is one."""
    wider = replace(line, length=ALONG * line.length, height=ACROSS * line.height)
    far, step = _stands_out(_laid(wider, pixels))
    return ruler((far > max(STANDS_OUT, step / 2))[INSIDE])


def _few_shapes(drawn: Mask, laid: Pixels, step: float) -> bool:
    import cv2
    import numpy as np

    _, parts = cv2.connectedComponents(drawn.view(np.uint8), connectivity=8)
    within = np.bincount(parts[INSIDE].ravel())
    within[0] = 0
    shapes = np.flatnonzero(within > SPECK * within.max())
    cut = {*parts[0], *parts[-1]}
    return 0 < len(shapes) <= MOST and all(
        shape not in cut and _filled(parts == shape, laid, step) for shape in shapes
    )


def _stands_out(laid: Pixels) -> tuple[Pixels, float]:
    """Return how far each place is from the ground round the line, in any colour, and how far the line is."""
    import cv2
    import numpy as np

    ground = np.array([_median_around(laid[..., colour]) for colour in range(3)], np.uint8)
    apart = cv2.absdiff(laid, np.broadcast_to(ground, laid.shape))
    far = np.maximum(np.maximum(apart[..., 0], apart[..., 1]), apart[..., 2])
    return far, float(np.percentile(far[INSIDE], 98))


def _median_around(levels: Pixels) -> int:
    import numpy as np

    around = np.bincount(levels.ravel(), minlength=256) - np.bincount(levels[INSIDE].ravel(), minlength=256)
    return int(around.cumsum().searchsorted(around.sum() / 2))


def _laid(line: Line, pixels: Pixels) -> Pixels:
    import cv2
    import numpy as np

    by = HEIGHT / line.height
    wide, high = ceil(min(line.length * by, WIDEST)) + 2 * AROUND, HEIGHT + 2 * AROUND
    turn = cv2.getRotationMatrix2D((line.x, line.y), line.angle, by)
    turn[:, 2] += np.array((wide / 2 - line.x, high / 2 - line.y))
    laid = cv2.warpAffine(pixels, turn, (wide, high), borderMode=cv2.BORDER_REPLICATE)
    return np.asarray(laid, np.uint8)


def _filled(shape: Mask, laid: Pixels, step: float) -> bool:
    """Whether a shape has no notch and no hole, and is of one colour all the way across the line."""
    import cv2
    import numpy as np

    if _notched(shape):
        return False
    hull = _hull(shape)
    core = cv2.erode(hull, np.ones((5, 5), np.uint8), borderValue=0) > 0
    columns = np.flatnonzero(core.any(0))
    if not columns.size:
        return True
    changes = [float(np.ptp(laid[core[:, column], column], axis=0).max()) for column in columns]
    return float(np.mean(np.array(changes) <= EVEN * step)) >= COLUMNS and not _written_on(laid, core)


def _written_on(laid: Pixels, plate: Mask) -> bool:
    """Whether a plate bears marks of another colour, with notches as letters have, however near to its own."""
    import cv2
    import numpy as np

    apart = cv2.absdiff(laid, np.broadcast_to(np.median(laid[plate], axis=0).astype(np.uint8), laid.shape))
    far = np.where(plate, apart.max(2), 0)
    marked = far > max(STANDS_OUT, float(np.percentile(far[plate], 98)) / 2)
    _, parts, sizes, _ = cv2.connectedComponentsWithStats(marked.view(np.uint8), connectivity=8)
    high = np.flatnonzero(sizes[:, cv2.CC_STAT_HEIGHT] >= WRITTEN_HIGH)
    return sum(_notched(parts == part) for part in high.tolist() if part) >= WRITTEN


def _notched(mark: Mask) -> bool:
    return float(mark.sum()) < FILLED * float(_hull(mark).sum())


def _hull(shape: Mask) -> Pixels:
    """Return the shape without its notches and holes: 1 in it, 0 round it."""
    import cv2
    import numpy as np

    outlines, _ = cv2.findContours(shape.view(np.uint8), cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    hull = np.zeros(shape.shape, np.uint8)
    cv2.fillConvexPoly(hull, cv2.convexHull(outlines[0]), 1)
    return hull
