"""Bar codes and QR codes, by two decoders united: each finds what the other does not.

The first (zxing-cpp) is given the picture as it is, at twice the size where that stays small, and
leaning by 30 and 60 degrees, all in grey; it looks at inverted and quarter-turned codes by itself. The second
(OpenCV) looks for the pattern and need not read it. What a code says is never looked at.
"""

from __future__ import annotations

from itertools import chain
from math import ceil
from typing import TYPE_CHECKING, Any

from mmbuilder.scrub.images.finders._pixels import grey
from mmbuilder.scrub.plan import Layer, PixelBox

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Sequence

    import numpy as np
    from numpy.typing import NDArray
    from PIL.Image import Image

    from mmbuilder.scrub.images.areas import Area

    Pixels = NDArray[np.uint8]
    Corners = NDArray[np.float64]

NAME = "codes in pictures"
LOOKS_FOR = ("bar codes and QR codes",)
EXTRA, NEEDS = "ocr", ("zxingcpp", "cv2")
KIND = "bar code or QR code"
LEANS = (30.0, 60.0)
LEANING = "LinearCodes", "PDF417"
"""What is looked for leaning: the decoder finds codes of squares however they lie. Of 144 drawn codes as many are found."""
DOUBLED_TO = 2600
"""Pixels a side up to which a second look at twice the size is taken: small codes, small pictures."""
NEAR, CONTRAST, CELL, SHARE = 9, 96, 16, 0.5
"""Pixels a side in which a code has dark and bright, levels of 255 between them, pixels a side of a cell, and the least
share of some cell that is so. Each of 92 codes that were found in the sets has a cell with 180 levels and more."""
PAD_SHARE, PAD_LEAST = 0.15, 6.0
"""Added all round: a decoder gives the middle of the outer bars."""
SIDE_LEAST = 8.0
BARS = (0.2, 0.35), (0.65, 0.8)
"""Two places along the bars of a code, as shares of their length, at which the same bars are met."""
ALIKE, SHIFT = 0.4, 0.04
"""Least correlation of the two, moved by so much of the code's width at most. Of codes too blurred to be read,
noisy, bent round a bottle or seen aslant it was 0.55 and more; of instruments side by side, each with a lean of
its own, 0.28 and less."""


def find(image: Image) -> tuple[PixelBox, ...]:
    """Return the box of every code."""
    return _boxes(image, [(0, 0, *image.size)], _corners)


def find_again(image: Image, parts: Sequence[Area]) -> tuple[PixelBox, ...]:
    """Return the box of every code in parts of a covered picture, each left, top, right and bottom.

    A cover makes no code smaller nor lean more: what is one by itself was found at the first look, and what writing
    in it hid from both decoders has the size of the writing.
    """
    return _boxes(image, parts, _plain)


def _boxes(
    image: Image, parts: Sequence[Area], look: Callable[[Pixels], Iterator[Corners]]
) -> tuple[PixelBox, ...]:
    import numpy as np

    whole = grey(image)
    boxes = (
        _box(np.add(four, (left, top)), image.width, image.height)
        for left, top, right, bottom in parts
        if _contrasting(whole[top:bottom, left:right])
        for four in look(np.ascontiguousarray(whole[top:bottom, left:right]))
    )
    return tuple(sorted({box for box in boxes if box is not None}))


def _contrasting(pixels: Pixels) -> bool:
    """Whether dark and bright stand close to each other all over some place, as in any code."""
    import cv2
    import numpy as np

    size = ceil(pixels.shape[1] / CELL), ceil(pixels.shape[0] / CELL)
    if min(size) < 1:
        return False
    near = np.ones((NEAR, NEAR), np.uint8)
    strong = cv2.subtract(cv2.dilate(pixels, near), cv2.erode(pixels, near)) > CONTRAST
    share = cv2.resize(strong.astype(np.float32), size, interpolation=cv2.INTER_AREA)
    return bool((share >= SHARE).any())


def _corners(pixels: Pixels) -> Iterator[Corners]:
    yield from chain(_plain(pixels), _doubled(pixels), _leaning(pixels))


def _plain(pixels: Pixels) -> Iterator[Corners]:
    yield from chain(_decoded(pixels), _patterns(pixels))


def _decoded(pixels: Pixels, formats: str = "") -> Iterator[Corners]:
    import numpy as np
    import zxingcpp

    only = {"formats": getattr(zxingcpp.BarcodeFormat, formats)} if formats else {}
    for code in zxingcpp.read_barcodes(pixels, try_rotate=True, try_invert=True, try_downscale=True, **only):
        place: Any = code.position
        points = (place.top_left, place.top_right, place.bottom_right, place.bottom_left)
        yield np.array([(point.x, point.y) for point in points], float)


def _doubled(pixels: Pixels) -> Iterator[Corners]:
    import cv2
    import numpy as np

    if 2 * max(pixels.shape[:2]) <= DOUBLED_TO:
        larger = cv2.resize(pixels, None, fx=2, fy=2, interpolation=cv2.INTER_CUBIC)
        yield from (corners / 2 for corners in _decoded(np.asarray(larger, np.uint8)))


def _leaning(pixels: Pixels) -> Iterator[Corners]:
    import cv2
    import numpy as np

    height, width = pixels.shape[:2]
    for lean in LEANS:
        turn = cv2.getRotationMatrix2D((width / 2, height / 2), lean, 1.0)
        cosine, sine = abs(turn[0, 0]), abs(turn[0, 1])
        size = (round(height * sine + width * cosine), round(height * cosine + width * sine))
        turn[:, 2] += (size[0] - width) / 2, (size[1] - height) / 2
        turned = np.asarray(cv2.warpAffine(pixels, turn, size), np.uint8)
        back = cv2.invertAffineTransform(turn)
        for formats in LEANING:
            yield from (corners @ back[:, :2].T + back[:, 2] for corners in _decoded(turned, formats))


def _patterns(pixels: Pixels) -> Iterator[Corners]:
    import cv2

    yield from (four for four in _found(cv2.barcode.BarcodeDetector(), pixels) if _has_bars(four, pixels))
    yield from _found(cv2.QRCodeDetector(), pixels)


def _found(detector: Any, pixels: Pixels) -> Iterator[Corners]:
    found, corners = detector.detectMulti(pixels)
    if found and corners is not None:
        yield from _fours(corners)


def _has_bars(four: Corners, pixels: Pixels) -> bool:
    """Whether the same bars are met at both places; corners from the lower left on, clockwise, as OpenCV tells them."""
    import cv2
    import numpy as np

    high, wide = (max(1, round(float(np.linalg.norm(four[n] - four[n + 1])))) for n in (0, 1))
    laid_on = np.array([(0, high), (0, 0), (wide, 0), (wide, high)], np.float32)
    turn = cv2.getPerspectiveTransform(four.astype(np.float32), laid_on)
    laid = cv2.warpPerspective(pixels, turn, (wide, high), borderMode=cv2.BORDER_REPLICATE)
    one, other = (
        laid[int(first * high) : int(last * high) + 1].mean(0, dtype=np.float32)[None] for first, last in BARS
    )
    shift = int(SHIFT * wide)
    return float(cv2.matchTemplate(other, one[:, shift : wide - shift], cv2.TM_CCOEFF_NORMED).max()) >= ALIKE


def _fours(corners: Iterable[Any]) -> Iterator[Corners]:
    import numpy as np

    for four in corners:
        yield np.asarray(four, float).reshape(-1, 2)


def _box(corners: Corners, width: int, height: int) -> PixelBox | None:
    (left, top), (right, bottom) = corners.min(0), corners.max(0)
    if max(right - left, bottom - top) < SIDE_LEAST:
        return None
    pad = max(PAD_LEAST, PAD_SHARE * max(right - left, bottom - top))
    box = PixelBox(
        max(0, int(left - pad)),
        max(0, int(top - pad)),
        min(width, int(right + pad) + 1),
        min(height, int(bottom + pad) + 1),
        KIND,
        Layer.MODEL,
        reason="has the pattern of a code",
    )
    return box if box.left < box.right and box.top < box.bottom else None
