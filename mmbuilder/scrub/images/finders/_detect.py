"""Lines of text by a segmentation network: two passes, united; nothing is read here.

The first pass sees the picture as it is. The second sees it inverted, turned by half a turn and
at 0.7 of its size, for half the time of the first: what one misses by polarity, size or the way
up, the other finds. On the development set a second pass at 0.7 of the size turned by 90 degrees, or
with evened contrast, covered fewer items in the same time; one pass at twice the size covered as
many as the first, one of them smaller, in five times the time.

Source of the method: Liao and others, "Real-time scene text detection with differentiable
binarization", AAAI 2020 (from memory).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from mmbuilder.scrub.images.finders._net import run
from mmbuilder.scrub.images.finders._turned import Line

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Pixels = NDArray[np.uint8]
    Map = NDArray[np.float32]

SECOND_SCALE = 0.7
PIXEL_LEAST, LINE_LEAST = 0.2, 0.4
"""Least likelihood of a pixel, and mean of a line. Low: covering too much is seen, too little is not."""
UNCLIP = 1.6
"""The network marks a shrunken core of each line; this widens it back (the value it was trained with)."""
HEIGHT_LEAST = 7.0
"""Pixels. Below it lie specks of texture: letters of 10 px give lines of 12 and more."""
HEIGHT_MOST = 0.11
"""Share of the picture's short side; above it lie traces, domes and the picture as a whole."""
STUBBY, STUBBY_HEIGHT, STUBBY_LEAST = 1.8, 24.0, 0.85
"""A large blob less than 1.8 times as long as high is more often texture than writing: both passes
must see it, with this score."""
LONGEST = 2560
"""Pixels a side of what the network sees: bounds the memory of one picture."""
_MEAN, _SPREAD = (0.485, 0.456, 0.406), (0.229, 0.224, 0.225)


def lines(pixels: Pixels) -> tuple[Line, ...]:
    """Return what looks like text, unpadded.

    Args:
        pixels: row, column, and blue, green, red.
    """
    import numpy as np

    height, width = pixels.shape[:2]
    first = _pass(pixels, 1.0)
    other = np.ascontiguousarray(255 - pixels[::-1, ::-1])
    second = [line.half_turned(width, height) for line in _pass(other, SECOND_SCALE)]
    most = HEIGHT_MOST * min(width, height)
    return (
        *(line for line in first if _likely(line, second, most)),
        *(line for line in second if _likely(line, first, most)),
    )


def _likely(line: Line, others: list[Line], most: float) -> bool:
    if not HEIGHT_LEAST <= line.height <= most:
        return False
    if line.height < STUBBY_HEIGHT or line.length > STUBBY * line.height:
        return True
    return line.score >= STUBBY_LEAST and any(_meet(line, other) for other in others)


def _meet(one: Line, other: Line) -> bool:
    reach = (one.length + other.length) / 4
    close = abs(one.x - other.x) < reach and abs(one.y - other.y) < reach
    return close and other.score >= STUBBY_LEAST and 0.6 < one.height / other.height < 1.7


def _pass(pixels: Pixels, scale: float) -> list[Line]:
    height, width = pixels.shape[:2]
    scale = min(scale, LONGEST / max(height, width))
    likelihood = run("text_det.onnx", _batch(pixels, scale))[0][0, 0]
    return _traced(likelihood, width / likelihood.shape[1], height / likelihood.shape[0])


def _batch(pixels: Pixels, scale: float) -> Map:
    """Resize to multiples of 32, as the network asks, and even out the colours as in its training."""
    import cv2
    import numpy as np

    size = [max(32, round(side * scale / 32) * 32) for side in (pixels.shape[1], pixels.shape[0])]
    how = cv2.INTER_AREA if scale < 1 else cv2.INTER_LINEAR
    small = cv2.resize(pixels, size, interpolation=how).astype(np.float32) / 255
    even = (small - np.array(_MEAN, np.float32)) / np.array(_SPREAD, np.float32)
    return np.ascontiguousarray(even.transpose(2, 0, 1)[None], np.float32)


def _traced(likelihood: Map, across: float, down: float) -> list[Line]:
    """Return the turned rectangle of each marked region, in pixels of the picture."""
    import cv2
    import numpy as np

    marked = (likelihood > PIXEL_LEAST).astype(np.uint8)
    outlines, _ = cv2.findContours(marked, cv2.RETR_LIST, cv2.CHAIN_APPROX_SIMPLE)
    found = []
    for outline in outlines:
        left, top, wide, high = cv2.boundingRect(outline)
        if len(outline) < 3 or min(wide, high) < 3:
            continue
        inside = np.zeros((high, wide), np.uint8)
        cv2.drawContours(inside, [outline - np.array([left, top])], -1, 1, -1)
        score = float(likelihood[top : top + high, left : left + wide][inside > 0].mean())
        (x, y), (length, height), angle = cv2.minAreaRect(outline)
        if score >= LINE_LEAST and min(length, height) >= 1:
            grow = length * height * UNCLIP / (length + height)
            size = ((length + grow) * across, (height + grow) * down)
            found.append(_line(x * across, y * down, *size, angle, score))
    return found


def _line(x: float, y: float, length: float, height: float, angle: float, score: float) -> Line:
    if length < height:
        length, height, angle = height, length, angle + 90
    return Line(x, y, length, height, (angle + 90) % 180 - 90, score)
