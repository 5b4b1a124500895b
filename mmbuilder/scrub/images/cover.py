"""Make parts of a picture unreadable by replacing their pixels, and cut parts away for good."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, floor
from typing import TYPE_CHECKING

from mmbuilder.errors import FileRefused
from mmbuilder.scrub.plan import Decision, PixelBox

if TYPE_CHECKING:
    from PIL.Image import Image

COVER = (64, 64, 64)
"""Solid dark grey. Never a blur or mosaic, which can be read back; and not black, which on a
dark field of view could pass for part of the picture."""

Crop = tuple[float, float, float, float]
"""left, top, width, height; pixels of the upright original."""


def cover(image: Image, boxes: Sequence[PixelBox]) -> Image:
    """Fill each box that is not to be kept; where the two overlap, covering wins."""
    covered = image.copy()
    for box in boxes:
        area = clamped(box, image.width, image.height)
        if box.decision is not Decision.KEEP and area is not None:
            covered.paste(COVER, area)
    return covered


def clamped(box: PixelBox, width: int, height: int) -> tuple[int, int, int, int] | None:
    """The part of a box that lies on the picture, or None."""
    left, top = max(0, floor(box.left)), max(0, floor(box.top))
    right, bottom = min(width, ceil(box.right)), min(height, ceil(box.bottom))
    return (left, top, right, bottom) if left < right and top < bottom else None


def cut(image: Image, crop: Crop | None) -> Image:
    """Only what lies inside the crop; a pixel that is partly outside goes.

    Raises:
        FileRefused: nothing of the picture lies inside.
    """
    if crop is None:
        return image
    left, top, width, height = crop
    area = (
        max(0, ceil(left)),
        max(0, ceil(top)),
        min(image.width, floor(left + width)),
        min(image.height, floor(top + height)),
    )
    if area[0] >= area[2] or area[1] >= area[3]:
        raise FileRefused(
            f"the crop leaves nothing of the picture, which is {image.width} x {image.height} pixels; "
            "give left, top, width and height in pixels of the picture as it is seen upright"
        )
    return image.crop(area)
