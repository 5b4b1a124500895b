"""What a finder for pictures sees on a page and the page's own text explains.

Text of a page looks like text in a picture. Where what is drawn reads as what the file says, the text has
been judged by its words already, and covering it would only destroy the page. A font that claims to be
other letters does not agree, and a scan without text explains nothing: both are left to the finder.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from mmbuilder.scrub.containers._pdf.reading import Area, Letters
from mmbuilder.scrub.plan import PixelBox

if TYPE_CHECKING:
    from PIL.Image import Image

ALIKE = 80.0
"""Least likeness, of 100, of what is read and what the file says; the reader confuses l, 1 and I."""
INK = 60
"""Levels from the ground, of 255, from which a pixel is ink."""
OTHER_MOST = 0.08
"""Share of the ink in a box that may lie outside the lines of text."""
NEAR = 3
"""Pixels round a line that belong to it."""


@dataclass(frozen=True)
class Line:
    """Characters of the page that stand side by side."""

    area: Area
    words: str = field(repr=False)


class Agreeing:
    """Says which boxes hold only text that reads as the file says; each line is read once.

    Args:
        image: the page as drawn.
        letters: its text with the place of every character.
    """

    def __init__(self, image: Image, letters: Letters) -> None:
        from mmbuilder.scrub.images.finders._pixels import bgr

        self._pixels = bgr(image)
        self._lines = _lines(letters)
        self._read: dict[Area, bool] = {}

    def explains(self, box: PixelBox) -> bool:
        """Whether all that is drawn in a box is lines of text that agree."""
        inside = [line for line in self._lines if _mostly_in(line.area, box)]
        return bool(inside) and all(map(self._agrees, inside)) and self._nothing_else(box)

    def _agrees(self, line: Line) -> bool:
        if line.area not in self._read:
            self._read[line.area] = self._reads_as(line)
        return self._read[line.area]

    def _reads_as(self, line: Line) -> bool:
        from rapidfuzz.fuzz import ratio

        from mmbuilder.scrub.images.finders._read import read

        said = _plain(line.words)
        left, top, right, bottom = (max(0, side) for side in line.area)
        strip = self._pixels[top:bottom, left:right]
        return bool(said) and strip.size > 0 and ratio(_plain(read(strip, unsure=True)), said) >= ALIKE

    def _nothing_else(self, box: PixelBox) -> bool:
        """Whether the ink of a box lies in lines that agree, those that only reach into it included."""
        import numpy as np

        left, top = max(0, box.left), max(0, box.top)
        part = self._pixels[top : box.bottom, left : box.right].astype(np.int16)
        ground = np.median(self._pixels[::8, ::8].reshape(-1, 3), axis=0)
        ink = np.abs(part - ground).max(2) > INK
        whole = ink.sum()
        for line in self._lines:
            if _touches(line.area, box) and self._agrees(line):
                x0, y0, x1, y1 = line.area
                ink[
                    max(0, y0 - NEAR - top) : max(0, y1 + NEAR - top),
                    max(0, x0 - NEAR - left) : max(0, x1 + NEAR - left),
                ] = False
        return bool(ink.sum() <= OTHER_MOST * max(1, whole))


def _lines(letters: Letters) -> list[Line]:
    """The text cut at line ends, and wherever the next character stands off the line."""
    made: list[Line] = []
    words, area = "", None
    for letter, place in zip(letters.text, letters.areas, strict=True):
        if letter in "\r\n" or (place and area and not _goes_on(area, place)):
            made += [Line(area, words)] if area and words.strip() else []
            words, area = "", None
        if letter not in "\r\n":
            words += letter
            if place and letter.strip():
                area = _joined(area, place) if area else place
    return made + ([Line(area, words)] if area and words.strip() else [])


def _goes_on(area: Area, place: Area) -> bool:
    high = max(1, place[3] - place[1])
    level = min(area[3], place[3]) - max(area[1], place[1]) > high / 2
    return level and -high < place[0] - area[2] < 3 * high


def _joined(one: Area, other: Area) -> Area:
    return min(one[0], other[0]), min(one[1], other[1]), max(one[2], other[2]), max(one[3], other[3])


def _touches(area: Area, box: PixelBox) -> bool:
    return area[0] < box.right and box.left < area[2] and area[1] < box.bottom and box.top < area[3]


def _mostly_in(area: Area, box: PixelBox) -> bool:
    """Whether the middle of a line's height, and a piece of its length, lie in a box."""
    middle = (area[1] + area[3]) / 2
    return box.top <= middle <= box.bottom and _touches(area, box)


def _plain(words: str) -> str:
    return "".join(sign for sign in words.casefold() if sign.isalnum())
