"""One look for every drawing: sizes in points at slide size, colours, the face.

Colours: Okabe M, Ito K, Color Universal Design, 2008. On white only its black and blue reach the
4.5:1 that text needs (WCAG 2.1, 1.4.3), so text is black or blue and the rest are fills or lines
with a shape, dash or word beside them.
"""

from __future__ import annotations

from collections.abc import Iterator
from enum import StrEnum
from functools import lru_cache

from mmbuilder import fonts
from mmbuilder.safe.text import EMPTY, SafeText, again, phrase

TEXT = 14.0
"""No text is smaller; points on a slide 33.87 cm wide."""

FLAG = 16.0
"""The marks, in bold."""

BIG = 22.0
"""The intervals: the largest on the page, in bold."""

LINE = 15.0
"""Height of one line of 14-point text, with its leading."""

FAMILIES = (fonts.FAMILY, fonts.FALLBACK, fonts.WIDE, "Arial")
"""What an SVG asks for, in this order."""


class Ink(StrEnum):
    """Every colour there is."""

    BLACK = "#000000"
    BLUE = "#0072B2"
    VERMILLION = "#D55E00"
    WHITE = "#FFFFFF"
    GREY = "#595959"
    """Quiet text and light marks; 7.0:1 on white."""
    RULE = "#C4C4C4"
    """Hairlines that carry nothing."""
    HATCH = "#8A8A8A"
    PALE = "#D6E8F5"
    """Phase fill, light blue..."""
    STONE = "#F2EBDD"
    """...and its neighbour, lighter still in grey."""
    TAPE = "#BFD9C9"
    """The recorder is on."""
    BAND = "#E4EEF6"
    """Where an uncertain mark may lie."""
    NIGHT = "#ECECEC"
    """Night; a note says its hours."""


TEXT_INKS = frozenset({Ink.BLACK, Ink.BLUE, Ink.GREY})
"""What text may be set in."""


def width(text: SafeText, size: float = TEXT, *, bold: bool = False) -> float:
    """Advance width in points."""
    return fonts.width(text.reveal(), size, bold=bold)


def pieces(text: SafeText, limit: float, size: float = TEXT, *, bold: bool = False) -> Iterator[SafeText]:
    """What lines are made of: words, and a figure with its unit in one unless no line holds both."""
    for piece in text.pieces():
        yield from (piece,) if width(piece, size, bold=bold) <= limit else piece.split()


@lru_cache(maxsize=1024)  # a layout asks for the same lines again and again while it looks for the best
def wrap(text: SafeText, limit: float, size: float = TEXT) -> tuple[SafeText, ...]:
    """Break into lines no wider than `limit` points; a word that is wider stands alone."""
    lines: list[SafeText] = []
    line = EMPTY
    for word in pieces(text, limit, size):
        longer = again((line, word))
        if line and width(longer, size) > limit:
            lines.append(line)
            line = word
        else:
            line = longer
    return (*lines, line) if line else tuple(lines)


def fit(text: SafeText, limit: float, size: float = TEXT) -> SafeText:
    """Keep as many first words as `limit` points hold; empty if not even one."""
    for count in range(text.words(), 0, -1):
        shorter = phrase(text, count)
        if width(shorter, size) <= limit:
            return shorter
    return EMPTY


def halves(text: SafeText, size: float = TEXT) -> tuple[SafeText, SafeText]:
    """Break into two lines of the least width."""
    words = text.pieces() if len(text.pieces()) > 1 else text.split()
    pairs = ((again(words[:place]), again(words[place:])) for place in range(1, len(words)))
    return min(pairs, key=lambda pair: max(width(line, size) for line in pair))
