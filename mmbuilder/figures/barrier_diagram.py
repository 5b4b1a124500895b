"""Barriers in their order as upright bars: which held, which failed, which were absent.

A bar that held is solid, one that failed has a gap, one that was absent is a dashed outline; each
says so in words. An arrow goes through what failed or was absent and stops at the first that held.
Words that find no room are numbered and listed under the figure, or else on further sheets.
"""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.analysis.barriers import Barriers
from mmbuilder.figures.barriers import SPAN, Bar, Fence, ends, fence
from mmbuilder.figures.drawn import Drawn, Rows, Size, painted, room
from mmbuilder.figures.numbered import Entry, fill_area
from mmbuilder.figures.numbered import sheets as list_sheets
from mmbuilder.figures.roles import key
from mmbuilder.figures.sheet import Box, Item, Sheet
from mmbuilder.safe.terms import term
from mmbuilder.safe.text import EMPTY, SafeText, capital, fill, join, number, wording

LEAST = Size(14, 6)
"""Smallest room; centimetres."""

_ABOVE = 0.42
"""Share of the height that the figure keeps if its list stands under it."""

_START, _END = wording("Start"), wording("End")
"""In place of words that find no room; the list tells them."""


def draw(barriers: Barriers, size: Size) -> Drawn:
    """Draw the barriers at the size they have on the slide."""
    return Drawn(painted(compose(barriers, size)), alt(barriers), rows(barriers))


def compose(barriers: Barriers, size: Size) -> tuple[Sheet, ...]:
    """Lay the barriers out: with all their words if they find room, else numbered.

    Raises:
        ValueError: there is no barrier, or the size is too small.
    """
    if not barriers.barriers:
        raise ValueError(
            "a barrier diagram: found no barrier, expected one or more, for example a count of swabs"
        )
    wide, high = room(size, LEAST)
    return _whole(barriers, wide, high) or _over(barriers, wide, high) or _apart(barriers, wide, high)


def alt(barriers: Barriers) -> SafeText:
    """Tell the figure in the order of the barriers."""
    bars = enumerate(barriers.barriers, 1)
    told = join("; ", (fill("{n} {what}: {state}", n=n, what=b.what, state=term(b.state)) for n, b in bars))
    ways = fill("from {start} to {end}", start=barriers.start, end=barriers.end)
    return fill(
        "Barriers {ways}, in order: {told}. {outcome}.", ways=ways, told=told, outcome=_outcome(barriers)
    )


def rows(barriers: Barriers) -> Rows:
    """Return the barriers as a table."""
    head = (wording("Order"), wording("Barrier"), wording("State"))
    return (head, *((number(n), b.what, term(b.state)) for n, b in enumerate(barriers.barriers, 1)))


def _outcome(barriers: Barriers) -> SafeText:
    if barriers.stop is None:
        return wording("No barrier held: the end was reached")
    return fill("Stopped at barrier {n}: the end was not reached", n=barriers.stop + 1)


def _whole(barriers: Barriers, wide: float, high: float) -> tuple[Sheet, ...]:
    frame, names = Box(0, 0, wide, high), [capital(bar.what) for bar in barriers.barriers]
    drawn = [fence(frame, part) for part in _parts(barriers, names, wide, told=True)]
    return tuple(Sheet(wide, high, tuple(items)) for items in drawn if items) if all(drawn) else ()


def _over(barriers: Barriers, wide: float, high: float) -> tuple[Sheet, ...]:
    """Number the barriers and list them under the figure; nothing if there is no room for that."""
    made = _numbered(barriers, Box(0, 0, wide, high * _ABOVE))
    listed = made and len(made[0]) == 1 and fill_area(Box(0, high * _ABOVE + 12, wide, high), made[1])
    return (Sheet(wide, high, (*made[0][0], *listed)),) if made and listed else ()


def _apart(barriers: Barriers, wide: float, high: float) -> tuple[Sheet, ...]:
    """Number the barriers and list them on further sheets."""
    note = key((), wording("numbers: listed on the next sheet"), wide)
    made = _numbered(barriers, Box(0, 0, wide, high - note.height))
    assert made is not None, "numbers fit the least size"
    drawn = (Sheet(wide, high, (*items, *note.items(0, high))) for items in made[0])
    foot = key((), wording("numbers: as in the diagram before"), wide)
    return (*drawn, *list_sheets(wide, high, made[1], foot))


def _numbered(barriers: Barriers, frame: Box) -> tuple[list[list[Item]], tuple[Entry, ...]] | None:
    """Draw numbers under the bars; the start and the end keep their words if these have room."""
    names = [number(n) for n, _ in enumerate(barriers.barriers, 1)]
    for told in (True, False):
        parts = _parts(barriers, names, frame.right - frame.left, told=told)
        drawn = [items for items in (fence(frame, part) for part in parts) if items]
        if len(drawn) == len(parts):
            return drawn, tuple(_entries(barriers, told=told))
    return None


def _entries(barriers: Barriers, *, told: bool) -> Iterator[Entry]:
    if not told:
        for word, what in ((_START, barriers.start), (_END, barriers.end)):
            yield Entry(EMPTY, (fill("{word}: {what}", word=word, what=what),), bold=True, heading=True)
    for n, bar in enumerate(barriers.barriers, 1):
        yield Entry(number(n), (fill("{what}: {state}", what=capital(bar.what), state=term(bar.state)),))


def _parts(barriers: Barriers, names: list[SafeText], wide: float, *, told: bool) -> list[Fence]:
    """Part the barriers into sheets, each with as many as its width holds."""
    bars = [Bar(name, bar.state) for name, bar in zip(names, barriers.barriers, strict=True)]
    most = max(1, int((wide - 2 * ends(wide)) / SPAN))
    sheets = -(-len(bars) // most)
    each = -(-len(bars) // sheets)
    return [_part(barriers, bars, first, each, told=told) for first in range(0, len(bars), each)]


def _part(barriers: Barriers, bars: list[Bar], first: int, each: int, *, told: bool) -> Fence:
    shown, stop = tuple(bars[first : first + each]), barriers.stop
    last = first + each >= len(bars)
    start = (barriers.start if told else _START) if not first else wording("from the sheet before")
    end = (barriers.end if told else _END) if last else wording("on the next sheet")
    arrives = stop is None or stop >= first
    here = None if stop is None else stop - first
    return Fence(start, shown, end, here if here is not None and here < len(shown) else None, arrives, last)
