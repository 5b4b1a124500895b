"""Drawings (SVG) that lie in a file beside a picture of them: drawn again, and compared.

Where the two are alike the picture shows what the drawing says, whose words are read as text. A name that
was written over the picture alone, or over one of the two, is a difference, and is looked at as any picture is.
"""

from __future__ import annotations

import io
import re
from typing import TYPE_CHECKING

from mmbuilder import fonts

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray
    from PIL.Image import Image

    Pixels = NDArray[np.uint8]

ELEMENTS = frozenset(b"svg defs style g path use text tspan title clipPath rect circle line polyline".split())
"""What a drawing may be made of: no picture within it, nothing of another file, no script."""
_TAG = re.compile(rb"<([A-Za-z][\w:.-]*)")
_OUT_OF_IT = re.compile(rb"""<!ENTITY|@import|(?:href\s*=\s*["']|url\(\s*["']?)(?!\#)""")
_PAGE = b'#set page(width: auto, height: auto, margin: 0pt)\n#image(bytes(sys.inputs.drawing), format: "svg")'

FAR = 60
"""Levels, of 255, that a pixel must be off everything within a pixel of it: two programs draw edges alike, not the same."""
_ROUNDED = 3
"""Pixels that sides may be off by rounding."""
WINDOW, FEW = 40, 25
"""Pixels a side in which so many differing ones are chance; a letter three times as high as wide has more."""


def is_drawing(data: bytes) -> bool:
    """Whether bytes are a drawing that holds all it shows."""
    head = data[:400].lstrip(b"\xef\xbb\xbf \r\n\t")
    if not head.startswith(b"<") or b"<svg" not in data[:2000]:
        return False
    return set(_TAG.findall(data)) <= ELEMENTS and not _OUT_OF_IT.search(data)


def alike(image: Image, drawing: bytes) -> Pixels | None:
    """Return where a picture is as its drawing: 1 there, 0 where they differ; None if it is not of this drawing."""
    import cv2
    import numpy as np

    again = _drawn(drawing, image.width) if _same_sides(image, drawing) else None
    if again is None or max(abs(again.width - image.width), abs(again.height - image.height)) > 1:
        return None
    one = np.asarray(image.convert("RGB"))
    # A pixel more or less is how a program rounds.
    other = np.asarray(again.convert("RGB").crop((0, 0, *image.size)))
    off = (np.maximum(_off(one, other), _off(other, one)) > FAR).astype(np.float32)
    many = cv2.boxFilter(off, -1, (WINDOW, WINDOW), normalize=False, borderType=cv2.BORDER_CONSTANT)
    return (many < FEW).astype(np.uint8)


def _off(one: Pixels, other: Pixels) -> NDArray[np.int16]:
    """How far each pixel is from all the colours round its place in the other."""
    import cv2
    import numpy as np

    near = np.ones((3, 3), np.uint8)
    low, high = (change(other, near).astype(np.int16) for change in (cv2.erode, cv2.dilate))
    return np.asarray(np.maximum(low - one, one - high).max(2))


def _drawn(drawing: bytes, width: int) -> Image | None:
    """Return a drawing as a picture so many pixels wide; None if it cannot be drawn."""
    from PIL import Image as Pictures

    asked = _side("width", drawing)
    if asked is None:
        return None
    ours = drawing.replace(fonts.FAMILY.encode(), fonts.FALLBACK.encode())
    try:
        made = fonts.typeset(
            _PAGE, format="png", ppi=72 * width / asked, sys_inputs={"drawing": ours.decode()}
        )
    except (RuntimeError, UnicodeDecodeError):
        return None
    return Pictures.open(io.BytesIO(made))


def _same_sides(image: Image, drawing: bytes) -> bool:
    """Whether a drawing may be as high as a picture where it is as wide; asked first, for to draw it takes a while."""
    width, height = _side("width", drawing), _side("height", drawing)
    return width is None or height is None or abs(height * image.width / width - image.height) < _ROUNDED


def _side(name: str, drawing: bytes) -> float | None:
    found = re.search(rb'<svg\b[^>]*?\b%s="(\d+(?:\.\d+)?)pt"' % name.encode(), drawing)
    return float(found[1]) if found and float(found[1]) >= 1 else None
