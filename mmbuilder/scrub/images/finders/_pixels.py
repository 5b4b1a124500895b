"""Pixels as the finders' libraries want them."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray
    from PIL.Image import Image


def bgr(image: Image) -> NDArray[np.uint8]:
    """Return row, column, and blue, green, red."""
    import cv2
    import numpy as np

    cv2.setNumThreads(1)
    plain = image if image.mode == "RGB" else image.convert("RGB")
    return np.asarray(cv2.cvtColor(np.asarray(plain), cv2.COLOR_RGB2BGR), np.uint8)


def grey(image: Image) -> NDArray[np.uint8]:
    """Return row and column of how bright each pixel is."""
    import cv2
    import numpy as np

    cv2.setNumThreads(1)
    return np.asarray(image.convert("L"))
