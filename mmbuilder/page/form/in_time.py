"""The order in which the events of a case happened, for lists to choose from; the file may have another."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from typing import Any

from pydantic import ValidationError
from pydantic_core import PydanticCustomError

from mmbuilder.case.clocks import ClockFault, Reckoner
from mmbuilder.case.freetext import FreeText
from mmbuilder.case.model import Case, Clock, Event, Timeline
from mmbuilder.case.when import When, parse_day, parse_when
from mmbuilder.safe.terms import EventKind


def places(events: Sequence[Mapping[str, Any]], tree: Mapping[str, Any]) -> list[int]:
    """Return the places of events in the order of time; one without a time stays behind the one before it."""
    timeline = tree.get("timeline")
    told = {
        "events": [[str(one.get("when") or ""), str(one.get("clock") or "")] for one in events],
        "clocks": tree.get("clocks") or [],
        "zero": str(timeline.get("day zero") or "") if isinstance(timeline, Mapping) else "",
    }
    return [*_places(json.dumps(told, default=str))]


@lru_cache(maxsize=8)
def _places(told: str) -> tuple[int, ...]:
    said = json.loads(told)
    times = [_time(when) for when, _ in said["events"]]
    first = next((when for when in times if when is not None), None)
    if first is None:
        return tuple(range(len(times)))
    sums, last = _sums(said, first), float("-inf")
    keyed = list[tuple[float, int]]()
    for place, when in enumerate(times):
        at = _minutes(sums, when, said["events"][place][1])
        last = last if at is None else at
        keyed.append((last, place))
    return tuple(place for _, place in sorted(keyed))


def _time(words: str) -> When | None:
    try:
        return parse_when(words)
    except PydanticCustomError:
        return None


def _sums(said: Mapping[str, Any], first: When) -> Reckoner:
    """The clocks of the case, with the first of its times as the moment that others are counted from."""
    event = Event.model_construct(id="moment", kind=EventKind.NOTE, what=FreeText("one moment"), when=first)
    try:
        zero = parse_day(said["zero"]) if said["zero"] else None
    except PydanticCustomError:
        zero = None
    timeline = Timeline.model_construct(index_event="moment", day_zero=zero, events=(event,))
    parts: dict[str, Any] = {"clocks": tuple(_clocks(said["clocks"])), "timeline": timeline}
    return Reckoner(Case.model_construct(**parts))


def _clocks(listed: Any) -> Iterator[Clock]:
    """The clocks that can be read; a fault of another is told where it is written."""
    for one in listed if isinstance(listed, list) else ():
        try:
            yield Clock.model_validate(one)
        except ValidationError:
            continue


def _minutes(sums: Reckoner, when: When | None, clock: str) -> float | None:
    if when is None:
        return None
    try:
        return sums.moment(when, clock or None).centre
    except ClockFault:
        return None
