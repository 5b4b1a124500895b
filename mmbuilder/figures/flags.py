"""The three marks over the full height of the chart, and the lengths of time between them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import product

from mmbuilder.analysis.describe import lengths
from mmbuilder.analysis.timeline import Interval, Mark, Timeline
from mmbuilder.figures.axis import Axis
from mmbuilder.figures.style import BIG, width
from mmbuilder.safe.case import Event
from mmbuilder.safe.moment import Moment, clock, duration
from mmbuilder.safe.terms import Noticed, Recognised
from mmbuilder.safe.text import SafeText, fill, wording

ROWS = 3
"""Most rows of brackets."""

ROW = BIG * 1.15
"""Height of one row of brackets; points."""

_BETWEEN = 8.0
"""Room at each side of a length that stands between its ends; points."""

_WIDEST = 0.45
"""Share of the chart that a bracket's text may take up."""

_WORDS = {
    Mark.FIRST_SIGN: wording("FIRST SIGN"),
    Mark.RECOGNITION: wording("RECOGNITION"),
    Mark.RESPONSE: wording("RESPONSE"),
    Mark.RESOLUTION: wording("RESOLUTION"),
}


@dataclass(frozen=True)
class Flag:
    """A mark to be flown from the top; a `second` one (noted later, cause found) is shorter and lighter."""

    number: int
    mark: Mark
    at: Moment
    text: SafeText
    second: bool

    @property
    def strongest(self) -> bool:
        """Whether it is one of the three marks that come first of all."""
        return self.mark is not Mark.RESOLUTION and not self.second


def flags(timeline: Timeline) -> tuple[Flag, ...]:
    """Return the marks that fly a flag: the first of each, and of each sort of sign and recognition."""
    return tuple(
        Flag(event.number, mark, event.at, _text(mark, event, chosen), event is not chosen[0])
        for mark, numbers in timeline.marks
        for chosen in [_chosen(mark, [timeline.event(number) for number in numbers])]
        for event in chosen
    )


def _chosen(mark: Mark, bearers: list[Event]) -> list[Event]:
    """Return the earliest, and the earliest of another sort: noted then, or of the cause."""
    placed = [event for event in bearers if event.at.placed]
    first = placed[:1]
    other = [
        event for event in placed[1:] if first and _sort(mark, event) not in (None, _sort(mark, first[0]))
    ]
    return first + other[:1]


def _sort(mark: Mark, event: Event) -> Noticed | Recognised | None:
    if mark is Mark.FIRST_SIGN:
        return event.noticed
    return event.recognised if mark is Mark.RECOGNITION else None


def _text(mark: Mark, event: Event, chosen: list[Event]) -> SafeText:
    return fill("{word} {when}", word=_word(mark, event, chosen), when=clock(event.at))


def _word(mark: Mark, event: Event, chosen: list[Event]) -> SafeText:
    """Return the name of a mark; a second one says only what is different about it."""
    sort, second = _sort(mark, event), event is not chosen[0]
    if second:
        return _SECOND[sort] if sort else _WORDS[mark]
    if len(chosen) == 1 and sort in _ALONE:
        return fill("{word} {sort}", word=_WORDS[mark], sort=_ALONE[sort])
    return _WORDS[mark]


_ALONE: dict[Noticed | Recognised | None, SafeText] = {
    Noticed.IN_HINDSIGHT: wording("in hindsight"),
    Recognised.CAUSE: wording("of cause"),
}

_SECOND: dict[Noticed | Recognised, SafeText] = {
    Noticed.AT_THE_TIME: wording("noted"),
    Noticed.IN_HINDSIGHT: wording("in hindsight"),
    Recognised.COMPLICATION: wording("complication"),
    Recognised.CAUSE: wording("cause"),
}


@dataclass(frozen=True)
class Bracket:
    """An interval drawn between its two ends.

    Attributes:
        start, end: where it runs; points.
        text: its length.
        left: left end of the text.
        row: 0 is the lowest.
    """

    start: float
    end: float
    text: SafeText
    left: float
    row: int


def brackets(
    timeline: Timeline, axis: Axis, *, tight: bool = False
) -> tuple[tuple[Bracket, ...], tuple[Interval, ...]]:
    """Place the known intervals in as few rows as possible; return them and those told in words instead."""
    drawn = [interval for interval in timeline.intervals if _ends(interval, timeline) is not None]
    drawn = drawn[:2] if tight else drawn
    told = [
        interval for interval in timeline.intervals if interval not in drawn or not _short(interval, axis)
    ]
    tried = [_stacked(choice) for choice in product(*(_places(i, timeline, axis) for i in drawn))]
    made = min(tried, key=lambda brackets: sum(bracket.row for bracket in brackets), default=())
    return made, tuple(told)


def _ends(interval: Interval, timeline: Timeline) -> tuple[float, float] | None:
    if interval.start is None or interval.end is None or not interval.elapsed.known:
        return None
    start, end = timeline.event(interval.start).at.centre, timeline.event(interval.end).at.centre
    return None if start is None or end is None else (start, end)


def _short(interval: Interval, axis: Axis) -> bool:
    """Whether all its lengths can stand on the bracket; if not, the notes tell them."""
    return width(lengths(interval), BIG, bold=True) <= _WIDEST * axis.right


def _places(interval: Interval, timeline: Timeline, axis: Axis) -> list[Bracket]:
    """Return where it may stand: text between its ends, else right or left of them."""
    ends = _ends(interval, timeline)
    assert ends is not None
    start, end = sorted((axis.x(ends[0]), axis.x(ends[1])))
    text = (
        lengths(interval) if _short(interval, axis) else fill("{length} *", length=duration(interval.elapsed))
    )
    wide = width(text, BIG, bold=True)
    if end - start >= wide + 2 * _BETWEEN + 12:
        return [Bracket(start, end, text, (start + end - wide) / 2, 0)]
    beside = (end + _BETWEEN, start - _BETWEEN - wide)
    found = [Bracket(start, end, text, left, 0) for left in beside if 0 <= left <= axis.right - wide]
    return found or [Bracket(start, end, text, max(axis.right - wide, 0.0), 0)]


def _stacked(choice: tuple[Bracket, ...]) -> tuple[Bracket, ...]:
    made: list[Bracket] = []
    for bracket in choice:
        row = next(row for row in range(ROWS) if not any(_meet(bracket, o) for o in made if o.row == row))
        made.append(replace(bracket, row=row))
    return tuple(made)


def reach(bracket: Bracket) -> tuple[float, float]:
    """From end to end, text included."""
    right = bracket.left + width(bracket.text, BIG, bold=True)
    return min(bracket.start, bracket.left), max(bracket.end, right)


def _meet(one: Bracket, two: Bracket) -> bool:
    """Whether they cannot share a row; two that only share an end may."""
    first, second = sorted((reach(one), reach(two)))
    touching = abs(one.end - two.start) < 0.5 or abs(two.end - one.start) < 0.5
    return first[1] > second[0] + 0.5 or (first[1] > second[0] - 4 and not touching)
