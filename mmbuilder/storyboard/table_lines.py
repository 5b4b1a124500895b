"""How many lines a table will take on a slide, before a deck is written: rather a few too many.

Columns begin with the shares that the slide kind gives them and follow what they hold where that makes the
table lower, as the deck does. What a line, a row and a heading take was seen on finished decks.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from mmbuilder.storyboard.blocks import Cell, Table

ACROSS = 106
"""Letters of a line of the smallest letters of a table that has the width of a sheet."""

ROW, HEADING, FULL = 0.5, 1.5, 18.6
"""Lines that the space of a row and the heading take, and lines that a sheet holds of a table."""

_PARTS = (0, 0.25, 0.5, 0.75, 1)
"""How far the columns follow what they hold."""

_Words = tuple[int, ...]


@lru_cache(maxsize=256)  # a deck is tried in several lengths, with most of its tables as they were
def table_lines(table: Table) -> float:
    """Return the lines of a table, space and heading and all."""
    rows = [[_words(cell) for cell in row] for row in table.rows]
    heads = [head.lengths() for head in table.header]
    longest = [
        max((length + 1 for words in column for length in words), default=1)
        for column in zip(heads, *([(*said, *stamp) for said, stamp in row] for row in rows), strict=True)
    ]
    held = [1 + sum(sum(cell[0]) for cell in column) for column in zip(*rows, strict=True)]
    tried = (_fitted(_shares(table.shares, held, part), longest) for part in _PARTS)
    lowest = min(sum(max(map(_cell, row, wide)) for row in rows) for wide in tried)
    return lowest + ROW * len(rows) + HEADING


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
