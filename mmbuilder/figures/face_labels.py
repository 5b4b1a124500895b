"""Words beside the face, each as near to the height of its mark as its neighbours let it be."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from mmbuilder.figures.face import BESIDE, Face, Tag, pointer
from mmbuilder.figures.fold import fold, fold_clauses
from mmbuilder.figures.sheet import Box, Item, Point, Words, stroke
from mmbuilder.figures.style import LINE, TEXT, Ink, width
from mmbuilder.safe.text import SafeText

_AIR = 8.0
"""Between two labels; points."""


@dataclass(frozen=True)
class _Label:
    """Lines for one finding, and where they would best stand."""

    tag: Tag
    letter: SafeText
    lines: tuple[SafeText, ...]
    bold: bool
    best: float
    """Height of its mark."""

    @property
    def high(self) -> float:
        return len(self.lines) * LINE


def labels(made: Face, tags: list[Tag], head: float) -> list[Item] | None:
    """Set every label, and a seat at the side; None if they find no room.

    Args:
        made: the face.
        tags: its marks.
        head: how far down the words at the upper left reach.
    """
    sides = _sides(made, tags)
    drawn: list[Item] = []
    for right, found in ((False, sides[0]), (True, sides[1])):
        placed = _column(made, found, right=right, top=0.0 if right else head)
        if placed is None:
            return None
        if _seated(made, right=right):
            drawn += _seat(made, right=right)
        for label, top in placed:
            drawn += _words(made, label, top, right=right)
            drawn += _leader(made, tags, label, top, right=right)
    return drawn


def _sides(made: Face, tags: list[Tag]) -> tuple[list[Tag], list[Tag]]:
    """Part the marks into left and right; those at 12 and 6 go where there are fewer."""
    left, right = ([t for t in tags if 6 < t.hour < 12], [t for t in tags if t.hour < 6])
    for tag in (t for t in tags if t.hour in (6, 12)):
        fewer = right if sum(len(t.told) for t in right) <= sum(len(t.told) for t in left) else left
        fewer.append(tag)
    return left, right


def _seated(made: Face, *, right: bool) -> bool:
    return made.orientation.seat_hour == (3 if right else 9)


def _column(made: Face, tags: list[Tag], *, right: bool, top: float) -> list[tuple[_Label, float]] | None:
    """Return the labels of one side with their upper edges."""
    top, bottom = max(top, made.top), made.bottom
    found = [label for tag in tags for label in _labels(made, tag)]
    found.sort(key=lambda label: label.best)
    if not all(label.lines for label in found):
        return None
    if not _seated(made, right=right):
        return _spread(found, top, bottom)
    half, middle = len(_seat_lines(made)) * LINE / 2 + _AIR, made.centre[1]
    for count in _splits(found, middle):
        above, below = (
            _spread(found[:count], top, middle - half),
            _spread(found[count:], middle + half, bottom),
        )
        if above is not None and below is not None:
            return above + below
    return None


def _labels(made: Face, tag: Tag) -> Iterator[_Label]:
    for letter, place in tag.told:
        bold = place.finding.wound
        lines = fold_clauses(made.clauses(place), made.column - _prefix(letter), bold=bold)
        yield _Label(tag, letter, lines, bold, made.at(tag.hour, made.radius)[1])


def _prefix(letter: SafeText) -> float:
    return width(letter, bold=True) + 6


def _splits(found: list[_Label], middle: float) -> Iterator[int]:
    """Return how many may stand above the seat: those at its own height may stand on either side."""
    first = sum(label.best < middle - 1 for label in found)
    last = sum(label.best < middle + 1 for label in found)
    yield from sorted(range(first, last + 1), key=lambda count: abs(2 * count - first - last))


def _spread(found: list[_Label], top: float, bottom: float) -> list[tuple[_Label, float]] | None:
    """Set labels under each other between two heights; None if they need more."""
    if sum(label.high + _AIR for label in found) - _AIR > bottom - top and found:
        return None
    tops: list[float] = []
    free = top
    for label in found:
        tops.append(max(free, label.best - label.high / 2))
        free = tops[-1] + label.high + _AIR
    limit = bottom
    for place in reversed(range(len(found))):
        tops[place] = min(tops[place], limit - found[place].high)
        limit = tops[place] - _AIR
    return list(zip(found, tops, strict=True))


def _edge(made: Face, *, right: bool) -> float:
    """Return where a column meets the face."""
    return made.centre[0] + (made.radius + BESIDE) * (1 if right else -1)


def _words(made: Face, label: _Label, top: float, *, right: bool) -> Iterator[Words]:
    """Write the words with their letter before the first line."""
    inset = _prefix(label.letter) if right else 0.0
    lines = list(_lines(made, label.lines, top, right=right, inset=inset, bold=label.bold))
    yield from lines
    yield Words(lines[0].x - _prefix(label.letter), lines[0].y, label.letter, TEXT, bold=True)


def _lines(
    made: Face, lines: tuple[SafeText, ...], top: float, *, right: bool, inset: float, bold: bool
) -> Iterator[Words]:
    edge = _edge(made, right=right) + (inset if right else -inset)
    for place, line in enumerate(lines):
        left = edge if right else edge - width(line, bold=bold)
        yield Words(left, top + TEXT * 0.8 + place * LINE, line, TEXT, bold)


def _seat_lines(made: Face) -> tuple[SafeText, ...]:
    return fold(made.seat, made.column - 22, bold=True)


def _seat(made: Face, *, right: bool) -> Iterator[Item]:
    edge, towards = _edge(made, right=right), -1.0 if right else 1.0
    yield pointer((edge, made.centre[1]), (towards, 0.0))
    lines = _seat_lines(made)
    top = made.centre[1] - len(lines) * LINE / 2
    yield from _lines(made, lines, top, right=right, inset=22, bold=True)


def _leader(made: Face, tags: list[Tag], label: _Label, top: float, *, right: bool) -> Iterator[Item]:
    """Draw a line from mark to words if nothing is in its way; the letter says the rest."""
    box = made.tag(label.tag)
    start = (box.right + 1 if right else box.left - 1, (box.top + box.bottom) / 2)
    end = (_edge(made, right=right) - (4 if right else -4), top + label.high / 2)
    others = [made.tag(tag) for tag in tags if tag is not label.tag]
    if _clear(made, start, end, others):
        yield stroke(start, end, ink=Ink.GREY, width=1.2)


def _clear(made: Face, start: Point, end: Point, boxes: list[Box]) -> bool:
    x, y = made.centre
    for step in range(41):
        at = start[0] + (end[0] - start[0]) * step / 40, start[1] + (end[1] - start[1]) * step / 40
        if (at[0] - x) ** 2 + (at[1] - y) ** 2 < (made.radius - 6) ** 2:
            return False
        if any(b.left - 2 < at[0] < b.right + 2 and b.top - 2 < at[1] < b.bottom + 2 for b in boxes):
            return False
    return True
