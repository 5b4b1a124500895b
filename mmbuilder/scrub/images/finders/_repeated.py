"""One shape over and over: the teeth of forceps, the steps of a ratchet, the threads of a screw, beats all alike.

A network that looks for text sees a row of letters. Moved along itself by one shape such a line is as it was; no
writing is, however often a letter comes again in it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Pixels = NDArray[np.uint8]

ALIKE, OTHER = 0.7, 0.3
"""How like itself, of 1, a line is at the least once it is moved by one shape; and at the most by a part of one. On the
tuning sets writing has 0.61 at the most."""
EACH, BUT = 0.6, 10
"""How like the next one each shape is at the least, but for so many of a hundred: the line may go on past the last. A
number of ones and noughts, or a word of two letters that differ by a stroke, has 0.57 at the most."""
SHAPES = 5
"""Shapes in a line at the least: two letters, and what stands on both sides of them, may be alike by chance."""


def repeated(laid: Pixels) -> bool:
    """Return whether a line is one shape over and over.

    Args:
        laid: the line laid level, row by row, and blue, green, red.
    """
    import cv2
    import numpy as np

    grey = np.asarray(cv2.cvtColor(laid, cv2.COLOR_BGR2GRAY), np.float64)
    # What runs all along a line, as an edge does, is like itself however far it is moved.
    bare = grey - grey.mean(1, keepdims=True)
    like = _alike(bare)[: bare.shape[1] // SHAPES + 1]
    other = np.flatnonzero(like < OTHER)
    if not other.size:
        return False
    shape = int(other[0] + like[other[0] :].argmax())
    return float(like[shape]) >= ALIKE and float(np.percentile(_each_alike(bare, shape), BUT)) >= EACH


def _alike(bare: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return how like itself a strip is, moved along by each number of columns."""
    import cv2
    import numpy as np

    wide = bare.shape[1]
    size = cv2.getOptimalDFTSize(2 * wide)
    waves = np.fft.rfft(bare, size, axis=1)
    shared = np.fft.irfft(np.square(np.abs(waves)).sum(0), size)[:wide]
    power = np.concatenate(([0.0], np.square(bare).sum(0).cumsum()))
    moved = np.arange(wide)
    both = (power[-1] - power[moved]) * power[wide - moved]
    like: NDArray[np.float64] = shared / np.sqrt(np.maximum(both, 1e-6))
    return like


def _each_alike(bare: NDArray[np.float64], wide: int) -> NDArray[np.float64]:
    """Return how like what is one shape further on each part of a strip is that is as wide as a shape."""
    import numpy as np

    here, there = bare[:, :-wide], bare[:, wide:]
    shared, own, other = (
        np.convolve(each.sum(0), np.ones(wide), "valid")
        for each in (here * there, np.square(here), np.square(there))
    )
    like: NDArray[np.float64] = shared / np.sqrt(np.maximum(own * other, 1e-6))
    return like
