"""What of a box on a page the page's own text does not explain.

Text of a page looks like text in a picture. Where what is drawn reads, word for word, as what the file
says, the text has been judged by its words already, and covering it would only destroy the page. A word of
a font that claims to be other letters does not agree, a scan without text explains nothing, and ink between
or over the words is nobody's: all three are covered.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from mmbuilder.scrub.containers._pdf import ink
from mmbuilder.scrub.containers._pdf.reading import Area, Letters
from mmbuilder.scrub.containers._pdf.turns import letters_turned, turned
from mmbuilder.scrub.images.again import covered_share
from mmbuilder.scrub.plan import Layer, PixelBox

if TYPE_CHECKING:
    from PIL.Image import Image

LONGEST = 30
"""Heights of a stretch of words that is read in one go; the reader would squeeze a longer one."""
LEAST = 3
"""Letters of a line."""
NEAR = 2
"""Pixels round a word that belong to it."""
MOSTLY = 0.5
"""Share of a box that is not explained, from which all of it is covered."""
_ONE_SHAPE = str.maketrans("1i|0", "lllo")
"""Shapes that a reader, and a person, cannot tell apart in most fonts."""


@dataclass(frozen=True)
class Word:
    """Characters of the page without a space between them."""

    area: Area
    said: str = field(repr=False)


Line = tuple[Word, ...]
"""Words that stand side by side."""


class Agreeing:
    """Compares what is drawn with what the text says; each line is read once.

    Args:
        image: the page as drawn.
        letters: its text with the place of every character.
        scan: whether its text is not what draws the words, so that something else may lie among their ink.
    """

    def __init__(self, image: Image, letters: Letters, *, scan: bool = False) -> None:
        import numpy as np

        from mmbuilder.scrub.images.finders._pixels import bgr

        size = image.size
        ways = [[*_lines(letters_turned(letters, times, *size))] for times in range(4)]
        # The letters of a line that does not run level stand alone: the right way up has the fewest lines.
        self._turn = min(range(4), key=lambda times: len(ways[times]))
        self._pixels, self._scan = np.ascontiguousarray(np.rot90(bgr(image), self._turn)), scan
        self._lines = [part for line in ways[self._turn] for part in _stretches(line)]
        self._strange = np.zeros(self._pixels.shape[:2], bool)
        self._true: dict[int, frozenset[Word]] = {}

    def lines(self) -> tuple[PixelBox, ...]:
        """Return the place of every line; the letters of one that leans stand alone, and are none."""
        from mmbuilder.scrub.images.finders.text import KIND

        areas = (_around(line) for line in self._lines if sum(len(word.said) for word in line) >= LEAST)
        return tuple(self._back(PixelBox(*area, KIND, Layer.MODEL)) for area in areas)

    def unexplained(self, box: PixelBox) -> tuple[PixelBox, ...]:
        """Return what of a box is to be covered: parts of a line, all of it, or nothing.

        A box without words of the text is all there is of it, if anything in it is large enough to be writing.
        Half a face is no less a face: only a line of text is covered in parts.
        """
        from mmbuilder.scrub.images.finders.text import KIND

        level = _at(box, turned(_area(box), self._turn, *self._size(back=False)))
        parts = tuple(_at(level, area) for area in self._foreign(level))
        if not any(_in(word.area, level) for line in self._lines for word in line):
            return (box,) if parts or box.kind != KIND else ()
        if parts and (box.kind != KIND or covered_share(level, parts) > MOSTLY):
            parts = (level, *parts)
        return tuple(map(self._back, parts))

    def _size(self, *, back: bool) -> tuple[int, int]:
        """Width and height of the page as it was given, or as it is turned."""
        high, wide = self._pixels.shape[:2]
        return (wide, high) if back or self._turn % 2 == 0 else (high, wide)

    def _back(self, box: PixelBox) -> PixelBox:
        return _at(box, turned(_area(box), -self._turn, *self._size(back=True)))

    def _foreign(self, box: PixelBox) -> Iterator[Area]:
        """Each stretch of ink in a box that is no word as the text says it, and each untrue word."""
        import numpy as np

        left, top = max(0, box.left), max(0, box.top)
        here = _within(_area(box), 0, 0)
        drawn = self._drawn(here)
        if not drawn.size:
            return
        places, untrue = np.zeros(drawn.shape, bool), list[Area]()
        for number, line in enumerate(self._lines):
            touched = [word for word in line if _touches(word.area, box)]
            true = [word for word in touched if word in self._truthful(number)]
            untrue += [word.area for word in touched if word not in true]
            for word in true:
                places[_within(word.area, left, top, NEAR)] = True
        other = ink.outside(drawn, places) | self._strange[here]
        for x0, y0, x1, y1 in ink.groups(other):
            yield x0 + left, y0 + top, x1 + left, y1 + top
        for area in untrue:
            if other[_within(area, left, top)].sum() >= ink.DRAWN_LEAST:
                yield area

    def _drawn(self, here: tuple[slice, slice]) -> ink.Mask:
        """The ink in a part of the page; a rule is one by what stands beside the part, too."""
        import numpy as np

        rows, columns = here
        start = max(0, columns.start - ink.RULE)
        beside = self._pixels[rows, start : columns.stop + ink.RULE]
        if not beside.size:
            return np.zeros(beside.shape[:2], bool)
        return ink.drawn(beside)[:, columns.start - start : columns.stop - start]

    def _truthful(self, number: int) -> frozenset[Word]:
        """The words of a line that read as the file says."""
        if number not in self._true:
            line = self._lines[number]
            whole = self._read(_around(line), unsure=not self._scan)
            where = _within(_around(line), 0, 0, NEAR)
            if self._scan and self._pixels[where].size:
                self._strange[where] |= ink.strange(self._pixels[where])
            self._true[number] = frozenset(
                word
                for word, alike in zip(line, _alike(whole, line), strict=True)
                if (alike or self._alone(word)) and not self._is_strange(word)
            )
        return self._true[number]

    def _is_strange(self, word: Word) -> bool:
        """Whether something of another hand lies in a word's place, enough to be a name."""
        return bool(self._strange[_within(word.area, 0, 0)].sum() >= ink.DRAWN_LEAST)

    def _alone(self, word: Word) -> bool:
        """Whether a word that did not read as said in its line does so by itself."""
        said = plain(word.said)
        unsure = not (self._scan and said)  # of a sign without letters no letter may be read, sure or not
        return any(said == self._read(word.area, pad, unsure=unsure) for pad in (0, NEAR))

    def _read(self, area: Area, pad: int = 0, *, unsure: bool) -> str:
        from mmbuilder.scrub.images.finders._read import CERTAIN, UNSURE, read

        strip = self._pixels[_within(area, 0, 0, pad)]
        if not strip.size or not ink.drawn(strip).any():
            return ""
        return plain(read(strip, UNSURE if unsure else CERTAIN))


def plain(words: str) -> str:
    """Letters and digits only, without case and accents, those of one shape as one."""
    parted = unicodedata.normalize("NFKD", words).casefold().translate(_ONE_SHAPE)
    return "".join(sign for sign in parted if sign.isalnum())


def _alike(read: str, line: Line) -> Iterator[bool]:
    """For each word of a line, whether no letter of it, and none at its ends, was read as another.

    A sign without letters agrees where no letter was read in its place; where nothing was read, nothing does.
    """
    from rapidfuzz.distance import Levenshtein

    said = [plain(word.said) for word in line]
    edits = [step for step in Levenshtein.opcodes("".join(said), read) if step.tag != "equal"]
    start = 0
    for word in said:
        end = start + len(word)
        yield bool(read) and not any(_reaches(step.src_start, step.src_end, start, end) for step in edits)
        start = end


def _reaches(first: int, last: int, start: int, end: int) -> bool:
    """Whether an edit lies in a word, or is something put in there, at its ends included."""
    return start <= first <= end if first == last else first < end and start < last


def _lines(letters: Letters) -> Iterator[Line]:
    """The text cut at line ends, and wherever the next character stands off the line."""
    words, area = list[Word](), None
    for word in _words(letters):
        if word is None or (area and not _goes_on(area, word.area)):
            if words:
                yield tuple(words)
            words, area = [], None
        if word is not None:
            words.append(word)
            area = _joined(area, word.area) if area else word.area
    if words:
        yield tuple(words)


def _words(letters: Letters) -> Iterator[Word | None]:
    """The text cut at spaces, and wherever the next character stands off; None at a line end."""
    said, area = "", None
    for letter, place in zip(letters.text, letters.areas, strict=True):
        off = bool(place and area and letter.strip() and not _goes_on(area, place))
        if not letter.strip() or off:
            if area:
                yield Word(area, said)
            said, area = "", None
            if letter in "\r\n":
                yield None
        if letter.strip():
            said += letter
            if place:
                area = _joined(area, place) if area else place
    if area:
        yield Word(area, said)


def _goes_on(area: Area, place: Area) -> bool:
    high = max(1, place[3] - place[1])
    level = min(area[3], place[3]) - max(area[1], place[1]) > high / 2
    return level and -high < place[0] - area[2] < 3 * high


def _stretches(line: Line) -> Iterator[Line]:
    """A line cut into what can be read in one go."""
    start = 0
    for at in range(1, len(line) + 1):
        area = _around(line[start : at + 1])
        if at == len(line) or area[2] - area[0] > LONGEST * (area[3] - area[1]):
            yield line[start:at]
            start = at


def _area(box: PixelBox) -> Area:
    return box.left, box.top, box.right, box.bottom


def _at(box: PixelBox, area: Area) -> PixelBox:
    return replace(box, left=area[0], top=area[1], right=area[2], bottom=area[3])


def _around(words: Sequence[Word]) -> Area:
    area = words[0].area
    for word in words[1:]:
        area = _joined(area, word.area)
    return area


def _joined(one: Area, other: Area) -> Area:
    return min(one[0], other[0]), min(one[1], other[1]), max(one[2], other[2]), max(one[3], other[3])


def _touches(area: Area, box: PixelBox) -> bool:
    return area[0] < box.right and box.left < area[2] and area[1] < box.bottom and box.top < area[3]


def _in(area: Area, box: PixelBox) -> bool:
    """Whether the middle of a word's height, and a piece of its length, lie in a box."""
    return box.top <= (area[1] + area[3]) / 2 <= box.bottom and _touches(area, box)


def _within(area: Area, left: int, top: int, pad: int = 0) -> tuple[slice, slice]:
    """An area of the page as rows and columns of a part that starts at a place."""
    x0, y0, x1, y1 = area
    return (
        slice(max(0, y0 - pad - top), max(0, y1 + pad - top)),
        slice(max(0, x0 - pad - left), max(0, x1 + pad - left)),
    )
