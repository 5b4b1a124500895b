"""The bones of a cause diagram: head, spine, ribs and twigs, in a given frame or not at all.

Ribs lean towards the head. The words of a rib stand at its right, in the slanted strip between it
and the next; each column is as wide as its words need, and what is left over is shared.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import accumulate

from mmbuilder.figures.fold import fold, write
from mmbuilder.figures.roles import Key, look, mark
from mmbuilder.figures.sheet import Box, Fill, Item, Words, rectangle, stroke
from mmbuilder.figures.style import FLAG, LINE, Ink, width
from mmbuilder.safe.terms import FactorRole
from mmbuilder.safe.text import SafeText

_TWIG = 16.0
"""From a rib to its words; points."""

_CLEAR = 12.0
"""From words to the next rib, whose marks reach out."""

_AIR = 4.0
"""Least distance between the words of two twigs."""

_SPREAD = 18.0
"""How much further they are set apart where there is room."""

_SLOPE = 0.28
"""Lean of a rib, across over down, at most..."""

_LEAN = 0.05
"""...and how far it may lean in all; share of the width."""

_STEP = 4.0
"""How finely widths of columns are tried; points."""

_TITLES = (1, 2)
"""Lines of the rows' names."""


@dataclass(frozen=True)
class Twig:
    """Words on a rib; a range of numbers has no role."""

    text: SafeText
    role: FactorRole | None = None


@dataclass(frozen=True)
class Rib:
    """A row: its name at the outer end, its twigs along it."""

    name: SafeText
    twigs: tuple[Twig, ...]


Block = tuple[Twig, tuple[SafeText, ...]]
"""A twig with its words in lines."""


@dataclass(frozen=True)
class _Bones:
    """Measures that all ribs share."""

    frame: Box
    head: Box
    titles: int
    rows: float = float("inf")
    """Most lines along a rib, if fewer than there is room for."""

    @property
    def spine(self) -> float:
        return (self.frame.top + self.frame.bottom) / 2

    @property
    def length(self) -> float:
        """From the names to the spine."""
        return self.spine - self.frame.top - self.titles * LINE - 3

    @property
    def slope(self) -> float:
        return min(_SLOPE, _LEAN * (self.frame.right - self.frame.left) / self.length)

    @property
    def zone(self) -> float:
        """Height for words along a rib."""
        return min(self.length - 18, self.rows * LINE)

    @property
    def room(self) -> float:
        """Width for all columns."""
        return self.head.left - 14 - self.frame.left - 6 - self.slope * self.length


def fishbone(frame: Box, event: SafeText, ribs: tuple[Rib, ...], key: Key) -> list[Item] | None:
    """Draw the bones with every word in place; None if some word finds no room."""
    inner = Box(frame.left, frame.top, frame.right, frame.bottom - key.height)
    for titles in _TITLES:
        head = _head(inner, event)
        if head is None:
            return None
        bones = _Bones(inner, head[0], titles)
        widths = _widths(bones, ribs)
        if widths:
            drawn = [*_spine(bones), *_ribs(bones, ribs, widths), *head[1]]
            return [*drawn, *key.items(frame.left, frame.bottom)]
    return None


def _head(frame: Box, event: SafeText) -> tuple[Box, list[Item]] | None:
    """Return the box of the event and what is in it."""
    wide = min(max(0.2 * (frame.right - frame.left), 84.0), 190.0)
    lines = fold(event, wide - 16, FLAG, bold=True)
    high = len(lines) * (FLAG + 2) + 16
    if not lines or high > 0.7 * (frame.bottom - frame.top):
        return None
    middle = (frame.top + frame.bottom) / 2
    box = Box(frame.right - wide, middle - high / 2, frame.right - 1, middle + high / 2)
    centre = (box.left + box.right) / 2
    words = [
        Words(centre - width(line, FLAG, bold=True) / 2, box.top + 8 + FLAG * 0.85 + place * (FLAG + 2),
              line, FLAG, bold=True)
        for place, line in enumerate(lines)
    ]  # fmt: skip
    return box, [rectangle(box, Ink.WHITE, Ink.BLACK, 2.5), *words]


def _widths(bones: _Bones, ribs: tuple[Rib, ...]) -> list[float]:
    """Return the width of each column, upper rib over lower; nothing if they do not all fit.

    The longest words get the most of it: columns are made as low as the width for all of them allows.
    """
    low, high = 1, int(bones.zone / LINE)
    best = _needs(bones, ribs)
    while low < high and sum(best) <= bones.room:
        middle = (low + high) // 2
        needs = _needs(replace(bones, rows=middle), ribs)
        if sum(needs) <= bones.room:
            best, high = needs, middle
        else:
            low = middle + 1
    spare = bones.room - sum(best)
    return [need + spare / len(best) for need in best] if spare >= 0 else []


def _needs(bones: _Bones, ribs: tuple[Rib, ...]) -> list[float]:
    count = (len(ribs) + 1) // 2
    return [max(_need(bones, rib) for rib in ribs[place::count]) for place in range(count)]


def _need(bones: _Bones, rib: Rib) -> float:
    """Return the least width in which a rib's words fit; infinity if none does."""
    low, high = 1, int(bones.room / _STEP)
    if high < 1 or _blocks(bones, rib, high * _STEP) is None:
        return float("inf")
    while low < high:
        middle = (low + high) // 2
        if _blocks(bones, rib, middle * _STEP) is None:
            low = middle + 1
        else:
            high = middle
    return high * _STEP


def _blocks(bones: _Bones, rib: Rib, wide: float) -> list[Block] | None:
    """Break a rib's words into lines; None if they do not fit a column so wide."""
    if not 0 < len(_title(rib, wide)) <= bones.titles:
        return None
    blocks = [(twig, _lines(bones, twig, wide)) for twig in rib.twigs]
    high = sum(len(lines) * LINE + _AIR for _, lines in blocks) - _AIR
    return blocks if all(lines for _, lines in blocks) and high <= bones.zone else None


def _title(rib: Rib, wide: float) -> tuple[SafeText, ...]:
    return fold(rib.name, wide - _CLEAR, bold=True)


def _lines(bones: _Bones, twig: Twig, wide: float) -> tuple[SafeText, ...]:
    """Break words in a slanted strip: the more lines, the narrower the strip is for all of them."""
    for count in range(1, int(bones.zone / LINE) + 1):
        limit = wide - _TWIG - _CLEAR - bones.slope * count * LINE
        lines = fold(twig.text, limit, bold=look(twig.role).bold)
        if lines and len(lines) <= count:
            return lines
    return ()


def _spine(bones: _Bones) -> Iterator[Item]:
    y, tip = bones.spine, bones.head.left
    yield stroke((bones.frame.left, y), (tip - 10, y), width=3.5)
    yield Fill(((tip - 12, y - 8), (tip, y), (tip - 12, y + 8)), Ink.BLACK)


def _ribs(bones: _Bones, ribs: tuple[Rib, ...], widths: list[float]) -> Iterator[Item]:
    starts = list(accumulate(widths, initial=bones.frame.left + 6))
    for place, rib in enumerate(ribs):
        column, down = place % len(widths), -1 if place < len(widths) else 1
        yield from _rib(bones, rib, starts[column], widths[column], down)


def _rib(bones: _Bones, rib: Rib, start: float, wide: float, down: int) -> Iterator[Item]:
    """Draw a rib above the spine (`down` is -1) or under it (1)."""
    title = _title(rib, wide)
    end = bones.spine + down * bones.length

    def x(y: float) -> float:
        return start + bones.slope * (bones.length - abs(y - bones.spine))

    longest = max(width(line, bold=True) for line in title)
    yield stroke((start + longest, end), (start, end), (x(bones.spine), bones.spine), width=1.8)
    yield from write(title, start, end - len(title) * LINE - 1 if down < 0 else end + 2, bold=True)
    blocks = _blocks(bones, rib, wide) or []
    spare = bones.zone - sum(len(lines) * LINE + _AIR for _, lines in blocks) + _AIR
    gap = _AIR + min(_SPREAD, spare / max(len(blocks), 1))
    top = end + 9 if down < 0 else bones.spine + 9
    for twig, lines in blocks:
        bottom = top + len(lines) * LINE
        left, y = max(x(top), x(bottom)) + _TWIG, top + LINE / 2
        drawn = look(twig.role)
        yield stroke((x(y), y), (left - 4, y), ink=drawn.ink, width=drawn.line, dash=drawn.dash)
        if twig.role:
            yield mark(twig.role, x(y), y)
        yield from write(lines, left, top, bold=drawn.bold, ink=drawn.ink)
        top = bottom + gap
