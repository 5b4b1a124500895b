"""A safe picture as JPEG: what a deck holds, and what is looked at again before it may."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

from mmbuilder.safe.image import SafeImage

if TYPE_CHECKING:
    from PIL.Image import Image

ENCODING = "jpeg q92 4:4:4"


def jpeg(image: SafeImage) -> bytes:
    """Return a picture as JPEG: quality 92, colour at full resolution, no metadata."""
    from PIL.Image import frombytes

    return encode(frombytes("RGB", (image.width, image.height), image.pixels))


def encode(picture: Image) -> bytes:
    """Return pixels as JPEG, likewise; whatever else the library holds of them is left behind."""
    file = io.BytesIO()
    picture.save(file, "JPEG", quality=92, subsampling=0)
    return file.getvalue()
