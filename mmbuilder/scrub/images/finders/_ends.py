"""Where a line of writing goes on past what the network marked: its faint ends, and gaps between its pieces.

The network's likelihood fades at the ends of a line, where writing crosses from one ground to another, and in scripts
it hardly knows. A found line is laid level and made small, and the ink it is written in is followed outwards: what
has its colour, or stands out from the ground as it does, as long as it begins and ends along the line's rows as often
as in the line, and seldom above and below. Texture does so everywhere, writing in its line.
"""

from __future__ import annotations

from dataclasses import replace
from math import ceil, cos, radians, sin
from typing import TYPE_CHECKING

from mmbuilder.scrub.images.finders._turned import Line

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mmbuilder.scrub.images.finders._rows import Row

    Pixels = NDArray[np.uint8]
    Mask = NDArray[np.bool_]

SURE = 0.6
"""Least score of a line that is followed."""
LONG = 1.5
"""Heights a line must be long to be followed."""
HEIGHT = 16
"""Pixels that a line is made high: less would lose strokes, more only takes longer."""
FURTHEST = 6
"""Steps, each as long as the line is high, that ink is followed at each end."""
LOW = 0.03
"""Share of the picture's short side from which a leaning line is too high to be followed: the network sees it nearly
whole, and it may be a row of stitches, the ribs of an instrument or the beats on a screen that hangs askew."""
GAP = 1
"""Steps without ink that a space between words may be."""
INK = 0.85
"""Share of a line that is ground at the least: what stands out further than that is ink."""
FAINT = 8.0
"""Levels of 255 from the ground; fainter ink cannot be told from noise."""
LIKE_LINE, OVER_GROUND = 0.45, 2.0
"""How often ink begins and ends in a step, at the least: as a share of the line's own, and times that of what lies
above or below."""


def followed(row: Row, pixels: Pixels) -> Row:
    """Return an upright row made longer at both ends by the ink that goes on there.

    Args:
        row: as it was found, unpadded.
        pixels: the whole picture: row, column, and blue, green, red.
    """
    if row.leaning:
        return row  # a piece of a line that was followed as a whole
    x, y = (row.left + row.right) / 2, (row.top + row.bottom) / 2
    wide, high = row.right - row.left, row.height
    if high > wide:
        before, after = _reach(Line(x, y, high, wide, 90.0, row.score), pixels)
        return replace(row, top=row.top - before, bottom=row.bottom + after)
    before, after = _reach(Line(x, y, wide, high, 0.0, row.score), pixels)
    return replace(row, left=row.left - before, right=row.right + after)


def followed_aslant(line: Line, pixels: Pixels) -> Line:
    """Return a leaning line made longer so, if it is low; arguments as for `followed`."""
    if line.height >= LOW * min(pixels.shape[:2]):
        return line
    before, after = _reach(line, pixels)
    lean, shift = radians(line.angle), (after - before) / 2
    return replace(
        line, x=line.x + shift * cos(lean), y=line.y + shift * sin(lean), length=line.length + before + after
    )


def _reach(line: Line, pixels: Pixels) -> tuple[float, float]:
    """Return how many pixels a line goes on before its start and past its end."""
    if line.score < SURE or line.length < LONG * line.height:
        return 0.0, 0.0
    own = ceil(line.length * HEIGHT / line.height)
    before, after = _written(_laid(line, pixels, own), own)
    return _steps(before) * line.height, _steps(after) * line.height


def _steps(written: Mask) -> int:
    """Return how many steps there is writing, gaps and all."""
    last = 0
    for number, here in enumerate(written, 1):
        if here:
            last = number
        elif number - last > GAP:
            break
    return last


def _laid(line: Line, pixels: Pixels, own: int) -> Pixels:
    """Return a line laid level in the middle of three, and what lies past its ends."""
    import cv2
    import numpy as np

    wide, high = own + 2 * FURTHEST * HEIGHT, 3 * HEIGHT
    turn = cv2.getRotationMatrix2D((line.x, line.y), line.angle, HEIGHT / line.height)
    turn[:, 2] += np.array((wide / 2 - line.x, high / 2 - line.y))
    return np.asarray(cv2.warpAffine(pixels, turn, (wide, high), borderMode=cv2.BORDER_REPLICATE), np.uint8)


def _written(laid: Pixels, own: int) -> Mask:
    """Return for each end, and step by step, whether there is ink that stands out as the line's, or has its colour."""
    import cv2
    import numpy as np

    line = slice(HEIGHT, 2 * HEIGHT), slice(FURTHEST * HEIGHT, FURTHEST * HEIGHT + own)
    ground = cv2.blur(laid, (HEIGHT + 1, HEIGHT + 1))
    apart = cv2.absdiff(laid, ground)[line]
    far = np.maximum(np.maximum(apart[..., 0], apart[..., 1]), apart[..., 2])
    drawn = far > max(FAINT, float(np.bincount(far.ravel()).cumsum().searchsorted(INK * far.size)))
    nothing = np.zeros((2, FURTHEST), bool)
    if not drawn.any():
        return nothing
    step = cv2.subtract(laid, ground, dtype=cv2.CV_32F)
    out, colour = np.median(step[line][drawn], axis=0), np.median(laid[line][drawn], axis=0)
    strength = float(np.linalg.norm(out))
    if strength < FAINT:
        return nothing
    stands_out = cv2.transform(step, out[None] / strength) > strength / 2
    coloured = cv2.inRange(laid, colour - strength / 4, colour + strength / 4) > 0
    return _as_in_line(stands_out, own) | _as_in_line(coloured, own)


def _as_in_line(ink: Mask, own: int) -> Mask:
    """Return for each end, and step by step, whether ink begins and ends along the rows as often as in the line."""
    import numpy as np

    changes = np.zeros(ink.shape, bool)
    changes[:, 1:] = ink[:, 1:] != ink[:, :-1]
    start = FURTHEST * HEIGHT
    like = float(changes[HEIGHT : 2 * HEIGHT, start : start + own].mean())
    ends = np.stack((changes[:, :start][:, ::-1], changes[:, start + own :]))
    above, here, below = np.moveaxis(ends.reshape(2, 3, HEIGHT, FURTHEST, HEIGHT).mean((2, 4)), 1, 0)
    written: Mask = (here >= LIKE_LINE * like) & (here > 0) & (here >= OVER_GROUND * np.maximum(above, below))
    return written
