"""The lanes of events and decisions: which entry stands where, and which of them are labelled."""

from __future__ import annotations

from dataclasses import dataclass, replace

from mmbuilder.analysis.timeline import MOST_LABELS
from mmbuilder.figures.axis import Axis
from mmbuilder.figures.entries import Entry, Key, Lane
from mmbuilder.figures.labels import Board, Spot, Wish, settle
from mmbuilder.figures.letters import Letters
from mmbuilder.figures.numbers import Numbered, Tag, tags
from mmbuilder.figures.style import LINE
from mmbuilder.safe.text import SafeText, fill, join

REACH = 6.5
"""Half of a mark, and of the ground around it; points."""

ARROW = 24.0
"""Length of the open arrow of an event known only to be before or after; points."""

_EACH = 2
"""So many of every panel come before the rest, so that no part of the story is mute."""


@dataclass(frozen=True)
class LanePlan:
    """One lane: rows above its marks, its labels, and below them the numbers of marks without one."""

    lane: Lane
    rows: int
    spots: tuple[Spot, ...]
    tags: tuple[Tag, ...] = ()

    @property
    def height(self) -> float:
        """Height of its rows; points."""
        return LINE * (self.rows + 1) + 3 + self.foot

    @property
    def foot(self) -> float:
        """Height of the row of numbers; points."""
        return LINE if self.tags else 0.0

    def marks(self, bottom: float) -> float:
        """Return how far down the marks stand, if the lane ends at `bottom`; points."""
        return bottom - self.foot - LINE / 2 - 1


def lane_plans(
    members: dict[Lane, list[Entry]],
    axis: Axis,
    letters: Letters,
    flown: frozenset[Key],
    poles: tuple[float, ...],
    rows: dict[Lane, int],
    right: float,
) -> dict[Lane, LanePlan]:
    """Label the entries of each lane that fly no flag, the most important first."""
    made, left = {}, MOST_LABELS - len(flown)
    seams = tuple((before + after) / 2 for before, after, _ in axis.breaks)
    for lane, entries in members.items():
        wishes = {entry.key: _wish(entry, axis, letters, flown) for entry in entries}
        board = Board(axis.left - REACH, right, rows[lane], poles, tuple(wishes.values()), seams)
        asking = [wishes[entry.key] for entry in in_turn(entries, axis) if wishes[entry.key].captions]
        decisions = lane is Lane.DECISIONS
        spots = settle(asking, board, len(asking) if decisions else left)
        left -= 0 if decisions else len(spots)
        made[lane] = LanePlan(lane, max([spot.rows[-1] for spot in spots], default=0), spots)
    return made


def numbered(
    plan: LanePlan, entries: list[Entry], axis: Axis, numbers: dict[Key, int], poles: tuple[float, ...]
) -> LanePlan:
    """Give a lane the numbers of those of its entries that have one."""
    marks = (Numbered(e.key, numbers[e.key], mark_x(e, axis)) for e in entries if e.key in numbers)
    return replace(plan, tags=tags(marks, axis.left - REACH, axis.right + REACH, poles))


def in_turn(entries: list[Entry], axis: Axis) -> list[Entry]:
    """Order by what matters: marks and complications, some of every panel and those with a note, the rest."""
    ranked = sorted(entries, key=lambda entry: (entry.rank, _minutes(entry)))
    first: set[Key] = set()
    for scale in axis.scales:
        inside = [e for e in ranked if scale.panel.start <= _minutes(e) <= scale.panel.end]
        first |= {entry.key for entry in inside[:_EACH]}
    return sorted(ranked, key=lambda e: e.rank > 1 and e.key not in first and not e.disputed)


def _minutes(entry: Entry) -> float:
    return entry.at.centre if entry.at.centre is not None else float("inf")


def _wish(entry: Entry, axis: Axis, letters: Letters, flown: frozenset[Key]) -> Wish:
    left, right = span(entry, axis)
    captions = () if entry.key in flown else _lettered(entry, letters)
    return Wish(entry.key, mark_x(entry, axis), left, right, captions)


def _lettered(entry: Entry, letters: Letters) -> tuple[SafeText, ...]:
    """Put the letter of its note behind the words of an entry whose sources do not agree; at least that."""
    letter = letters.of(entry.key) if entry.disputed else None
    if not letter:
        return entry.captions
    note = fill("({letter})", letter=letter)
    return (*(join(" ", (text, note)) for text in entry.captions), note)


def mark_x(entry: Entry, axis: Axis) -> float:
    """Return where an entry's mark stands; it must have a place in time."""
    assert entry.at.centre is not None
    return axis.x(entry.at.centre)


def span(entry: Entry, axis: Axis) -> tuple[float, float]:
    """Return how far an entry reaches: bar of uncertainty, open arrow, times of other sources."""
    x = mark_x(entry, axis)
    left, right = x - REACH, x + REACH
    if entry.at.lo is None:
        left = x - ARROW - 2
    elif entry.at.hi is None:
        right = x + ARROW + 2
    else:
        left, right = min(left, axis.x(entry.at.lo) - 2), max(right, axis.x(entry.at.hi) + 2)
    centres = [axis.x(other.centre) for other in entry.others if other.centre is not None]
    return min([left, *(c - REACH for c in centres)]), max([right, *(c + REACH for c in centres)])
