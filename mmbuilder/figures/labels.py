"""Labels of a lane: the most important first, each on one line or two, none where there is no room.

Row 0 is the row of the marks; rows count upwards. Nothing that is placed meets anything else:
no text another text, a mark, a pole or a foreign leader; no leader a text.
"""

from __future__ import annotations

import functools
from collections.abc import Hashable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from mmbuilder.figures.style import halves, width
from mmbuilder.safe.text import SafeText

GAP = 8.0
"""Least distance between two texts of a row; points."""

NEAR = 4.0
"""Between a mark, or a leader, and its text; points."""

_TIGHT = 2.0
"""The same where a lane has no other row, rather than across a seam."""

_CLEAR = 3.0
"""Between a text and a pole or a foreign leader; points."""


@dataclass(frozen=True)
class Wish:
    """A mark that asks for a label.

    Attributes:
        key: what it belongs to.
        x: where its mark is, and its leader line.
        left, right: how far the mark reaches (bars of uncertainty included).
        captions: its words, the fullest first.
    """

    key: Hashable
    x: float
    left: float
    right: float
    captions: tuple[SafeText, ...]


class Spot(NamedTuple):
    """A label in its place; `row` is that of its lowest line, `start` the left end of its lines.

    A tuple, as a crowded chart tries tens of thousands of places.
    """

    wish: Wish
    lines: tuple[SafeText, ...]
    row: int
    start: float
    wide: float

    @property
    def end(self) -> float:
        """Right end of the widest line."""
        return self.start + self.wide

    @property
    def rows(self) -> range:
        """Rows it takes up."""
        return range(self.row, self.row + len(self.lines))


@dataclass
class Board:
    """Rows between two limits, filled one label at a time.

    Attributes:
        rows: how many there are above row 0.
        poles: lines over the full height that no text may stand on.
        seams: where panels meet; a text stands on one only if it has no other place.
        wishes: all marks of row 0, labelled or not.
    """

    left: float
    right: float
    rows: int
    poles: tuple[float, ...]
    wishes: tuple[Wish, ...]
    seams: tuple[float, ...] = ()
    outward: bool = True
    """Whether the rows nearest to the marks are tried first."""
    spots: list[Spot] = field(default_factory=list)

    def put(self, wish: Wish) -> bool:
        """Give a mark its label if there is room for any form of it."""
        for spot in self._candidates(wish):
            if self._free(spot):
                self.spots.append(spot)
                return True
        return False

    def _candidates(self, wish: Wish) -> Iterator[Spot]:
        for caption in wish.captions:
            for lines, wide in _forms(caption):
                yield from sorted(self._places(wish, lines, wide), key=self._on_a_seam)

    def _on_a_seam(self, spot: Spot) -> bool:
        return any(spot.start - _CLEAR < seam < spot.end + _CLEAR for seam in self.seams)

    def _places(self, wish: Wish, lines: tuple[SafeText, ...], wide: float) -> Iterator[Spot]:
        if len(lines) == 1:
            yield Spot(wish, lines, 0, wish.right + NEAR, wide)
            yield Spot(wish, lines, 0, wish.left - NEAR - wide, wide)
            if not self.rows:
                yield Spot(wish, lines, 0, wish.right + _TIGHT, wide)
        rows = range(1, self.rows + 2 - len(lines))
        for row in rows if self.outward else reversed(rows):
            for start in (wish.x + NEAR, wish.x - NEAR - wide, wish.x - wide / 2):
                yield Spot(wish, lines, row, start, wide)

    def _free(self, new: Spot) -> bool:
        if new.start < self.left or new.end > self.right:
            return False
        left, right = new.start - _CLEAR, new.end + _CLEAR
        # Loops: this is asked tens of thousands of times for a crowded chart.
        for pole in self.poles:
            if left < pole < right:
                return False
        for old in self.spots:
            if _clash(new, old):
                return False
        return new.row > 0 or not self._on_a_mark(new)

    def _on_a_mark(self, new: Spot) -> bool:
        # As near to a foreign mark as to its own, and no nearer.
        near = _TIGHT if new.start == new.wish.right + _TIGHT else NEAR
        left, right = new.start - near, new.end + near
        for wish in self.wishes:
            if left < wish.right and wish.left < right and wish.key != new.wish.key:
                return True
        return False


def settle(wishes: Sequence[Wish], board: Board, most: int) -> tuple[Spot, ...]:
    """Label at most `most` marks, in the order given; what finds no room is left out.

    Rows are filled from the marks outward, and inward; the better of the two stays.
    """
    tried = [_settled(wishes, replace(board, outward=outward, spots=[]), most) for outward in (True, False)]
    return max(tried, key=lambda spots: _worth(spots, wishes))


def _settled(wishes: Sequence[Wish], board: Board, most: int) -> tuple[Spot, ...]:
    left = most
    for wish in wishes:
        if left and board.put(wish):
            left -= 1
    return tuple(board.spots)


def _worth(spots: tuple[Spot, ...], wishes: Sequence[Wish]) -> float:
    """Return how much the labelled marks matter: the first most, and full words more than short ones."""
    places = {wish.key: place for place, wish in enumerate(wishes)}
    return sum(_full(spot) / (3.0 + places[spot.wish.key]) for spot in spots)


def _full(spot: Spot) -> float:
    said = sum(line.words() for line in spot.lines)
    return 0.6 + 0.4 * said / spot.wish.captions[0].words()


@functools.lru_cache(maxsize=4096)  # the same captions are tried in every mode
def _forms(caption: SafeText) -> tuple[tuple[tuple[SafeText, ...], float], ...]:
    """A caption on one line and on two, each with its width."""
    forms = ((caption,), halves(caption)) if caption.words() > 1 else ((caption,),)
    return tuple((lines, max(map(width, lines))) for lines in forms)


def _clash(text: Spot, other: Spot) -> bool:
    """Whether a text runs into another, or one of them into the leader of one further out."""
    if text.row < other.row + len(other.lines) and other.row < text.row + len(text.lines):
        return text.start < other.end + GAP and other.start < text.end + GAP
    near, far = (text, other) if text.row < other.row else (other, text)
    return near.row > 0 and near.start - _CLEAR < far.wish.x < near.end + _CLEAR
