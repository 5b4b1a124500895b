"""Lines of text by a segmentation network: two passes, united; nothing is read here.

The first pass sees the picture without the curves of monitors and charts, which the network takes for
high lines; where either still sees one so high that it is more often a recording, the part is looked at again without
the recording. The second sees it as it is, inverted, turned by half a turn and at 0.58 of its size, for a
third of the time of the first: what one misses by polarity, size or the way up, the other finds. It comes first in
time: at full size only that is looked at where it saw something, or where there are strokes (`_where.py`). On the
development set a second pass turned by 90 degrees, or with evened contrast, covered fewer items in the
same time; one pass at twice the size covered as many as the first, one of them smaller, in five times the
time.

Source of the method: Liao and others, "Real-time scene text detection with differentiable
binarization", AAAI 2020 (from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor
from typing import TYPE_CHECKING, cast

from mmbuilder.scrub.images.areas import apart
from mmbuilder.scrub.images.finders import _bent, _where
from mmbuilder.scrub.images.finders._net import run
from mmbuilder.scrub.images.finders._traces import (
    TRACE_HEIGHT,
    only_curve,
    without_bold_curves,
    without_curves,
)
from mmbuilder.scrub.images.finders._turned import Line

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    import numpy as np
    from numpy.typing import NDArray

    from mmbuilder.scrub.images.areas import Area

    Pixels = NDArray[np.uint8]
    Map = NDArray[np.float32]

SECOND_SCALE = 0.58
PIXEL_LEAST, LINE_LEAST = 0.2, 0.4
"""Least likelihood of a pixel, and mean of a line. Low: covering too much is seen, too little is not."""
UNCLIP = 1.6
"""The network marks a shrunken core of each line; this widens it back (the value it was trained with)."""
HEIGHT_LEAST = 7.0
"""Pixels. Below it lie specks of texture: letters of 10 px give lines of 12 and more."""
HEIGHT_MOST, HEIGHT_SMALL = 0.11, 48.0
"""Share of the picture's short side; above it lie traces, domes and the picture as a whole. In a small
picture letters take a larger share: lines up to so many pixels count."""
HUGE = 0.4
"""Share of the short side up to which what is higher still may be writing: only where it can be read."""
STUBBY, STUBBY_HEIGHT, STUBBY_LEAST = 1.8, 24.0, 0.85
"""A large blob less than 1.8 times as long as high is more often texture than writing: both passes
must see it, with this score, or it goes on where a likely line ends."""
TALL, LONG = 0.06, 2.5
"""Share of the short side from which a line less than 2.5 times as long as high must be seen by both
passes: letters so large are."""
GAP = 1.5
"""Heights between the end of a line and a blob that goes on with it."""
LOWER = 0.6
"""Share of a trace's height up to which a line that lies in it was found by itself."""
LONGEST = 2560
"""Pixels a side of what the network sees: bounds the time of one picture."""
PIECE, OVERLAP = 1_050_000, 64
"""Pixels that the network sees at once at most, and what it sees round them: bounds the memory, which is kept for the
next piece. A picture of 1920 x 1080 is two. On the tuning sets as many items are covered as in one piece. With half the
overlap more specks at the seams are taken for text."""
_UNIT = 32
_MEAN, _SPREAD = (0.485, 0.456, 0.406), (0.229, 0.224, 0.225)


def lines(
    pixels: Pixels, parts: Sequence[Area] | None = None, ruled: Pixels | None = None
) -> tuple[Line, ...]:
    """Return what looks like text, unpadded.

    Args:
        pixels: row, column, and blue, green, red; without rules.
        parts: what of the picture to look at; all of it if not given.
        ruled: the same with its rules, if it has any. What is high is looked at there as well: a dark name on a
            recording is seen better where the paper has kept its grid, a bright one where it has not.
    """
    height, width = pixels.shape[:2]
    areas = [(0, 0, width, height)] if parts is None else parts
    scale = min(1.0, LONGEST / max(width, height))
    if scale == 1.0:
        return tuple(_united(pixels, areas, ruled))
    shrunk = cast("list[Area]", [tuple(round(side * scale) for side in area) for area in areas])
    small_ruled = None if ruled is None else _smaller(ruled, scale)
    return tuple(line.larger(1 / scale) for line in _united(_smaller(pixels, scale), shrunk, small_ruled))


def _smaller(pixels: Pixels, scale: float) -> Pixels:
    import cv2
    import numpy as np

    small = cv2.resize(pixels, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA)
    return np.asarray(small, np.uint8)


def _united(pixels: Pixels, areas: Sequence[Area], ruled: Pixels | None) -> list[Line]:
    # A curve is known by the way it runs through the whole picture: in a part, a piece of one is a line.
    traces = without_curves(pixels)
    short = min(pixels.shape[:2])
    found = []
    for left, top, right, bottom in areas:
        part = pixels[top:bottom, left:right]
        if part.size:
            clear = part if traces is None else traces[0][top:bottom, left:right]
            high = [clear] if ruled is None else [clear, ruled[top:bottom, left:right]]
            found += [line.moved(left, top) for line in _both(clear, part, high, short)]
    return (
        found if traces is None else [line for line in found if not _is_curve(line, traces[1], pixels, found)]
    )


def _both(clear: Pixels, pixels: Pixels, high: Sequence[Pixels], short: int) -> list[Line]:
    """Return what either pass sees and is likely to be text.

    Args:
        clear: what the first sees, clear of curves.
        pixels: what the second sees.
        high: where what is high is looked at again.
        short: the short side of the whole picture.
    """
    other = _other_pass(pixels)
    first, second = seen_where(clear, other.likelihood).lines(), other.lines()
    both = [*first, *second]
    first += [line for each in high for line in _under_curves(both, each, short)]
    return [
        *_likely(first, second, short),
        *_likely(second, first, short),
        *(line for line in (*first, *second) if is_huge(line, short) and line.height <= HUGE * short),
    ]


def _under_curves(high: Sequence[Line], pixels: Pixels, short: int) -> list[Line]:
    """Return the lines in what is too high to be one: a name on a recording, which the network sees as one with it."""
    lines = []
    for left, top, right, bottom in apart(_within(line, pixels) for line in high if is_huge(line, short)):
        part = pixels[top:bottom, left:right]
        traces = without_bold_curves(part)
        if traces:
            found = seen_where(traces[0]).lines()
            here = (line for line in found if not _is_curve(line, traces[1], part, ()))
            lines += [line.moved(left, top) for line in here]
    return lines


def _within(line: Line, pixels: Pixels) -> Area:
    left, top, right, bottom = line.hull
    return (
        max(0, floor(left)),
        max(0, floor(top)),
        min(pixels.shape[1], ceil(right)),
        min(pixels.shape[0], ceil(bottom)),
    )


@dataclass(frozen=True)
class Seen:
    """What a pass makes of a picture.

    Attributes:
        likelihood: of each place to belong to text.
        across, down: pixels of the picture that one place stands for.
    """

    likelihood: Map
    across: float
    down: float

    def lines(self) -> list[Line]:
        """The turned rectangle of each marked region, in pixels of the picture."""
        return _traced(self.likelihood, self.across, self.down)


def _is_curve(line: Line, curve: Pixels, pixels: Pixels, others: Sequence[Line]) -> bool:
    """Whether a line is a piece of a trace and nothing else than it and lower lines; a low one is covered whatever it is."""
    import numpy as np

    if line.height < TRACE_HEIGHT:
        return False
    height, width = pixels.shape[:2]
    known = np.zeros((height, width), bool)
    for left, top, right, bottom in (
        each.hull for each in others if each.upright and each.height < LOWER * line.height
    ):
        known[max(0, round(top)) : round(bottom), max(0, round(left)) : round(right)] = True
    for left, top, right, bottom in line.rectangles():
        ends = max(0, round(left)), max(0, round(top)), min(width, round(right)), min(height, round(bottom))
        if not only_curve(curve, pixels, *ends, known):
            return False
    return True


def is_huge(line: Line, short: int) -> bool:
    """Whether a line is so high that it is seldom writing: it has to be read."""
    return line.height > max(HEIGHT_MOST * short, HEIGHT_SMALL)


def _likely(own: list[Line], others: list[Line], short: int) -> list[Line]:
    """Leave out what is more often texture than writing; `others` are the lines of the other pass."""
    sized = [line for line in own if line.height >= HEIGHT_LEAST and not is_huge(line, short)]
    good = [line for line in sized if _alone(line, short) or any(_met(line, each) for each in others)]
    return [line for line in sized if line in good or any(line.continues(each, GAP) for each in good)]


def _alone(line: Line, short: int) -> bool:
    """Whether the look of a line is enough, without a line of the other pass to match it."""
    if line.height < STUBBY_HEIGHT:
        return True
    if line.height <= TALL * short:
        return line.length > STUBBY * line.height
    return line.height <= HEIGHT_MOST * short and line.length > LONG * line.height


def _met(one: Line, other: Line) -> bool:
    """Whether the other pass saw the same; a stubby blob must be sure in both."""
    stubby = min(one.length / one.height, other.length / other.height) <= STUBBY
    least, reach = (STUBBY_LEAST, 0.25) if stubby else (0.5, 0.45)
    near = reach * (one.length + other.length)
    close = abs(one.x - other.x) < near and abs(one.y - other.y) < near
    return close and min(one.score, other.score) >= least and 0.6 < one.height / other.height < 1.7


def seen(pixels: Pixels) -> Seen:
    """Return what one pass makes of a picture, piece by piece: the network takes 110 bytes for each pixel it sees."""
    fitted = fit(pixels)
    return _seen(pixels, fitted, [(0, 0, fitted.shape[1], fitted.shape[0])])


def seen_where(pixels: Pixels, smaller: Map | None = None) -> Seen:
    """Return the same, where there may be writing; nothing is likely elsewhere.

    Args:
        pixels: row, column, and blue, green, red.
        smaller: how likely each place is text, seen at a smaller size, if it was.
    """
    fitted = fit(pixels)
    return _seen(pixels, fitted, _where.areas(fitted, smaller))


def _seen(pixels: Pixels, fitted: Pixels, areas: Sequence[Area]) -> Seen:
    import numpy as np

    high, wide = fitted.shape[:2]
    likelihood = np.zeros((high, wide), np.float32)
    for area in areas:
        pieces = list(_pieces(area))
        around = OVERLAP if len(pieces) > 1 else _where.CELL
        for place in pieces:
            likelihood[place] = _piece(fitted, *place, around)
    return Seen(likelihood, pixels.shape[1] / wide, pixels.shape[0] / high)


def _pieces(area: Area) -> Iterator[tuple[slice, slice]]:
    left, top, right, bottom = area
    down, across = bottom - top, right - left
    while down * across > PIECE:
        down, across = (_half(down), across) if down > across else (down, _half(across))
    for y in range(top, bottom, down):
        for x in range(left, right, across):
            yield slice(y, min(y + down, bottom)), slice(x, min(x + across, right))


def _half(side: int) -> int:
    return ceil(side / 2 / _UNIT) * _UNIT


def _piece(fitted: Pixels, rows: slice, columns: slice, around: int) -> Map:
    """Return the likelihood in a piece, which is looked at with what lies round it."""
    top, left = max(0, rows.start - around), max(0, columns.start - around)
    shown = even(fitted[top : rows.stop + around, left : columns.stop + around])
    likelihood: Map = run("text_det.onnx", shown)[0][0, 0]
    return likelihood[rows.start - top : rows.stop - top, columns.start - left : columns.stop - left]


def _other_pass(pixels: Pixels) -> Seen:
    import cv2
    import numpy as np

    height, width = pixels.shape[:2]
    # Shrunk before it is turned: it is the same picture for a third of the copying.
    size = [max(_UNIT, round(side * SECOND_SCALE / _UNIT) * _UNIT) for side in (width, height)]
    small = cv2.resize(pixels, size, interpolation=cv2.INTER_AREA)
    turned = seen(np.ascontiguousarray(255 - np.asarray(small, np.uint8)[::-1, ::-1])).likelihood
    return Seen(np.ascontiguousarray(turned[::-1, ::-1]), width / size[0], height / size[1])


def fit(pixels: Pixels) -> Pixels:
    """Resize to multiples of 32, as the network asks."""
    import cv2
    import numpy as np

    size = [max(_UNIT, round(side / _UNIT) * _UNIT) for side in (pixels.shape[1], pixels.shape[0])]
    return np.asarray(cv2.resize(pixels, size, interpolation=cv2.INTER_LINEAR), np.uint8)


def even(fitted: Pixels) -> Map:
    """Even out the colours as in the network's training."""
    import numpy as np

    batch = np.empty((1, 3, *fitted.shape[:2]), np.float32)
    for channel, (mean, spread) in enumerate(zip(_MEAN, _SPREAD, strict=True)):
        np.multiply(fitted[..., channel], np.float32(1 / (255 * spread)), out=batch[0, channel])
        batch[0, channel] -= np.float32(mean / spread)
    return batch


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
        if score < LINE_LEAST or min(length, height) < 1:
            continue
        bands = [
            (left + each.x, top + each.y, each.length, each.height, each.angle)
            for each in _bent.pieces(inside > 0, length * height)
        ]
        for band in bands or [(x, y, length, height, angle)]:
            found.append(_widened(*band, score, across, down))
    return found


def _widened(
    x: float, y: float, length: float, height: float, angle: float, score: float, across: float, down: float
) -> Line:
    """Return the line that a marked band is the core of, in pixels of the picture."""
    grow = length * height * UNCLIP / (length + height)
    return _line(x * across, y * down, (length + grow) * across, (height + grow) * down, angle, score)


def _line(x: float, y: float, length: float, height: float, angle: float, score: float) -> Line:
    if length < height:
        length, height, angle = height, length, angle + 90
    return Line(x, y, length, height, (angle + 90) % 180 - 90, score)
