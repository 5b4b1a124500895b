"""A picture file -> pixels that may leave the building."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from mmbuilder.safe.image import SafeImage
from mmbuilder.safe.mint import KEY
from mmbuilder.scrub.images.cover import Crop, cover, cut
from mmbuilder.scrub.images.decode import decode
from mmbuilder.scrub.plan import PixelBox

if TYPE_CHECKING:
    from PIL.Image import Image

LONGEST = 2560
"""Pixels on the long side of a picture in a deck. A slide on a 4K projector is 3840 wide and a
picture fills two thirds of it: more is never seen, and a deck of 24-megapixel photographs
cannot be sent by e-mail."""


def scrub_image(
    source: Path | bytes,
    boxes: Sequence[PixelBox],
    crop: Crop | None = None,
    *,
    longest: int | None = LONGEST,
) -> SafeImage:
    """Decode, cover, cut, shrink, in this order: no covered or cut pixel takes part in the shrinking.

    Args:
        source: the file, or its bytes.
        boxes: what to cover, in pixels of the upright original; those to be kept are left alone.
        crop: left, top, width, height in the same pixels; None keeps the whole picture.
        longest: bound on the long side; None keeps the size.

    Raises:
        FileRefused: the picture cannot be read, or the crop leaves nothing of it.
    """
    return mint(cut(cover(decode(source).image, boxes), crop), longest)


def mint(image: Image, longest: int | None = None) -> SafeImage:
    """Pixels of a covered picture, copied out so that nothing else can come along."""
    small = _bounded(image, longest)
    return SafeImage(KEY, small.width, small.height, small.convert("RGB").tobytes())


def _bounded(image: Image, longest: int | None) -> Image:
    from PIL.Image import Resampling

    long_side = max(image.size)
    if longest is None or long_side <= longest:
        return image
    size = (
        max(1, round(image.width * longest / long_side)),
        max(1, round(image.height * longest / long_side)),
    )
    return image.resize(size, Resampling.LANCZOS)
