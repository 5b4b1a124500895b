"""Thin curves that run through a picture, painted out: a heart's trace, the line of a chart, a seam.

The network takes a trace for one high line of text and loses the name that is written over it. Without
the trace, the same network sees what is left.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    import numpy as np
    from numpy.typing import NDArray

    Pixels = NDArray[np.uint8]
    Mask = NDArray[np.bool_]
    Steps = NDArray[np.number]
    """From the ground, in each colour."""

STANDS_OUT = 36
"""Levels from the ground, of 255, from which a pixel belongs to what is drawn."""
DRAWN_MOST = 0.3
"""Share of a picture that may be drawn on; with more it is texture."""
EVEN, EVEN_LEAST = 24, 0.7
"""Levels from the picture's own median, and the share of it within them, of a screen or a sheet."""
CELL, CELLS = 8, 5
"""The ground is the median of so many cells each way, each so many pixels: far more than a stroke is wide."""
WIDE, PIECE = 0.2, 0.03
"""Share of the picture's width that a curve runs through without a gap, and that a piece of one does."""
CROSSED = 1.25
"""Times that a curve crosses a column, at the mean, at most: words of any script cross more often."""
DENSE, ALONE = 0.6, 0.5
"""Share of the columns beside each other that letters cross more than once, and least share of a stroke without any."""
RECORDED = 0.4
"""Share of what is drawn boldly that is curve, from which it is a recording."""
BOLD = 99
"""Of a hundred pixels on ruled paper, those that stand out less than what is drawn boldest."""
THICK = 9
"""Pixels both ways; what holds a square so large is an area, not a curve."""
ALIKE = 0.97
"""Least cosine between a pixel's colour and the curve's, both as steps from the ground."""
LETTERS, LETTERS_MOST = 3, 0.02
"""Crossings in one column from which it is not a curve's, and the share of columns that may have as many."""
OTHER_MOST = 0.02
"""Share of what is drawn in a rectangle that may be other than its curve."""
TRACE_HEIGHT = 16.0
"""Pixels; a lower line is covered whatever runs through it."""
THROUGH = 0.75
"""Share of a rectangle's columns that its curve is met in, at the least: a trace may end inside it."""
EDGE, HALO = 2, 8
"""Pixels of a curve's soft edge, and of the ripples round it that a JPEG file has: the network sees both."""
FRAME = 0.15
"""Share of its height at both ends of a line that is left out: the frame of a screen may begin there."""
RIPPLED, RIPPLE = 4, 0.25
"""Times as high as a halo from which a rectangle may hold ripples, for a faint line of text on a curve is lower; and the
share of the curve's own step from the ground that a ripple has at most."""


def without_curves(pixels: Pixels) -> tuple[Pixels, Pixels] | None:
    """Return a picture without the curves that run through it, and where they ran; None if there are none.

    Letters of a curve's own colour that touch it may go with it: the other pass sees the whole picture.

    Args:
        pixels: row, column, and blue, green, red.
    """
    if not _even(pixels[::4, ::4]):
        return None
    ground = _ground(pixels, CELL)
    far = _far(pixels, ground)
    return _painted_out(pixels, ground, far, far > STANDS_OUT)


def without_bold_curves(pixels: Pixels) -> tuple[Pixels, Pixels] | None:
    """Return the same of a part of any picture: of paper that is ruled or lies in a shadow, of a screen in a room.

    What is ruled stands out as well; only what stands out half as far as the boldest is taken for drawn.
    """
    import numpy as np

    ground = _ground(pixels, CELL)
    far = _far(pixels, ground)
    boldest = int(np.bincount(far.ravel(), minlength=256).cumsum().searchsorted(BOLD / 100 * far.size))
    return _painted_out(pixels, ground, far, far > max(STANDS_OUT, boldest // 2), RECORDED, EDGE)


def _painted_out(
    pixels: Pixels, ground: Pixels, far: Pixels, drawn: Mask, least: float = 0.0, edge: int = 0
) -> tuple[Pixels, Pixels] | None:
    import cv2
    import numpy as np

    if not 0 < drawn.mean() < DRAWN_MOST:
        return None
    curve = _curves(drawn, np.asarray(cv2.subtract(pixels, ground, dtype=cv2.CV_16S)))
    if curve.sum() <= least * drawn.sum():
        return None
    other = (far > STANDS_OUT) & ~_wider(curve, edge)
    stays = cv2.morphologyEx(other.view(np.uint8), cv2.MORPH_OPEN, np.ones((2, 2), np.uint8)) > 0
    fill = _between(pixels, _wider(drawn, HALO))
    clear = cv2.copyTo(fill, (_wider(curve, HALO) & ~stays).view(np.uint8), pixels.copy())
    return np.asarray(clear, np.uint8), np.asarray(curve, np.uint8)


def _even(pixels: Pixels) -> bool:
    """Whether most of a picture has nearly one colour, as a screen or a sheet has."""
    import numpy as np

    median = np.median(pixels.reshape(-1, 3), axis=0).astype(np.uint8)
    return float((_far(pixels, np.broadcast_to(median, pixels.shape)) < EVEN).mean()) > EVEN_LEAST


def _ground(pixels: Pixels, cell: int) -> Pixels:
    """Return what lies under the strokes, nearly: the median round each place."""
    import cv2
    import numpy as np

    height, width = pixels.shape[:2]
    size = max(1, width // cell), max(1, height // cell)
    coarse = cv2.medianBlur(cv2.resize(pixels, size, interpolation=cv2.INTER_AREA), CELLS)
    return np.asarray(cv2.resize(coarse, (width, height), interpolation=cv2.INTER_LINEAR), np.uint8)


def _between(pixels: Pixels, drawn: Mask) -> Pixels:
    """Return the mean of what is not drawn round each place, in steps of cells."""
    import cv2
    import numpy as np

    height, width = pixels.shape[:2]
    size = max(1, width // CELL), max(1, height // CELL)
    bare = (~drawn).view(np.uint8)
    shown = cv2.copyTo(np.ascontiguousarray(pixels), bare)
    coarse = cv2.resize(shown, size, interpolation=cv2.INTER_AREA).astype(np.float32)
    share = cv2.resize(bare * np.uint8(255), size, interpolation=cv2.INTER_AREA).astype(np.float32) / 255
    reach = (2 * CELLS + 1, 2 * CELLS + 1)
    mean = cv2.blur(coarse, reach) / np.maximum(cv2.blur(share, reach), 1e-3)[..., None]
    return np.asarray(cv2.resize(np.minimum(mean, 255), (width, height)), np.uint8)


def _far(pixels: Pixels, ground: Pixels) -> Pixels:
    """How far each place stands out from the ground, in any colour."""
    import cv2
    import numpy as np

    apart = cv2.absdiff(np.ascontiguousarray(pixels), ground)
    return np.asarray(np.maximum(np.maximum(apart[..., 0], apart[..., 1]), apart[..., 2]))


def _curves(drawn: Mask, step: Steps) -> Mask:
    """Return what runs through the picture, and its pieces beside large letters: of its colour, in its rows."""
    import numpy as np

    curve = np.zeros(drawn.shape, bool)
    whole: list[tuple[slice, Steps]] = []
    for place, part in sorted(_thin(drawn), key=lambda one: one[0][1].start - one[0][1].stop):
        wide = part.shape[1] >= WIDE * drawn.shape[1]
        colours = [np.median(step[place][part], axis=0)] if wide else _of_rows(place[0], whole)
        for colour in colours:
            alike = _alone(_alike(step[place], part, colour), round(PIECE * drawn.shape[1]) | 1)
            if alike.any():
                curve[place] |= alike
                whole += [(place[0], colour)] if wide else []
    return curve


def _alone(stroke: Mask, reach: int) -> Mask:
    """Return what of a stroke is a curve: most of it, without the letters that hang on it.

    Args:
        stroke: what is drawn in one colour and holds together.
        reach: columns that a letter takes.
    """
    import cv2
    import numpy as np

    crossed = _crossings(stroke)
    often = crossed > 1
    dense = (cv2.blur(often.astype(np.float32)[None], (reach, 1)) > DENSE).view(np.uint8)
    count, runs = cv2.connectedComponents(cv2.dilate(dense, np.ones((1, reach), np.uint8)))
    rest = crossed[runs[0] == 0]
    if rest.size <= ALONE * crossed.size or rest.mean() > CROSSED:
        return np.zeros_like(stroke)
    curve = stroke.copy()
    for run in range(1, count):
        rows = np.nonzero(stroke & often & (runs == run))[0]
        top, bottom = np.percentile(rows, (5, 95)).astype(int)
        curve[top : bottom + 1, runs[0] == run] = False
    return curve


def _thin(drawn: Mask) -> Iterator[tuple[tuple[slice, slice], Mask]]:
    """Yield the place of each long stroke and what of the place belongs to it."""
    import cv2
    import numpy as np

    # A device's strip along an edge runs through the picture too, and holds a name: a curve is thin.
    areas = cv2.morphologyEx(drawn.view(np.uint8), cv2.MORPH_OPEN, np.ones((THICK, THICK), np.uint8)) > 0
    thin = drawn & ~_wider(areas, EDGE)
    _, parts, sizes, _ = cv2.connectedComponentsWithStats(thin.view(np.uint8), connectivity=8)
    for part in np.flatnonzero(sizes[:, cv2.CC_STAT_WIDTH] >= PIECE * drawn.shape[1]).tolist():
        left, top, across, down, _ = sizes[part].tolist()
        if part > 0:
            place = (slice(top, top + down), slice(left, left + across))
            yield place, parts[place] == part


def _of_rows(rows: slice, whole: Sequence[tuple[slice, Steps]]) -> list[Steps]:
    """Return the colours of the curves in whose rows a piece lies, or nearly."""
    return [
        colour
        for of, colour in whole
        if of.start - (of.stop - of.start) / 8 <= rows.start
        and rows.stop <= of.stop + (of.stop - of.start) / 8
    ]


def _alike(step: Steps, part: Mask, colour: Steps) -> Mask:
    """Return what of a part has a colour: letters of another one that touch a curve are not it."""
    import numpy as np

    own = step[part].astype(np.float32)
    likeness = (own @ colour) / (np.linalg.norm(own, axis=1) * np.linalg.norm(colour) + 1e-6)
    alike = np.zeros(part.shape, bool)
    alike[part] = likeness > ALIKE
    return alike


def _crossings(curve: Mask) -> NDArray[np.int64]:
    """How often a curve is met on the way down each column."""
    import cv2
    import numpy as np

    whole = cv2.morphologyEx(curve.view(np.uint8), cv2.MORPH_CLOSE, np.ones((3, 1), np.uint8))
    return np.asarray(np.count_nonzero(whole[1:] > whole[:-1], axis=0) + whole[0])


def only_curve(
    curve: Pixels, pixels: Pixels, left: int, top: int, right: int, bottom: int, known: Mask | None = None
) -> bool:
    """Whether a rectangle holds a curve that runs through most of it and nothing else that is drawn.

    Letters, even of its own colour and joined to it, make three crossings of a column and more. Then the
    rectangle is taken for text.

    Args:
        curve: where it runs.
        pixels: row, column, and blue, green, red.
        left: of the rectangle.
        top: of it.
        right: of it.
        bottom: of it.
        known: what was found besides; it does not count as drawn.
    """
    import numpy as np

    inside = curve[top:bottom, left:right] > 0
    if not inside.size or inside.any(0).mean() < THROUGH:
        return False
    band = pixels[top:bottom, left:right]
    ground = np.median(band.reshape(-1, 3), axis=0)
    far = np.abs(band.astype(np.int16) - ground.astype(np.int16)).max(2)
    drawn = far > STANDS_OUT // 2
    other = drawn & ~_wider(inside, EDGE)
    if known is not None:
        other &= ~known[top:bottom, left:right]
    if bottom - top >= RIPPLED * HALO:
        other &= ~_wider(inside, HALO) | (far > RIPPLE * float(np.median(far[inside])))
    if other.sum() > OTHER_MOST * max(1, drawn.sum()):
        return False
    return bool((_crossings(inside) >= LETTERS).mean() < LETTERS_MOST)


def recording(laid: Pixels) -> bool:
    """Whether all that is drawn in a line laid level is a curve: the trace on a screen or a paper that lies askew."""
    traces, end = without_bold_curves(laid), round(FRAME * laid.shape[0])
    return traces is not None and only_curve(traces[1], laid, end, 0, laid.shape[1] - end, laid.shape[0])


def _wider(mask: Mask, by: int) -> Mask:
    """The mask with what lies so many pixels round it."""
    import cv2
    import numpy as np

    side = 2 * by + 1
    return np.asarray(cv2.dilate(mask.view(np.uint8), np.ones((side, side), np.uint8)) > 0)
