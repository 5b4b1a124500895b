"""A page under way: ground, lines, marks and words that touch neither each other nor a mark."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace

from mmbuilder.figures.sheet import Box, Item, Point, Sheet, Words, plates
from mmbuilder.figures.style import TEXT, Ink, width
from mmbuilder.safe.text import SafeText

_AIR = 3.0
"""Between a mark and its words; points."""


@dataclass
class Page:
    """What is drawn so far."""

    width: float
    height: float
    ground: list[Item] = field(default_factory=list)
    lines: list[Item] = field(default_factory=list)
    marks: list[Item] = field(default_factory=list)
    words: list[Words] = field(default_factory=list)
    tinted: list[Box] = field(default_factory=list)
    """Where the ground is not white."""
    taken: list[Box] = field(default_factory=list)
    """Where marks are."""
    drawn: list[tuple[Point, Point]] = field(default_factory=list)
    """Lines of data, which words hide only if there is no other place."""

    def put(self, candidates: Iterable[Words], *, over_lines: bool = False) -> bool:
        """Write the first candidate that is within the page and free; whether there was one."""
        for words in candidates:
            if self._free(words.box) and (over_lines or not self._on_a_line(words.box)):
                self.words.append(replace(words, plate=self._plate(words)))
                return True
        return False

    def _plate(self, words: Words) -> Ink | None:
        """Return the colour of the ground around the words, which breaks the lines behind them."""
        if words.plate is None or not any(map(words.box.overlaps, self.tinted)):
            return words.plate
        if any(map(words.box.inside, self.tinted)):
            return Ink.BAND
        return Ink.WHITE if self._on_a_line(words.box) else None

    def _free(self, box: Box) -> bool:
        taken = (*(words.box for words in self.words), *self.taken)
        return box.inside(Box(0, 0, self.width, self.height)) and not any(map(box.overlaps, taken))

    def _on_a_line(self, box: Box) -> bool:
        return any(crosses(box, *line) for line in self.drawn)

    def sheet(self) -> Sheet:
        """Return everything in painting order."""
        back = (*self.ground, *self.lines, *plates(self.words))
        return Sheet(self.width, self.height, (*back, *self.marks, *self.words))


def beside(mark: Box, text: SafeText, row: Box, ink: Ink = Ink.BLACK) -> Iterator[Words]:
    """Every place near a mark that lies in its row: above, below, right, left, and the corners."""
    wide, rise, fall = width(text), 0.75 * TEXT, 0.25 * TEXT
    middle, centre = (mark.left + mark.right) / 2 - wide / 2, (mark.top + mark.bottom) / 2 + rise / 2 - 1
    right, left = mark.right + _AIR, mark.left - _AIR - wide
    above, below = mark.top - _AIR + 1 - fall, mark.bottom + _AIR - 1 + rise
    places = [(middle, above), (middle, below), (right, centre), (left, centre)]
    asides = (wide / 4, -wide / 4)
    places += [(middle + aside, y) for y in (above, below) for aside in asides]
    places += [(x, y) for y in (above, below) for x in (mark.right - 1, mark.left + 1 - wide)]
    slid = [(min(max(middle, row.left), row.right - wide), y) for y in (above, below)]
    for x, y in (*places, *slid):
        words = Words(x, y, text, TEXT, False, ink, Ink.WHITE)
        if words.box.inside(row):
            yield words


def crosses(box: Box, start: Point, end: Point) -> bool:
    """Whether a line passes through a box (Liang and Barsky 1984, from memory)."""
    across, down = end[0] - start[0], end[1] - start[1]
    first, last = 0.0, 1.0
    sides: Sequence[tuple[float, float]] = (
        (-across, start[0] - box.left),
        (across, box.right - start[0]),
        (-down, start[1] - box.top),
        (down, box.bottom - start[1]),
    )
    for slope, distance in sides:
        if slope == 0:
            if distance < 0:
                return False
        elif slope < 0:
            first = max(first, distance / slope)
        else:
            last = min(last, distance / slope)
    return first <= last
