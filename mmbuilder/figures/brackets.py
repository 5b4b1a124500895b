"""The lengths of time between the marks: each over its bracket, or beside it if that is short."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from mmbuilder.analysis.describe import lengths
from mmbuilder.analysis.timeline import Interval, Timeline
from mmbuilder.figures.axis import Axis
from mmbuilder.figures.style import BIG, width
from mmbuilder.safe.moment import duration
from mmbuilder.safe.text import SafeText, fill

ROW = BIG + 6.0
"""Height of one row: a length, and the bracket under it; points."""

ROWS = 3
"""Most rows."""

_BESIDE = 7.0
"""Between a length and the pole or bracket it stands beside; points."""

_WIDEST = 0.4
"""Share of the chart that the words of a bracket may take up."""


@dataclass(frozen=True)
class Bracket:
    """An interval drawn between its two ends; points.

    Attributes:
        left: left end of the text.
        row: 0 is the lowest.
    """

    start: float
    end: float
    text: SafeText
    left: float
    row: int

    @property
    def right(self) -> float:
        """Right end of the text."""
        return self.left + width(self.text, BIG, bold=True)

    @property
    def over(self) -> bool:
        """Whether its text stands over it, and not beside."""
        return self.left < self.end and self.right > self.start


Stack = tuple[tuple[Bracket, ...], tuple[Interval, ...]]
"""What is drawn, and what the notes have to tell."""


def brackets(
    timeline: Timeline, axis: Axis, poles: tuple[float, ...], right: float, rows: int = ROWS
) -> Stack:
    """Place the known intervals in as few rows as will do; no pole runs through a length."""
    made: list[Bracket] = []
    told: list[Interval] = []
    for interval in timeline.intervals:
        ends = _ends(interval, timeline, axis)
        bracket = None if ends is None else _placed(interval, ends, made, poles, right, rows)
        if bracket is not None:
            made.append(bracket)
        if bracket is None or not _short(interval, right):
            told.append(interval)
    return tuple(made), tuple(told)


def _ends(interval: Interval, timeline: Timeline, axis: Axis) -> tuple[float, float] | None:
    if interval.start is None or interval.end is None or not interval.elapsed.known or not axis.scales:
        return None
    start, end = timeline.event(interval.start).at.centre, timeline.event(interval.end).at.centre
    if start is None or end is None:
        return None
    first, last = sorted((axis.x(start), axis.x(end)))
    return first, last


def _short(interval: Interval, right: float) -> bool:
    """Whether all its lengths can stand on the bracket; if not, the notes tell them."""
    return width(lengths(interval), BIG, bold=True) <= _WIDEST * right


def _placed(
    interval: Interval,
    ends: tuple[float, float],
    made: list[Bracket],
    poles: tuple[float, ...],
    right: float,
    rows: int,
) -> Bracket | None:
    text = (
        lengths(interval)
        if _short(interval, right)
        else fill("{length} *", length=duration(interval.elapsed))
    )
    for row in range(rows):
        for left in _lefts(*ends, width(text, BIG, bold=True)):
            new = Bracket(*ends, text, left, row)
            if _free(new, made, poles, right):
                return new
    return None


def _lefts(start: float, end: float, wide: float) -> Iterator[float]:
    yield (start + end - wide) / 2
    for step in range(6):
        yield end + _BESIDE + 10 * step
        yield start - _BESIDE - wide - 10 * step


def _free(new: Bracket, made: list[Bracket], poles: tuple[float, ...], right: float) -> bool:
    if new.left < 0 or new.right > right or any(new.left - 3 < pole < new.right + 3 for pole in poles):
        return False
    return not any(_meet(new, old) for old in made if old.row == new.row)


def _meet(one: Bracket, two: Bracket) -> bool:
    """Whether their texts or their lines run into each other; lines may share an end."""
    texts = one.left < two.right + 8 and two.left < one.right + 8
    lines = one.start < two.end - 0.5 and two.start < one.end - 0.5
    return texts or lines
