"""Which side of the body: a figure facing the reader, the operated side filled and named in words."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.analysis.marked_side import Marked
from mmbuilder.figures.drawn import Drawn, Rows, Size, painted, room
from mmbuilder.figures.face import pointer
from mmbuilder.figures.fold import fold, fold_all, write
from mmbuilder.figures.sheet import Dots, Fill, Item, Point, Shape, Sheet, Words
from mmbuilder.figures.style import BIG, LINE, TEXT, Ink, width
from mmbuilder.safe.terms import Side, term
from mmbuilder.safe.text import SafeText, capital, clip, fill, join, wording

LEAST = Size(14, 8)
"""Smallest room; centimetres."""

_SEEN = wording("seen from the front: the patient's right is on the reader's left")

_NAMES = {Side.RIGHT: wording("Patient's right"), Side.LEFT: wording("Patient's left")}

_NAMES_AT = 0.68
"""How far down the sides are named, beside the legs; share of the height."""

_LEG, _ARM = 0.11, 0.205
"""How far leg and arm reach from the middle; share of the height."""

_LINE = 210.0
"""Longest line of small words; points."""

# Half of an outline, from the crown down and back up the middle: share of the height, outwards and down.
_HALF: tuple[Point, ...] = (
    (0, 0.005), (0.03, 0.012), (0.052, 0.035), (0.06, 0.07), (0.052, 0.11), (0.03, 0.142), (0.03, 0.17),
    (0.1, 0.19), (0.14, 0.215), (0.16, 0.27), (0.19, 0.42), (0.205, 0.53), (0.19, 0.56), (0.168, 0.53),
    (0.152, 0.42), (0.122, 0.3), (0.108, 0.29), (0.096, 0.42), (0.112, 0.53), (0.105, 0.75), (0.084, 0.95),
    (0.1, 0.985), (0.094, 0.995), (0.035, 0.995), (0.036, 0.95), (0.026, 0.75), (0.006, 0.56), (0, 0.55),
)  # fmt: skip


def draw(marked: Marked, size: Size) -> Drawn:
    """Draw the figure at the size it has on the slide."""
    return Drawn(painted(compose(marked, size)), alt(marked), rows(marked))


def compose(marked: Marked, size: Size) -> tuple[Sheet, ...]:
    """Lay the figure out.

    Raises:
        ValueError: there is no side to mark, or the size is too small.
    """
    if marked.side is Side.NONE:
        raise ValueError(f"a side to mark: found '{marked.side.value}', expected right, left or both")
    wide, high = room(size, LEAST)
    return (Sheet(wide, high, tuple(_items(marked, wide, high))),)


def alt(marked: Marked) -> SafeText:
    """Tell which side is marked."""
    return fill("{said}. Figure {seen}.", said=_said(marked), seen=_SEEN)


def rows(marked: Marked) -> Rows:
    """Return side and part as a table."""
    return ((wording("Side"), wording("Part")), (term(marked.side), marked.part))


def _said(marked: Marked) -> SafeText:
    sides = (
        wording("Both sides") if marked.side is Side.BOTH else fill("{s} side", s=capital(term(marked.side)))
    )
    return join(": ", (sides, marked.part))


def _items(marked: Marked, wide: float, high: float) -> Iterator[Item]:
    x, names = wide / 2, _NAMES_AT * high
    for side, way in ((Side.RIGHT, -1), (Side.LEFT, 1)):
        yield from _half(x, high, way, meant=marked.meant(side))
        yield from _name(side, x + way * (_LEG * high + 12), names, way, meant=marked.meant(side))
    yield from _head(marked, x - _ARM * high - 20, names - 1.5 * LINE)


def _half(x: float, high: float, way: int, *, meant: bool) -> Iterator[Item]:
    """Draw the half of the body that lies this way of the middle (-1 is the reader's left)."""
    points = tuple((x + way * across * high, down * high) for across, down in _HALF)
    yield Fill(points, Ink.BLUE if meant else Ink.WHITE, Ink.BLACK, 1.8)
    eye = (x + way * 0.024 * high, 0.066 * high)
    yield Dots((eye,), Shape.DOT, 0.018 * high, Ink.WHITE if meant else Ink.BLACK)


def _name(side: Side, edge: float, y: float, way: int, *, meant: bool) -> Iterator[Item]:
    """Name a side; an arrow points from the name to the side that is meant."""
    if meant:
        yield pointer((edge, y), (-way, 0))
    name = _NAMES[side]
    size, ink = (16.0, Ink.BLACK) if meant else (TEXT, Ink.GREY)
    start = edge + 20 if way > 0 else edge - 20 - width(name, size, bold=meant)
    yield Words(start, y + size * 0.3, name, size, meant, ink)


def _head(marked: Marked, column: float, bottom: float) -> Iterator[Words]:
    """Write the side in words at the upper left, as large as there is room for."""
    seen = fold(_SEEN, min(column, _LINE))
    left = bottom - len(seen) * LINE
    said, size, step = _fitted(_said(marked), column, left)
    for place, line in enumerate(said):
        yield Words(0, size * 0.8 + place * step, line, size, bold=True)
    yield from write(seen, 0, len(said) * step + 2, ink=Ink.GREY)


def _fitted(said: SafeText, column: float, high: float) -> tuple[tuple[SafeText, ...], float, float]:
    """Return lines, size and step: large, or ordinary, or with an ellipsis for words without room."""
    lines = fold(said, column, BIG, bold=True)
    if lines and len(lines) * (BIG + 3) <= high:
        return lines, BIG, BIG + 3
    for count in range(said.words(), 0, -1):
        lines = fold_all(clip(said, count), column, bold=True)
        if len(lines) * LINE <= high:
            break
    return lines, TEXT, LINE
