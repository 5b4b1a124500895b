"""Covers of a finished picture: areas of their one colour, in which nothing can be seen and whose edges look like a line."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mmbuilder.scrub.images.again import RING
from mmbuilder.scrub.images.cover import COVER

if TYPE_CHECKING:
    from PIL.Image import Image

NEAR = 3
"""Levels, of 255, that encoding moves a colour."""
LEAST = 8
"""Pixels a side of an area that is taken for a cover: between letters there is less."""
EDGE = 2
"""Pixels of a cover's edge, to which encoding gives colours of its own."""


def without_covers(image: Image) -> Image:
    """Return a picture with its covers in the median colour of what lies round each.

    One in which anything stands, and be it a letter, is left as it is.
    """
    import cv2
    import numpy as np
    from PIL import Image as Pictures

    pixels = np.array(image.convert("RGB"))
    filled = (np.abs(pixels.astype(np.int16) - np.array(COVER)).max(2) <= NEAR).astype(np.uint8)
    filled = cv2.morphologyEx(filled, cv2.MORPH_OPEN, np.ones((LEAST, LEAST), np.uint8))
    outlines, within = cv2.findContours(filled, cv2.RETR_CCOMP, cv2.CHAIN_APPROX_NONE)
    if not outlines:
        return image
    for outline, (_, _, inside, around) in zip(outlines, within[0], strict=True):
        if inside < 0 and around < 0:
            area = cv2.drawContours(np.zeros_like(filled), [outline], -1, 1, -1)
            cover = cv2.dilate(area, np.ones((2 * EDGE + 1, 2 * EDGE + 1), np.uint8)) > 0
            ring = cv2.dilate(area, np.ones((2 * RING + 1, 2 * RING + 1), np.uint8)) > 0
            lent = pixels[ring & ~cover]
            pixels[cover] = np.median(lent, 0) if lent.size else COVER
    return Pictures.fromarray(pixels)
