"""What a line of writing says, however it runs: level, leaning or upright, whole or piece by piece."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from mmbuilder.scrub.images.finders._read import UNSURE, read

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mmbuilder.scrub.images.finders._turned import Line

    Pixels = NDArray[np.uint8]

Piece = tuple[int, int]
"""The columns of a strip from the first to past the last."""

LEVEL = 45.0
"""Degrees up to which a line is taken to be the right way up, if it is upright in the picture."""
GAPS = 0.6, 0.25
"""Heights without ink between two pieces that are read apart: the reader is unsure of wide spaces, and leaves
out narrow ones."""
NARROW = 0.4
"""Heights; what is narrower and cannot be read is a dot or a stroke."""
STEP = 30
"""Levels of 255 from pixel to pixel down a column that make ink."""
FEWEST = 3
"""Letters and figures; of fewer no name can be made out."""


def readings(line: Line, pixels: Pixels) -> Iterator[str]:
    """Yield what a line says, in every way in which no part of it is unsure; no way is tried before it is asked for.

    Args:
        line: as it was found, unpadded.
        pixels: the whole picture: row, column, and blue, green, red.
    """
    for strip in _strips(line, pixels):
        yield from filter(None, _ways(strip))


def mute(line: Line, pixels: Pixels) -> bool:
    """Whether not three letters can be made out of a line, whichever way it is held and however unsure."""
    return all(
        sum(map(str.isalnum, read(held, UNSURE))) < FEWEST
        for strip in _strips(line, pixels)
        for held in (strip, _upside_down(strip))
    )


def four_ways(line: Line, pixels: Pixels, least: tuple[float, float] = UNSURE) -> Iterator[str]:
    """Yield what a line says, if it is as likely as that: as it is held, upside down, in a mirror, and both."""
    import numpy as np

    strip = next(_strips(line, pixels), None)
    for held in () if strip is None else (strip, _upside_down(strip), strip[:, ::-1], strip[::-1]):
        yield read(np.ascontiguousarray(held), least)


def _strips(line: Line, pixels: Pixels) -> Iterator[Pixels]:
    """Yield the line laid level, with and without a margin, and upside down where it may be so."""
    level = line.upright and abs(line.angle) < LEVEL
    strips = [_cut(each, pixels) if level else laid(each, pixels) for each in (line, line.padded())]
    strips = [strip for strip in strips if strip.size]
    yield from strips
    if not level:
        yield from map(_upside_down, strips)


def _cut(line: Line, pixels: Pixels) -> Pixels:
    (rectangle,) = line.rectangles()
    left, top, right, bottom = (max(0, round(side)) for side in rectangle)
    return pixels[top:bottom, left:right]


def laid(line: Line, pixels: Pixels) -> Pixels:
    import cv2
    import numpy as np

    width, height = max(1, round(line.length)), max(1, round(line.height))
    turn = cv2.getRotationMatrix2D((line.x, line.y), line.angle, 1.0)
    turn[:, 2] += np.array((width / 2 - line.x, height / 2 - line.y))
    return np.asarray(cv2.warpAffine(pixels, turn, (width, height)), np.uint8)


def _upside_down(strip: Pixels) -> Pixels:
    import numpy as np

    return np.ascontiguousarray(strip[::-1, ::-1])


def _ways(strip: Pixels) -> Iterator[str]:
    """Yield what a strip says as a whole, then piece by piece."""
    yield read(strip)
    known = dict[Piece, str]()
    for gap in GAPS:
        yield _in_pieces(strip, gap, known)


def _in_pieces(strip: Pixels, gap: float, known: dict[Piece, str]) -> str:
    """Return what the pieces say, or nothing as soon as one of them is unsure."""
    said = list[str]()
    for first, last in _pieces(strip, gap):
        piece = strip[:, first:last]
        if (first, last) not in known:  # a narrower gap leaves most pieces as they are
            known[first, last] = read(piece)
        words = known[first, last]
        if words:
            said.append(words)
        elif piece.shape[1] > NARROW * piece.shape[0]:
            return ""
    return " ".join(said)


def _pieces(strip: Pixels, gap: float) -> Iterator[Piece]:
    """Yield what stands between gaps of so many heights."""
    import numpy as np

    high, margin = strip.shape[0], max(2, strip.shape[0] // 8)
    steps = np.abs(np.diff(strip.astype(np.int16), axis=0))
    ink = np.flatnonzero(steps.max((0, 2), initial=0) > STEP)
    breaks = np.flatnonzero(np.diff(ink) > gap * high)
    for first, last in zip([0, *(breaks + 1)], [*breaks, ink.size - 1], strict=True):
        if ink.size:
            yield max(0, int(ink[first]) - margin), int(ink[last]) + 1 + margin
