"""Write a safe picture as a file of its own, in the format its original had."""

from __future__ import annotations

from collections.abc import Sequence
from io import BytesIO
from typing import TYPE_CHECKING

from mmbuilder.safe.image import SafeImage

if TYPE_CHECKING:
    from PIL.Image import Image

_OPTIONS: dict[str, dict[str, object]] = {
    "JPEG": {"quality": 92, "subsampling": 0, "optimize": True},
    "PNG": {"optimize": False, "compress_level": 6},
    "TIFF": {"compression": "tiff_deflate"},
    "GIF": {},
    "WEBP": {"lossless": True},
    "BMP": {},
}
"""By Pillow's name of the format. WebP without loss: the original may have been."""


def encode(image: SafeImage, pillow: str) -> bytes:
    """Return the bytes of a file that holds the pixels and no metadata; same pixels, same bytes.

    Args:
        image: what to write.
        pillow: Pillow's name of the format, as the containers give it.
    """
    return encode_all([image], pillow)


def encode_all(images: Sequence[SafeImage], pillow: str, shown: Sequence[int] = ()) -> bytes:
    """Return a file of several pages or frames.

    Args:
        images: what to write; more than one only for GIF, TIFF and WebP.
        pillow: Pillow's name of the format.
        shown: milliseconds each frame stands, for an animation.
    """
    first, *rest = map(_pixels, images)
    options = dict(_OPTIONS[pillow])
    if rest:
        options |= {"save_all": True, "append_images": rest}
    if rest and any(shown):
        options |= {"duration": list(shown), "loop": 0}
    out = BytesIO()
    first.save(out, pillow, **options)
    return out.getvalue()


def _pixels(image: SafeImage) -> Image:
    from PIL.Image import frombytes

    return frombytes("RGB", (image.width, image.height), image.pixels)
