"""Write a safe picture as a file of its own, in the format its original had."""

from __future__ import annotations

from io import BytesIO

from mmbuilder.safe.image import SafeImage

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
    from PIL import Image

    pixels = Image.frombytes("RGB", (image.width, image.height), image.pixels)
    out = BytesIO()
    pixels.save(out, pillow, **_OPTIONS[pillow])
    return out.getvalue()
