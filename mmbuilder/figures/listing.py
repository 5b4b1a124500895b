"""The list of the events that have a number and no words, in columns under the axis."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from mmbuilder.figures.numbers import Key
from mmbuilder.figures.style import LINE, fit, width
from mmbuilder.safe.text import SafeText, number

_BETWEEN = 14.0
"""Between two columns; points."""

_AFTER = 5.0
"""Between a number and its words; points."""

_NARROW = 0.3
"""A column need not be wider than this share of the chart: longer words are cut short."""


@dataclass(frozen=True)
class Line:
    """One entry: its number and words."""

    key: Key
    number: int
    words: SafeText


@dataclass(frozen=True)
class Cell:
    """An entry in its place: column and row from the top left."""

    line: Line
    column: int
    row: int


@dataclass(frozen=True)
class Listing:
    """Where every entry stands.

    Attributes:
        step: from one column to the next; points.
        numbers: width of the numbers before the words; points.
    """

    cells: tuple[Cell, ...] = ()
    rows: int = 0
    step: float = 0.0
    numbers: float = 0.0

    @property
    def height(self) -> float:
        """Height of its rows; points."""
        return LINE * self.rows + 3 if self.rows else 0.0

    def words(self, line: Line) -> SafeText:
        """Return as many of its words as the column holds."""
        return fit(line.words, self.step - self.numbers - _BETWEEN)


NONE = Listing()
"""No list."""


def listing(lines: Sequence[Line], wide: float, high: float) -> Listing:
    """Set the list down one column after the other; none if `high` does not hold the whole of it."""
    if not lines:
        return NONE
    numbers = max(width(number(line.number), bold=True) for line in lines) + _AFTER
    widest = min(max(width(line.words) for line in lines), _NARROW * wide - numbers)
    columns = max(int((wide + _BETWEEN) // (numbers + widest + _BETWEEN)), 1)
    rows = math.ceil(len(lines) / columns)
    cells = tuple(Cell(line, *divmod(place, rows)) for place, line in enumerate(lines))
    made = Listing(cells, rows, (wide + _BETWEEN) / columns, numbers)
    return made if made.height <= high else NONE
