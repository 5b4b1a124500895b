"""Curves on a monitor, painted out: the network takes a heart's trace for one high line of text.

A name written over a trace is lost in that line, which is far too high to be text. Without the
trace, the same network sees what is left.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Pixels = NDArray[np.uint8]

STANDS_OUT = 36
"""Levels from the ground, of 255, from which a pixel belongs to what is drawn."""
DRAWN_MOST = 0.3
"""Share of a band that may be drawn on; with more it is no monitor but texture."""
WIDE = 0.2
"""Share of the band that a curve runs through without a gap."""
THICK = 9
"""Pixels both ways; what holds a square so large is an area, not a curve."""
ALIKE = 0.94
"""Least cosine between a pixel's colour and the curve's, both as steps from the ground."""


def painted_out(band: Pixels) -> Pixels | None:
    """Return a band of a picture without the curves that run through it; None if there are none, or nothing else.

    Args:
        band: pixels of the band: row, column, and blue, green, red.
    """
    import cv2
    import numpy as np

    ground = np.median(band.reshape(-1, 3), axis=0)
    step = band.astype(np.float32) - ground.astype(np.float32)
    drawn = np.abs(step).max(2) > STANDS_OUT
    if not 0 < drawn.mean() < DRAWN_MOST:
        return None
    count, parts, sizes, _ = cv2.connectedComponentsWithStats(drawn.astype(np.uint8), connectivity=8)
    curve = np.zeros(drawn.shape, np.uint8)
    for part in range(1, count):
        if sizes[part, cv2.CC_STAT_WIDTH] >= WIDE * band.shape[1]:
            curve |= _alike(step, parts == part)
    if not curve.any():
        return None
    # A curve's soft edge is fainter than what stands out, and as wide as its blur.
    wider = _near(curve)
    if not (drawn & ~wider).any():
        return None
    clear = band.copy()
    clear[wider & (~drawn | (curve > 0))] = ground.astype(np.uint8)
    return clear


def _alike(step: NDArray[np.float32], part: NDArray[np.bool_]) -> Pixels:
    """Return what has the part's own colour: letters of another one that touch it stay."""
    import numpy as np

    colour = np.median(step[part], axis=0)
    likeness = (step @ colour) / (np.linalg.norm(step, axis=2) * np.linalg.norm(colour) + 1e-6)
    return np.asarray(part & (likeness > ALIKE), np.uint8)


def curves(pixels: Pixels) -> Pixels | None:
    """Return a mask of the curves that run through a picture of a dark or even ground; None if it has none.

    Args:
        pixels: the whole picture: row, column, and blue, green, red.
    """
    import cv2
    import numpy as np

    ground = np.median(pixels[::4, ::4].reshape(-1, 3), axis=0)
    if _drawn(pixels[::4, ::4], ground).mean() > 2 * DRAWN_MOST:
        return None  # plainly texture: the count below need not be taken
    drawn = _drawn(pixels, ground)
    if not 0 < drawn.mean() < DRAWN_MOST:
        return None
    count, parts, sizes, _ = cv2.connectedComponentsWithStats(drawn.view(np.uint8), connectivity=8)
    # A device's strip along an edge runs through the picture too, and holds a name: a curve is thin.
    cores = cv2.erode(drawn.astype(np.uint8), np.ones((THICK, THICK), np.uint8)) > 0
    solid = set(np.unique(parts[cores]).tolist())
    wide = [
        part
        for part in range(1, count)
        if part not in solid and sizes[part, cv2.CC_STAT_WIDTH] >= WIDE * pixels.shape[1]
    ]
    if not wide:
        return None
    chosen = np.zeros(count, np.uint8)
    chosen[wide] = 1
    return np.asarray(chosen[np.asarray(parts, np.intp)], np.uint8)


def _drawn(pixels: Pixels, ground: NDArray[np.float64]) -> NDArray[np.bool_]:
    """What stands out from the ground in any colour."""
    import cv2
    import numpy as np

    # Four numbers are to OpenCV one colour for every pixel.
    far = cv2.absdiff(np.ascontiguousarray(pixels), np.array([*ground.astype(np.uint8), 0], np.float64))
    return np.asarray(np.maximum(np.maximum(far[..., 0], far[..., 1]), far[..., 2]) > STANDS_OUT)


def only_curve(curve: Pixels, pixels: Pixels, left: int, top: int, right: int, bottom: int) -> bool:
    """Whether a rectangle holds a curve that runs through it and nothing else that is drawn.

    A curve crosses most columns once, a spike twice; letters, even of its own colour and joined to it,
    make three crossings and more. Then the rectangle is taken for text.
    """
    import numpy as np

    inside = curve[top:bottom, left:right]
    if not inside.size or not inside[:, :2].any() or not inside[:, -2:].any():
        return False
    band = pixels[top:bottom, left:right]
    ground = np.median(band.reshape(-1, 3), axis=0)
    drawn = np.abs(band.astype(np.int16) - ground.astype(np.int16)).max(2) > STANDS_OUT // 2
    near = _near(inside)
    if (drawn & ~near).sum() > OTHER_MOST * max(1, drawn.sum()):
        return False
    crossings = (np.diff(inside.astype(np.int8), axis=0, prepend=0) == 1).sum(0)
    return bool((crossings >= LETTERS).mean() < LETTERS_MOST)


def _near(mask: Pixels) -> NDArray[np.bool_]:
    """The mask with the soft edge of what it holds."""
    import cv2
    import numpy as np

    return np.asarray(cv2.dilate(mask, np.ones((5, 5), np.uint8)) > 0)


LETTERS, LETTERS_MOST = 3, 0.02
"""Crossings in one column from which it is not a curve's, and the share of columns that may have as many."""
OTHER_MOST = 0.02
"""Share of what is drawn in a rectangle that may be other than its curve."""
