"""Bars between a start and an end, and the arrow that goes as far as the bars let it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from mmbuilder.figures.fold import centred, fold
from mmbuilder.figures.sheet import Box, Dash, Fill, Item, rectangle, stroke
from mmbuilder.figures.style import LINE, Ink
from mmbuilder.safe.terms import BarrierState, term
from mmbuilder.safe.text import EMPTY, SafeText, capital, wording

SPAN = 62.0
"""Least distance between two bars: the longest word for a state, with air; points."""

_THICK = 18.0
"""Of a bar."""

_HOLE = 40.0
"""Height of the gap in a bar that failed."""

_TALL = 76.0
"""A bar is at least so tall."""

_AIR = 5.0


@dataclass(frozen=True)
class Bar:
    """A barrier with the words under it."""

    name: SafeText
    state: BarrierState


@dataclass(frozen=True)
class Fence:
    """What one sheet shows.

    Attributes:
        stop: place of the bar that stops the arrow, if one of these does.
        arrives: whether the arrow gets as far as this sheet.
        last: whether `end` is what it would reach, and not the next sheet.
    """

    start: SafeText
    bars: tuple[Bar, ...]
    end: SafeText
    stop: int | None
    arrives: bool
    last: bool

    @property
    def through(self) -> bool:
        """Whether the arrow leaves at the right."""
        return self.arrives and self.stop is None


@dataclass(frozen=True)
class _Lay:
    """Where everything goes."""

    frame: Box
    count: int
    names: int
    """Lines of words under the bars."""

    @property
    def ends(self) -> float:
        return ends(self.frame.right - self.frame.left)

    @property
    def top(self) -> float:
        return self.frame.top + LINE + _AIR

    @property
    def bottom(self) -> float:
        return self.frame.bottom - self.names * LINE - _AIR

    @property
    def middle(self) -> float:
        return (self.top + self.bottom) / 2

    @property
    def span(self) -> float:
        return (self.frame.right - self.frame.left - 2 * self.ends) / self.count

    def x(self, place: int) -> float:
        return self.frame.left + self.ends + (place + 0.5) * self.span


def ends(wide: float) -> float:
    """Width of what stands at either end; points."""
    return min(max(0.15 * wide, 84.0), 150.0)


def fence(frame: Box, part: Fence) -> list[Item] | None:
    """Draw one sheet in a frame; None if some word finds no room."""
    lay = _Lay(frame, len(part.bars), 0)
    names = [fold(bar.name, lay.span - 2 * _AIR) for bar in part.bars]
    tips = [fold(words, lay.ends - 16, bold=True) for words in (part.start, part.end)]
    lay = _Lay(frame, len(part.bars), max(map(len, names)))
    tall = max(_TALL, *(len(lines) * LINE + 16 for lines in tips))
    if not all((*names, *tips)) or lay.bottom - lay.top < tall:
        return None
    bars = [item for place, bar in enumerate(part.bars) for item in _bar(lay, place, bar, names[place])]
    return [*bars, *_arrow(lay, part), *_tips(lay, part, tips)]


def _bar(lay: _Lay, place: int, bar: Bar, name: tuple[SafeText, ...]) -> Iterator[Item]:
    x = lay.x(place)
    yield from centred((capital(term(bar.state)),), x, lay.frame.top, bold=True)
    yield from _shape(Box(x - _THICK / 2, lay.top, x + _THICK / 2, lay.bottom), bar.state)
    yield from centred(name, x, lay.bottom + _AIR)


def _shape(box: Box, state: BarrierState) -> Iterator[Item]:
    left, top, right, bottom = box
    middle = (top + bottom) / 2
    match state:
        case BarrierState.HELD:
            yield rectangle(box, Ink.BLACK)
        case BarrierState.FAILED:
            yield rectangle(Box(left, top, right, middle - _HOLE / 2), Ink.BLACK)
            yield rectangle(Box(left, middle + _HOLE / 2, right, bottom), Ink.BLACK)
        case BarrierState.ABSENT:
            yield _edge(box, dashed=True)


def _arrow(lay: _Lay, part: Fence) -> Iterator[Item]:
    if part.arrives:
        start = lay.frame.left + lay.ends - 8
        tip = lay.frame.right - lay.ends + 7 if part.stop is None else lay.x(part.stop) - _THICK / 2 - 2
        yield stroke((start, lay.middle), (tip - 12, lay.middle), ink=Ink.BLUE, width=5)
        yield Fill(((tip - 15, lay.middle - 10), (tip, lay.middle), (tip - 15, lay.middle + 10)), Ink.BLUE)


def _tips(lay: _Lay, part: Fence, tips: list[tuple[SafeText, ...]]) -> Iterator[Item]:
    """Draw the start and the end; an end that was not reached has a dashed edge and says so."""
    half = lay.ends / 2 - 4
    middles = lay.frame.left + half, lay.frame.right - half
    outcome = EMPTY if not part.last else wording("Reached") if part.through else wording("Not reached")
    for x, lines, reached in zip(middles, tips, (True, part.through or not part.last), strict=True):
        high = len(lines) * LINE + 12
        left, top, right, bottom = x - half + 2, lay.middle - high / 2, x + half - 2, lay.middle + high / 2
        yield _edge(Box(left, top, right, bottom), dashed=not reached)
        yield from centred(lines, x, top + 6, bold=True)
    if outcome:
        yield from centred((outcome,), middles[1], top - LINE - _AIR, bold=True)


def _edge(box: Box, *, dashed: bool) -> Item:
    left, top, right, bottom = box
    if not dashed:
        return rectangle(box, Ink.WHITE, Ink.BLACK, 2.5)
    corners = ((left, top), (right, top), (right, bottom), (left, bottom), (left, top))
    return stroke(*corners, ink=Ink.GREY, width=1.8, dash=Dash.DASHED)
