"""A safe picture as JPEG: what a deck holds, and what is looked at again before it may."""

from __future__ import annotations

import io

from mmbuilder.safe.image import SafeImage

ENCODING = "jpeg q92 4:4:4"


def jpeg(image: SafeImage) -> bytes:
    """Return a picture as JPEG: quality 92, colour at full resolution, no metadata."""
    from PIL import Image

    file = io.BytesIO()
    picture = Image.frombytes("RGB", (image.width, image.height), image.pixels)
    picture.save(file, "JPEG", quality=92, subsampling=0)
    return file.getvalue()
