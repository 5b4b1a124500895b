"""A numbered list beside a figure, or on sheets of its own, for words that find no room in it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import chain, repeat
from typing import Protocol

from mmbuilder.figures.fold import fold_clauses, spared, write
from mmbuilder.figures.sheet import Box, Dots, Item, Shape, Sheet
from mmbuilder.figures.style import LINE, TEXT, Ink, width
from mmbuilder.safe.text import EMPTY, SafeText

_COLUMN = 230.0
"""A column is at least so wide if the sheet is; points."""

_BETWEEN = 18.0
"""Between columns; points."""

_AFTER = (4.0, 1.0)
"""Under each entry; points. The less if a list would not fit beside its figure."""

_MARK = 16.0
"""Room for a mark before a number; points."""


@dataclass(frozen=True)
class Entry:
    """One entry, or a heading over some, which has no number and is not moved in.

    Attributes:
        clauses: its words, in parts that are best kept on a line each.
        mark: shape of the mark it has in the figure, and whether it is hollow.
    """

    number: SafeText
    clauses: tuple[SafeText, ...]
    bold: bool = False
    heading: bool = False
    ink: Ink = Ink.BLACK
    mark: tuple[Shape, bool] | None = None

    def lines(self, limit: float) -> tuple[SafeText, ...]:
        """Break into lines; a word that is wider than `limit` gives way to a note of it."""
        clauses = tuple(spared(clause, limit, bold=self.bold) for clause in self.clauses)
        return fold_clauses(clauses, limit, bold=self.bold)


class Foot(Protocol):
    """What stands at the bottom of a sheet."""

    @property
    def height(self) -> float:
        """Height with the air above it."""
        ...

    def items(self, left: float, bottom: float) -> Iterable[Item]:
        """Set it, its last line on `bottom`."""
        ...


@dataclass
class _Column:
    """A column that is filled from the top."""

    box: Box
    items: list[Item]
    down: float = 0.0

    @property
    def rest(self) -> float:
        return self.box.bottom - self.box.top - self.down


def columns(area: Box, entries: Iterable[Entry]) -> list[Box]:
    """Part an area into as many columns as hold every word of the list."""
    entries = tuple(entries)
    wide = area.right - area.left
    for count in range(max(1, int(wide // _COLUMN)), 1, -1):
        each = (wide - (count - 1) * _BETWEEN) / count
        lefts = (area.left + place * (each + _BETWEEN) for place in range(count))
        parts = [Box(left, area.top, left + each, area.bottom) for left in lefts]
        if _words_fit(parts[0], entries):
            return parts
    return [area]


def _words_fit(column: Box, entries: tuple[Entry, ...]) -> bool:
    limit = column.right - column.left - _indent(entries)
    return all(fold_clauses(entry.clauses, limit, bold=entry.bold) for entry in entries)


def fill_area(area: Box, entries: tuple[Entry, ...]) -> list[Item] | None:
    """Set the whole list in one area; None if it does not hold it, or not every word of it."""
    parts = columns(area, entries)
    if not _words_fit(parts[0], entries):
        return None
    for after in _AFTER:
        filled = list(_filled(entries, iter(parts), after))
        if len(filled) <= len(parts):
            return list(chain.from_iterable(filled))
    return None


def sheets(wide: float, high: float, entries: tuple[Entry, ...], foot: Foot) -> list[Sheet]:
    """Set the list on as many sheets as it needs, each with the same foot."""
    parts = columns(Box(0, 0, wide, high - foot.height), entries)
    filled = list(_filled(entries, chain.from_iterable(repeat(parts)), _AFTER[0]))
    pages = [filled[start : start + len(parts)] for start in range(0, len(filled), len(parts))]
    return [Sheet(wide, high, (*chain.from_iterable(page), *foot.items(0, high))) for page in pages]


def _filled(entries: tuple[Entry, ...], parts: Iterator[Box], after: float) -> Iterator[list[Item]]:
    """Return the items of each column that was needed; one more than there are if they do not do."""
    indent = _indent(entries)
    column = _Column(next(parts), [])
    for place, entry in enumerate(entries):
        limit = column.box.right - column.box.left - indent
        lines = entry.lines(limit)
        under = entries[place + 1].lines(limit) if entry.heading and place + 1 < len(entries) else ()
        while lines:
            count = _holds(column, lines, under, after)
            if count:
                _put(column, entry, lines[:count], indent)
                entry, lines = _rest(entry), lines[count:]
            if lines:
                yield column.items
                box = next(parts, None)
                if box is None:
                    yield []
                    return
                column = _Column(box, [])
        column.down += after
    yield column.items


def _holds(column: _Column, lines: tuple[SafeText, ...], under: tuple[SafeText, ...], after: float) -> int:
    """How many lines go here: all; or none, if an empty column would hold them all; or what fits.

    A heading stands with the first entry `under` it, or with the first line of one that fills a column.
    """
    high = column.box.bottom - column.box.top
    with_it = after + LINE * (len(under) if (len(lines) + len(under)) * LINE + after <= high else 1)
    rows = max(int((column.rest - (with_it if under else 0)) / LINE + 1e-6), 0 if column.down else 1)
    if len(lines) <= rows:
        return len(lines)
    return 0 if column.down and len(lines) * LINE <= high else rows


def _put(column: _Column, entry: Entry, lines: tuple[SafeText, ...], indent: float) -> None:
    left, top = column.box.left, column.box.top + column.down
    if entry.mark:
        shape, hollow = entry.mark
        column.items.append(Dots(((left + 6, top + LINE / 2),), shape, 9, entry.ink, hollow))
    if entry.number:
        start = left + indent - 6 - width(entry.number, bold=True)
        column.items += write((entry.number,), start, top, bold=True, ink=entry.ink)
    left += 0 if entry.heading else indent
    column.items += write(lines, left, top, bold=entry.bold, ink=entry.ink)
    column.down += len(lines) * LINE


def _rest(entry: Entry) -> Entry:
    """What goes on in the next column has its number no more."""
    return replace(entry, number=EMPTY, mark=None)


def _indent(entries: Iterable[Entry]) -> float:
    entries = tuple(entries)
    widest = max((width(entry.number, TEXT, bold=True) for entry in entries), default=0.0)
    return widest + 6 + (_MARK if any(entry.mark for entry in entries) else 0.0)
