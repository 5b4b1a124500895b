"""A case of nothing but clocks and one moment, so that `case.clocks` can be asked before there is a case."""

from __future__ import annotations

from typing import Any

from pydantic_core import PydanticCustomError

from mmbuilder.case.clocks import Reckoner
from mmbuilder.case.freetext import FreeText
from mmbuilder.case.model import Anchor, Case, Clock, Event, Timeline
from mmbuilder.case.when import Day, When, parse_day
from mmbuilder.safe.terms import EventKind


def clock(
    name: str, *, reference: bool = False, anchors: tuple[Anchor, ...] = (), starts: When | None = None
) -> Clock:
    """Return a clock with at most two anchors."""
    first, second = (*anchors, None, None)[:2]
    parts: dict[str, Any] = {"anchor": first, "second_anchor": second, "starts": starts}
    return Clock.model_construct(name=name, reference=reference, **parts)


def day_of(words: str) -> Day | None:
    """Return Day 0 as the case has it; None where it cannot be read, which is told where it is written."""
    try:
        return parse_day(words) if words else None
    except PydanticCustomError:
        return None


def reckoner(clocks: tuple[Clock, ...], moment: When, day_zero: Day | None = None) -> Reckoner:
    """Return the sums of a case with these clocks, whose index event is at a moment."""
    event = Event.model_construct(id="moment", kind=EventKind.NOTE, what=FreeText("one moment"), when=moment)
    timeline = Timeline.model_construct(index_event="moment", day_zero=day_zero, events=(event,))
    parts: dict[str, Any] = {"clocks": clocks, "timeline": timeline}
    return Reckoner(Case.model_construct(**parts))
