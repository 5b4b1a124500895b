"""What every slide kind is given: the case, what was computed from it, and its line in the use."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TypeAlias

from mmbuilder.analysis.cause_grid import CauseGrid
from mmbuilder.analysis.timeline import Mark, Timeline
from mmbuilder.safe.case import Decision, Event, Frame, ScrubbedCase
from mmbuilder.safe.moment import Moment
from mmbuilder.safe.text import EMPTY, SafeText, fill, number, wording
from mmbuilder.storyboard.blocks import Facts
from mmbuilder.uses import Planned, UseSpec


@dataclass(frozen=True)
class Context:
    """The material of one storyboard, for one planned entry."""

    case: ScrubbedCase
    timeline: Timeline
    grid: CauseGrid
    spec: UseSpec
    planned: Planned
    working: bool = False
    """Whether every step of a computed figure is shown."""

    @property
    def seconds(self) -> int:
        """Time for this entry as a whole."""
        return round(self.planned.minutes * 60)

    @property
    def age(self) -> SafeText:
        """Age as this use may tell it."""
        return self.case.patient.age_decade if self.spec.age == "decade" else self.case.patient.age

    @property
    def on_slides(self) -> bool:
        """Whether this entry is one of the deck, and not of a paper."""
        return self.planned in self.spec.slides

    @property
    def weighed(self) -> tuple[Decision, ...]:
        """The decisions that this entry has room for, in order: of too many, first those with a thought."""
        decisions, most = self.case.decisions, self.planned.decisions or None
        thoughts = self.case.reflection.thoughts if self.case.reflection else ()
        thought = {one.event for one in thoughts}
        kept = sorted(decisions, key=lambda decision: decision.event not in thought)[:most]
        return tuple(decision for decision in decisions if decision in kept)

    def first(self, mark: Mark) -> Event | None:
        """The earliest event that bears the mark."""
        for name, numbers in self.timeline.marks:
            if name is mark and numbers:
                return self.timeline.event(numbers[0])
        return None

    def when(self, item: Frame | Decision) -> Moment | None:
        """When a frame or a decision stands in the story: its own time, else that of its event."""
        if item.at is not None and item.at.placed:
            return item.at
        return None if item.event is None else self.timeline.event(item.event).at


Line: TypeAlias = tuple[str, SafeText, SafeText]
"""A labelled line that a use may name: (its name, label, text)."""


def facts(lines: Iterable[Line], wanted: tuple[str, ...]) -> Facts:
    """Return the lines that a use wants, in its order (all by default), less those that are empty."""
    told = [line for line in lines if not wanted or line[0] in wanted]
    if wanted:
        told.sort(key=lambda line: wanted.index(line[0]))
    return filled((label, text) for _, label, text in told)


def filled(rows: Iterable[tuple[SafeText, SafeText]]) -> Facts:
    """Return labelled lines, less those that are empty."""
    return Facts(tuple((label, text) for label, text in rows if text))


HEADLINE = 100
"""Characters that fit two lines of headline beside the DRAFT stamp."""


def titled(text: SafeText, otherwise: SafeText) -> tuple[SafeText, SafeText]:
    """Return (headline, what is left to say): a text too long for a headline goes to the body whole."""
    return (text, EMPTY) if len(text) <= HEADLINE else (otherwise, text)


_SMALL = (
    wording("no"),
    wording("one"),
    wording("two"),
    wording("three"),
    wording("four"),
    wording("five"),
    wording("six"),
    wording("seven"),
    wording("eight"),
    wording("nine"),
    wording("ten"),
)


def counted(count: int, one: SafeText, many: SafeText) -> SafeText:
    """`three risks`, `one risk`, `12 risks`."""
    return fill("{word} {noun}", word=spelled(count), noun=one if count == 1 else many)


def spelled(count: int) -> SafeText:
    """`three`, `12`: small numbers as words."""
    return _SMALL[count] if count < len(_SMALL) else number(count)
