"""Labels of a lane: the most important first, each on one line or two, none where there is no room.

Row 0 is the row of the marks; rows count upwards. Nothing that is placed meets anything else:
no text another text, a mark, a pole or a foreign leader; no leader a text.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Sequence
from dataclasses import dataclass, field, replace

from mmbuilder.figures.style import halves, width
from mmbuilder.safe.text import SafeText

GAP = 8.0
"""Least distance between two texts of a row; points."""

NEAR = 4.0
"""Between a mark, or a leader, and its text; points."""

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


@dataclass(frozen=True)
class Spot:
    """A label in its place; `row` is that of its lowest line, `start` the left end of its lines."""

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
        wishes: all marks of row 0, labelled or not.
    """

    left: float
    right: float
    rows: int
    poles: tuple[float, ...]
    wishes: tuple[Wish, ...]
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
            for lines in _forms(caption):
                yield from self._places(wish, lines, max(map(width, lines)))

    def _places(self, wish: Wish, lines: tuple[SafeText, ...], wide: float) -> Iterator[Spot]:
        if len(lines) == 1:
            yield Spot(wish, lines, 0, wish.right + NEAR, wide)
            yield Spot(wish, lines, 0, wish.left - NEAR - wide, wide)
        rows = range(1, self.rows + 2 - len(lines))
        for row in rows if self.outward else reversed(rows):
            for start in (wish.x + NEAR, wish.x - NEAR - wide, wish.x - wide / 2):
                yield Spot(wish, lines, row, start, wide)

    def _free(self, new: Spot) -> bool:
        if new.start < self.left or new.end > self.right:
            return False
        if any(new.start - _CLEAR < pole < new.end + _CLEAR for pole in self.poles):
            return False
        if new.row == 0 and any(_on(new, wish) for wish in self.wishes):
            return False
        return not any(_clash(new, old) or _clash(old, new) for old in self.spots)


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


def _forms(caption: SafeText) -> Iterator[tuple[SafeText, ...]]:
    yield (caption,)
    if caption.words() > 1:
        yield halves(caption)


def _on(new: Spot, wish: Wish) -> bool:
    return wish.key != new.wish.key and new.start - NEAR < wish.right and wish.left < new.end + NEAR


def _clash(text: Spot, other: Spot) -> bool:
    """Whether a text runs into another, or into the leader of one further out."""
    if set(text.rows) & set(other.rows):
        return text.start < other.end + GAP and other.start < text.end + GAP
    beneath = text.row > 0 and other.row > text.row
    return beneath and text.start - _CLEAR < other.wish.x < text.end + _CLEAR
