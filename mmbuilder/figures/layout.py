"""Where labels go: pure geometry, no drawing.

Each label belongs to a mark in row 0 and stands beside it there, or in a row away from it at
the end of a leader line. Rows count away from the marks. Nothing that is placed overlaps
anything else that is placed, no leader passes through a text, and all stays between the limits.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Iterator
from dataclasses import dataclass, field

GAP = 5.0
"""Least distance between two texts of a row; points."""

NEAR = 4.0
"""Between a mark, or a leader, and its text; points."""


@dataclass(frozen=True)
class Label:
    """A text to be placed.

    Attributes:
        key: what it belongs to.
        x: where its mark is, and its leader line.
        width: of the text.
        left, right: how far the mark itself reaches (bars of uncertainty included).
    """

    key: Hashable
    x: float
    width: float
    left: float
    right: float


@dataclass(frozen=True)
class Placed:
    """A label with its row and the left end of its text."""

    label: Label
    row: int
    start: float

    @property
    def end(self) -> float:
        """Right end of the text."""
        return self.start + self.label.width


@dataclass
class Board:
    """Rows between two limits, filled one label at a time."""

    left: float
    right: float
    rows: int
    inline: bool
    """Whether row 0, where the marks are, takes text too."""
    placed: list[Placed] = field(default_factory=list)
    marks: list[Label] = field(default_factory=list)

    def put(self, label: Label, *, leftwards: bool) -> Placed | None:
        """Place a label in the row nearest to its mark; None if there is no room."""
        for candidate in self._candidates(label, leftwards):
            if self._free(candidate):
                self.placed.append(candidate)
                return candidate
        return None

    def _candidates(self, label: Label, leftwards: bool) -> Iterator[Placed]:
        """Every place for it, the wished one first: beside its mark, then row by row on either side."""
        if self.inline:
            beside = (label.right + NEAR, label.left - NEAR - label.width)
            yield from (Placed(label, 0, start) for start in _turned(beside, leftwards))
        sides = (label.x + NEAR, label.x - NEAR - label.width)
        for start in (*_turned(sides, leftwards), label.x - label.width / 2):
            yield from (Placed(label, row, start) for row in range(1, self.rows + 1))

    def _free(self, new: Placed) -> bool:
        if new.start < self.left or new.end > self.right:
            return False
        if new.row == 0 and any(_touches_mark(new, mark) for mark in self.marks):
            return False
        return not any(_clash(new, old) or _clash(old, new) for old in self.placed)


@dataclass(frozen=True)
class Placement:
    """What came of it."""

    placed: tuple[Placed, ...]
    unplaced: tuple[Label, ...]

    @property
    def rows(self) -> int:
        """How many rows are used beside row 0."""
        return max((item.row for item in self.placed), default=0)


def place(labels: Iterable[Label], left: float, right: float, *, rows: int, inline: bool) -> Placement:
    """Place labels between two limits in at most `rows` rows away from their marks.

    The marks are parted in two: texts of the first ones run to the left, of the others to the
    right, so that the two groups never meet. In each, the outermost is placed first: a text then
    reaches over marks already labelled and has to stand further out than their leaders, which
    is the order in which rows fill up. Every parting is tried; the one with fewest rows stays.
    """
    marks = sorted(labels, key=lambda label: (label.x, str(label.key)))
    best: Placement | None = None
    for parting in range(len(marks) + 1):
        tried = _parted(marks, parting, Board(left, right, rows, inline, marks=marks))
        if best is None or _cost(tried) < _cost(best):
            best = tried
    return best or Placement((), ())


def _parted(marks: list[Label], parting: int, board: Board) -> Placement:
    order = [(label, True) for label in marks[:parting]]
    order += [(label, False) for label in reversed(marks[parting:])]
    unplaced = tuple(label for label, leftwards in order if board.put(label, leftwards=leftwards) is None)
    return Placement(tuple(board.placed), unplaced)


def _cost(placement: Placement) -> tuple[int, int, int]:
    return len(placement.unplaced), placement.rows, sum(item.row for item in placement.placed)


def _turned(sides: tuple[float, float], leftwards: bool) -> tuple[float, float]:
    return (sides[1], sides[0]) if leftwards else sides


def _touches_mark(new: Placed, mark: Label) -> bool:
    return mark is not new.label and new.start - NEAR < mark.right and mark.left < new.end + NEAR


def _clash(text: Placed, other: Placed) -> bool:
    """Whether a text runs into another one of its row, or into the leader of one further out."""
    if text.row == other.row:
        reach = sorted((_reach(text), _reach(other)))
        return reach[0][1] + GAP > reach[1][0]
    leader = other.row > text.row > 0
    return leader and text.start - NEAR / 2 < other.label.x < text.end + NEAR / 2


def _reach(item: Placed) -> tuple[float, float]:
    """From end to end, leader included."""
    if item.row == 0:
        return item.start, item.end
    return min(item.start, item.label.x), max(item.end, item.label.x)
