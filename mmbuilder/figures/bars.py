"""Bars over a stretch of time: phases, recordings. Each has its name inside, or above if it is short."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from mmbuilder.figures.axis import Axis
from mmbuilder.figures.layout import Label, Placement, place
from mmbuilder.figures.style import LINE, width
from mmbuilder.safe.moment import Known, Moment, clock
from mmbuilder.safe.text import SafeText, fill

HEIGHT = 17.0
"""Of one bar; points."""

ROWS = 3
"""Most rows of bars that overlap in time."""

_AIR = 3.0
"""Between a name and the end of its bar, or a pole; points."""


@dataclass(frozen=True)
class Bar:
    """One bar; minutes. `end` is None while it is not known to have ended.

    Attributes:
        row: 0 is the lowest.
        inside: left end of its name within it; None if there is no room.
    """

    place: int
    name: SafeText
    start: float
    end: float | None
    row: int
    inside: float | None


@dataclass(frozen=True)
class Bars:
    """Bars and the names that stand above them."""

    bars: tuple[Bar, ...]
    names: Placement

    def unnamed(self, until: float) -> tuple[SafeText, ...]:
        """Return the names that found no room, with their start, of bars that had begun by `until`."""
        lost = {label.key for label in self.names.unplaced}
        return tuple(
            fill("{name} from {when}", when=clock(Moment(bar.start, bar.start, Known.EXACT)), name=bar.name)
            for bar in self.bars
            if bar.place in lost and bar.start <= until
        )

    @property
    def rows(self) -> int:
        """Rows of bars."""
        return max((bar.row + 1 for bar in self.bars), default=0)

    @property
    def height(self) -> float:
        """Height of rows of bars and of names; points."""
        return self.rows * (HEIGHT + 2) + self.names.rows * LINE


def bars(
    stretches: Iterable[tuple[SafeText, Moment, Moment]], axis: Axis, poles: tuple[float, ...], *, tight: bool
) -> Bars:
    """Give every stretch with a known start a bar and its name a place; if `tight`, one row of bars."""
    made: list[Bar] = []
    rows = 1 if tight else ROWS
    for index, (name, start, end) in enumerate(stretches):
        if start.centre is not None and axis.scales:
            made.append(_bar(index, name, (start.centre, end.centre), axis, poles, made, rows))
    outside = [_label(bar, axis) for bar in made if bar.inside is None]
    return Bars(tuple(made), place(outside, axis.left, axis.right, rows=0 if tight else 1, inline=False))


def _bar(
    index: int,
    name: SafeText,
    ends: tuple[float, float | None],
    axis: Axis,
    poles: tuple[float, ...],
    made: list[Bar],
    rows: int,
) -> Bar:
    start, end = ends
    last = axis.scales[-1].panel.end
    stop = last if end is None else max(end, start)
    taken = {bar.row for bar in made if bar.start < stop and (last if bar.end is None else bar.end) > start}
    row = next((row for row in range(rows) if row not in taken), rows - 1)
    room = width(name) + 2 * _AIR
    slots = (left for left, right in _slots(start, stop, axis, poles) if right - left >= room)
    left = next(slots, None) if row not in taken else None
    return Bar(index, name, start, end, row, None if left is None else left + _AIR)


def _slots(start: float, end: float, axis: Axis, poles: tuple[float, ...]) -> Iterator[tuple[float, float]]:
    """Stretches of a bar that no pole runs through."""
    for left, right in axis.pieces(start, end):
        edges = [left, *sorted(pole for pole in poles if left < pole < right), right]
        yield from pairwise(edges)


def _label(bar: Bar, axis: Axis) -> Label:
    end = axis.scales[-1].panel.end if bar.end is None else bar.end
    pieces = axis.pieces(bar.start, end) or [(axis.x(bar.start),) * 2]
    left, right = max(pieces, key=lambda piece: piece[1] - piece[0])
    return Label(bar.place, (left + right) / 2, width(bar.name), left, right)
