"""How many lines a table will take on a slide, before a deck is written: rather a few too many.

Columns begin with the shares that the slide kind gives them and follow what they hold where that makes the
table lower, as the deck does. What a line and a row take was seen on finished decks.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from math import ceil

from mmbuilder.storyboard.blocks import Cell, Table

ACROSS = 106
"""Letters of a line of the smallest letters of a table that has the width of a sheet."""

ROW, FULL = 0.5, 18.6
"""Lines that the space of a row takes, and lines that a sheet holds of a table."""

_PARTS = (0, 0.25, 0.5, 0.75, 1)
"""How far the columns follow what they hold."""

_Words = tuple[int, ...]


def table_lines(table: Table) -> float:
    """Return the lines of a table, space and heading and all."""
    return sum(_rows(table))


def table_sheets(table: Table, part: float) -> int:
    """Return the sheets a table takes: all begin with the heading, and a row is torn only if it fits none.

    Args:
        table: the table.
        part: of a sheet that a headline leaves.
    """
    first, *rows = _rows(table)
    heading = first + 1  # where columns are narrow, a name of two words takes two lines
    room = FULL * part - heading
    sheets, used = 1, 0.0
    for lines in rows:
        if used and used + lines > room:
            sheets, used = sheets + 1, 0.0
        used += lines
        if used > room:
            sheets, used = sheets + ceil(used / room) - 1, used % room
    return sheets


@lru_cache(maxsize=256)  # a deck is tried in several lengths, with most of its tables as they were
def _rows(table: Table) -> tuple[float, ...]:
    """Lines of the heading and of each row, with their space, in the columns that make the table lowest."""
    heads = [head.lengths() for head in table.header]
    rows: list[list[tuple[_Words, _Words]]] = [
        [(head, ()) for head in heads],
        *([_words(cell) for cell in row] for row in table.rows),
    ]
    longest = [
        max((length + 1 for said, stamp in column for length in (*said, *stamp)), default=1)
        for column in zip(*rows, strict=True)
    ]
    held = [1 + sum(sum(said) for said, _ in column[1:]) for column in zip(*rows, strict=True)]
    tried = (_fitted(_shares(table.shares, held, part), longest) for part in _PARTS)
    return min((tuple(max(map(_cell, row, wide)) + ROW for row in rows) for wide in tried), key=sum)


def _words(cell: Cell) -> tuple[_Words, _Words]:
    return cell.text.lengths(), cell.stamp.lengths()


def _shares(shares: Sequence[float], held: Sequence[int], part: float) -> list[float]:
    pairs = zip(shares, held, strict=True)
    return [
        ACROSS * ((1 - part) * share / sum(shares) + part * letters / sum(held)) for share, letters in pairs
    ]


def _fitted(wide: Sequence[float], longest: Sequence[int]) -> list[float]:
    """Give each column its longest word; the others give in proportion to what they have above theirs."""
    lack = sum(max(0.0, most - width) for width, most in zip(wide, longest, strict=True))
    spare = sum(max(0.0, width - most) for width, most in zip(wide, longest, strict=True))
    given = min(1.0, lack / spare) if spare else 1.0
    return [max(width - (width - most) * given, most) for width, most in zip(wide, longest, strict=True)]


def _cell(words: tuple[_Words, _Words], wide: float) -> int:
    return sum(_lines(part, wide) for part in words)


def _lines(words: _Words, wide: float) -> int:
    """Break words into lines as they come."""
    lines, used = 0, float("inf")
    for length in words:
        used += 1 + length
        if used > wide:
            lines, used = lines + 1, length
    return lines
