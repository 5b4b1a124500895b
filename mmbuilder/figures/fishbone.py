"""The bones of a cause diagram: head, spine, ribs and twigs, in a given frame or not at all.

Ribs lean towards the head. The words of a rib stand at its right, in the slanted strip between it
and the next; each column is as wide as its words need, and what is left over is shared. The words of
the last column may stand over the head, and under it, instead of before it.
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

_TWIG = 13.0
"""From a rib to its words; points."""

_CLEAR = 9.0
"""From words to the next rib, whose marks reach out."""

_AIR = 4.0
"""Least distance between the words of two twigs."""

_SPREAD = 18.0
"""How much further they are set apart where there is room."""

_SLOPE = 0.28
"""Lean of a rib, across over down, at most..."""

_LEAN = 0.035
"""...and how far it may lean in all; share of the width."""

_APART = 9.0
"""From words to the outer end of a rib, and to the spine."""

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
    """A row: its name at the outer end, its twigs along it; thin and grey without any."""

    name: SafeText
    twigs: tuple[Twig, ...]

    @property
    def bold(self) -> bool:
        """Whether its name is set in bold."""
        return bool(self.twigs)


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
    apart: float = _APART
    """From words to the spine."""

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
        return min(self.length - _APART - self.apart, self.rows * LINE)

    @property
    def room(self) -> float:
        """Width for all columns."""
        return self.head.left - 14 - self.frame.left - 6 - self.slope * self.length

    @property
    def beyond(self) -> float:
        """Width that words have more if they keep clear of the head."""
        return self.frame.right - self.head.left + 14

    def clear(self) -> _Bones:
        """Return the same for words that keep clear of the head."""
        return replace(self, apart=max(_APART, (self.head.bottom - self.head.top) / 2 + _AIR))


@dataclass(frozen=True)
class _Column:
    """A rib over another: what they take of the width for all, and what their words have."""

    taken: float
    words: float
    apart: float
    """From words to the spine."""


def fishbone(frame: Box, event: SafeText, ribs: tuple[Rib, ...], key: Key) -> list[Item] | None:
    """Draw the bones with every word in place; None if some word finds no room."""
    inner = Box(frame.left, frame.top, frame.right, frame.bottom - key.height)
    for titles in _TITLES:
        head = _head(inner, event)
        if head is None:
            return None
        bones = _Bones(inner, head[0], titles)
        columns = _columns(bones, ribs)
        if columns:
            drawn = [*_spine(bones), *_ribs(bones, ribs, columns), *head[1]]
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


def _columns(bones: _Bones, ribs: tuple[Rib, ...]) -> list[_Column]:
    """Return each column, upper rib over lower; nothing if they do not all fit.

    The longest words get the most of the width: columns are made as low as the width for all allows.
    """
    low, high = 1, int(bones.zone / LINE)
    best = _needs(bones, ribs)
    while low < high and _sum(best) <= bones.room:
        middle = (low + high) // 2
        needs = _needs(replace(bones, rows=middle), ribs)
        if _sum(needs) <= bones.room:
            best, high = needs, middle
        else:
            low = middle + 1
    more = (bones.room - _sum(best)) / len(best)
    return [replace(one, taken=one.taken + more, words=one.words + more) for one in best] if more >= 0 else []


def _sum(columns: list[_Column]) -> float:
    return sum(one.taken for one in columns)


def _needs(bones: _Bones, ribs: tuple[Rib, ...]) -> list[_Column]:
    """Return each column at its least; the last before the head or clear of it, whichever takes less."""
    count = (len(ribs) + 1) // 2
    columns = [_least(bones, ribs[place::count]) for place in range(count)]
    last = _least(bones.clear(), ribs[count - 1 :: count])
    last = replace(last, taken=max(last.taken - bones.beyond, 0.0), words=max(last.words, bones.beyond))
    return [*columns[:-1], min(columns[-1], last, key=lambda one: one.taken)]


def _least(bones: _Bones, ribs: tuple[Rib, ...]) -> _Column:
    wide = max(_need(bones, rib) for rib in ribs)
    return _Column(wide, wide, bones.apart)


def _need(bones: _Bones, rib: Rib) -> float:
    """Return the least width in which a rib's words fit; infinity if none does."""
    low, high = 1, int((bones.room + bones.beyond) / _STEP)
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
    return fold(rib.name, wide - _CLEAR, bold=rib.bold)


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


def _ribs(bones: _Bones, ribs: tuple[Rib, ...], columns: list[_Column]) -> Iterator[Item]:
    starts = list(accumulate((one.taken for one in columns), initial=bones.frame.left + 6))
    for place, rib in enumerate(ribs):
        number, down = place % len(columns), -1 if place < len(columns) else 1
        column = columns[number]
        yield from _rib(replace(bones, apart=column.apart), rib, starts[number], column.words, down)


def _rib(bones: _Bones, rib: Rib, start: float, wide: float, down: int) -> Iterator[Item]:
    """Draw a rib above the spine (`down` is -1) or under it (1)."""
    title = _title(rib, wide)
    end = bones.spine + down * bones.length

    def x(y: float) -> float:
        return start + bones.slope * (bones.length - abs(y - bones.spine))

    longest = max(width(line, bold=rib.bold) for line in title)
    ink, thick = (Ink.BLACK, 1.8) if rib.twigs else (Ink.GREY, 0.9)
    yield stroke((start + longest, end), (start, end), (x(bones.spine), bones.spine), ink=ink, width=thick)
    top = end - len(title) * LINE - 1 if down < 0 else end + 2
    yield from write(title, start, top, bold=rib.bold, ink=ink)
    blocks = _blocks(bones, rib, wide) or []
    spare = bones.zone - sum(len(lines) * LINE + _AIR for _, lines in blocks) + _AIR
    gap = _AIR + min(_SPREAD, spare / max(len(blocks), 1))
    top = end + _APART if down < 0 else bones.spine + bones.apart
    for twig, lines in blocks:
        bottom = top + len(lines) * LINE
        left, y = max(x(top), x(bottom)) + _TWIG, top + LINE / 2
        drawn = look(twig.role)
        yield stroke((x(y), y), (left - 4, y), ink=drawn.ink, width=drawn.line, dash=drawn.dash)
        if twig.role:
            yield mark(twig.role, x(y), y)
        yield from write(lines, left, top, bold=drawn.bold, ink=drawn.ink)
        top = bottom + gap
