"""A closer look at lines that may be texture: specks, spots, a row of stitches, the waves of a trace, layers.

Writing is seen again when it is laid level and brought to another size; a speck of texture is not, nor what is tall
and speckled, whatever its score. A few filled shapes and a ruler are no writing (`_solid.py`), nor is the trace of a
recording that lies askew, by itself (`_traces.recording`). And in
large writing some letters can be made out, in any script and whichever way it is held, and seldom the same
ones all along: a row of stitches or waves reads `TTTTITTTT`.

On the tuning halves of the sets no item was lost by it, and of 352 lines on clean pictures half went, with
nine tenths of the area.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from math import ceil
from typing import TYPE_CHECKING

from mmbuilder.scrub.images.finders import _detect, _spoken, _traces
from mmbuilder.scrub.images.finders._read import CERTAIN, LIKELY
from mmbuilder.scrub.images.finders._solid import no_writing, one_shape

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mmbuilder.scrub.images.finders._turned import Line

    Pixels = NDArray[np.uint8]

SURE = 0.8
"""Least score of a line that needs no closer look for being weak, if it is not tall: specks have less."""
LOOKS = (20, False), (20, True)
"""Pixels that a line is made high, and whether it is also turned by half a turn and inverted. Looks at 48 pixels
besides took six times as long and saved nothing on the tuning sets."""
CORE = 0.5
"""Share of a line's height, in its middle, in which writing is marked."""
WIDEST = 1600
SEEN = 0.1
"""Least mean likelihood in the core of a line that is seen again."""
TALL = 0.045
"""Share of the picture's short side from which a line is tall: letters so high can be made out."""
ROW, ALIKE = 8, 0.7
"""Marks from which a tall line may be a row of one shape, and the share of them that the two commonest make up."""
LONG_ROW, ALL_ALIKE = 16, 0.95
"""Marks from which a tall line is a row if nearly all of them are alike in two ways of holding it: a word that can be
made out in a third is chance, for one that is there breaks the row in every way."""
SHORT_ROW, KINDS = 4, 2
"""Marks from which a tall line that is read so in more ways than one may be a short row, and the kinds of them."""
NEAR, OTHERS = 6, 4
"""Of so many marks side by side, the different ones from which there is a word among them."""
RECORDED = 3
"""Heights that a line must be long to be a recording: a letter, or a short word of a joined script, is one thin stroke as
well."""
GAP = 1.5
"""Heights between the end of a line that stays and a weak one that goes on with it."""

_STROKE = re.compile(r"[il1|!/\\]")
_SPACE = re.compile(r"\s")


def without_texture(found: Sequence[Line], pixels: Pixels, *, covered: bool = False) -> list[Line]:
    """Return the lines without those that a closer look takes for texture.

    Args:
        found: as they were found, unpadded.
        pixels: the whole picture: row, column, and blue, green, red.
        covered: whether it has been looked at and covered before. What is tall was seen then, whole; where a cover
            now cuts waves or shafts, they look like a row of letters, and only what can be read is one.
    """
    lines = _those(found, lambda line: _may_be_written(line, pixels, covered))
    stay = _those(lines, lambda line: _surely_written(line, pixels))
    return [line for line in lines if line in stay or any(line.continues(each, GAP) for each in stay)]


def _those(found: Sequence[Line], like: Callable[[Line], bool]) -> list[Line]:
    """Return the lines that are so; what both passes see is asked once."""
    those: list[Line] = []
    for line in found:
        if any(map(line.same, those)) or like(line):
            those.append(line)
    return those


def _surely_written(line: Line, pixels: Pixels) -> bool:
    """Whether a line has the score of writing, if it is low, or is seen again; and is more than a few filled shapes or a ruler."""
    if no_writing(line, pixels) or _recorded(line, pixels):
        return False
    low = line.height < TALL * min(pixels.shape[:2])
    return (low and line.score >= SURE) or any(_looks(line, pixels))


def _recorded(line: Line, pixels: Pixels) -> bool:
    """Whether a line is the trace of a recording and nothing else; a low one is covered whatever it is."""
    high = line.height >= _traces.TRACE_HEIGHT and line.length >= RECORDED * line.height
    return high and _traces.recording(_spoken.laid(line, pixels))


def _may_be_written(line: Line, pixels: Pixels, covered: bool) -> bool:
    short = min(pixels.shape[:2])
    tall = line.height >= TALL * short
    if _detect.is_huge(line, short):  # a name across a picture: what lies under it spoils a letter
        return any(map(_spells, _spoken.four_ways(line, pixels, LIKELY)))
    if tall and covered:
        return any(map(_spells, _spoken.four_ways(line, pixels, CERTAIN)))
    # A dash may go on with a line; teeth do not, though specks beside them are taken for one.
    return not one_shape(line, pixels) and (not tall or not _shapes_alone(line, pixels))


def _looks(line: Line, pixels: Pixels) -> Iterator[bool]:
    """Yield whether a line is seen again, for each closer look."""
    for height, turned in LOOKS:
        yield _again(line, pixels, height, turned) >= SEEN


def _again(line: Line, pixels: Pixels, height: int, turned: bool) -> float:
    """Return how much of a line's core is likely to be text when it is laid level and so many pixels high."""
    import cv2
    import numpy as np

    by = height / line.height
    length = min(line.length * by, WIDEST)
    wide, high = ceil(length / 32 + height / 16) * 32, ceil(3 * height / 32) * 32
    turn = cv2.getRotationMatrix2D((line.x, line.y), line.angle, by)
    turn[:, 2] += np.array((wide / 2 - line.x, high / 2 - line.y))
    laid = cv2.warpAffine(pixels, turn, (wide, high), borderMode=cv2.BORDER_REPLICATE)
    level = np.asarray(laid, np.uint8)
    likelihood = _detect.seen(np.ascontiguousarray(255 - level[::-1, ::-1]) if turned else level).likelihood
    # The core lies in the middle, whichever way it is held.
    half, reach = CORE * height / 2, (length - CORE * height) / 2
    rows = slice(int(high / 2 - half), int(high / 2 + half))
    core = likelihood[rows, int(wide / 2 - reach) : int(wide / 2 + reach)]
    return float(core.mean()) if core.size else 0.0


def _shapes_alone(line: Line, pixels: Pixels) -> bool:
    """Whether a tall line is no writing: nothing can be made out, and seen again it is not, or one shape all along."""
    ways = list[str]()
    for said in _spoken.four_ways(line, pixels):
        ways.append(_marks(said))
        if _has_word(ways[-1]) and not any(map(_long_row, ways)):
            return False
    if any(map(_has_word, ways)):
        return sum(map(_long_row, ways)) > 1
    if not any(map(str.isalnum, "".join(ways))):
        return not all(_looks(line, pixels))
    rows = [marks for marks in ways if len(marks) >= ROW]
    short = [marks for marks in ways if len(marks) >= SHORT_ROW]
    few = len(short) > 1 and all(len(set(marks)) <= KINDS for marks in short)
    return few or (bool(rows) and all(map(_one_shape, rows)))


def _long_row(marks: str) -> bool:
    return len(marks) >= LONG_ROW and _one_shape(marks, ALL_ALIKE)


def _marks(said: str) -> str:
    return _STROKE.sub("i", _SPACE.sub("", said.casefold()))


def _spells(said: str) -> bool:
    marks = _marks(said)
    alike = _one_shape(marks) if len(marks) >= ROW else len(set(marks)) < 2
    return sum(map(str.isalnum, marks)) >= _spoken.FEWEST and not alike


def _one_shape(marks: str, share: float = ALIKE) -> bool:
    return sum(count for _, count in Counter(marks).most_common(2)) >= share * len(marks)


def _has_word(marks: str) -> bool:
    return any(len(set(marks[start : start + NEAR])) >= OTHERS for start in range(len(marks) - NEAR + 1))
