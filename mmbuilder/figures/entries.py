"""What stands in the lanes: events and decisions with their labels, shapes and numbers."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

from mmbuilder.analysis.timeline import Timeline
from mmbuilder.figures.sheet import Shape
from mmbuilder.safe.case import Event
from mmbuilder.safe.moment import Moment
from mmbuilder.safe.terms import EventKind, Sureness, term
from mmbuilder.safe.text import EMPTY, SafeText, clip, fill, join, wording

WORDS = 6
"""Longest label."""


class Lane(StrEnum):
    """Lanes with labels, from the top."""

    EVENTS = "events"
    DECISIONS = "decisions"
    DRUGS = "drugs"
    PEOPLE = "people"


NAMES = {
    Lane.EVENTS: wording("Events"),
    Lane.DECISIONS: wording("Decisions"),
    Lane.DRUGS: wording("Drugs"),
    Lane.PEOPLE: wording("People"),
}

_LANES = {
    EventKind.DRUG: Lane.DRUGS,
    EventKind.CALL: Lane.PEOPLE,
    EventKind.ARRIVAL: Lane.PEOPLE,
}

_SHAPES = {
    EventKind.FIRST_SIGN: Shape.DOT,
    EventKind.RECOGNITION: Shape.DOT,
    EventKind.RESPONSE: Shape.DOT,
    EventKind.RESOLUTION: Shape.DOT,
    EventKind.COMPLICATION: Shape.UP,
    EventKind.DRUG: Shape.DOWN,
    EventKind.CALL: Shape.RING,
    EventKind.ARRIVAL: Shape.RIGHT,
    EventKind.NOTE: Shape.SQUARE,
}

STRONG = frozenset({EventKind.FIRST_SIGN, EventKind.RECOGNITION, EventKind.RESPONSE})
"""The three marks with the strongest ink."""

Key = tuple[str, int]
"""("event" or "decision", its number)."""


@dataclass(frozen=True)
class Entry:
    """One mark in a lane.

    Attributes:
        number: its place in the whole story, from 1; what stands for its label when there are many.
        others: times from sources that do not agree, drawn hollow.
        after: the event told before it, for one that has no time.
    """

    key: Key
    number: int
    lane: Lane
    at: Moment
    text: SafeText
    shape: Shape
    strong: bool = False
    others: tuple[Moment, ...] = ()
    after: Moment | None = None


def entries(timeline: Timeline) -> tuple[Entry, ...]:
    """Return all entries in the order of the story."""
    found: list[tuple[float, Entry]] = []
    last: Moment | None = None
    for event in timeline.events:
        found.append((_time(event.at, last), _of_event(event, None if event.at.placed else last)))
        last = event.at if event.at.placed else last
    for number, moment, words in timeline.decisions:
        entry = Entry(("decision", number), 0, Lane.DECISIONS, moment, clip(words, WORDS), Shape.DIAMOND)
        found.append((_time(moment, None), entry))
    # Sorting is stable: an event of unknown time stays behind the one told before it.
    ordered = [entry for _, entry in sorted(found, key=lambda pair: pair[0])]
    return tuple(replace(entry, number=place) for place, entry in enumerate(ordered, start=1))


def _time(moment: Moment, before: Moment | None) -> float:
    centre = moment.centre if moment.placed or before is None else before.centre
    return float("-inf") if centre is None else centre


def _of_event(event: Event, after: Moment | None) -> Entry:
    return Entry(
        key=("event", event.number),
        number=0,
        lane=_LANES.get(event.kind, Lane.EVENTS),
        at=event.at,
        text=label(event),
        shape=_SHAPES.get(event.kind, Shape.DOT),
        strong=event.kind in STRONG,
        others=tuple(other.at for other in event.others if other.at.placed),
        after=after,
    )


def label(event: Event) -> SafeText:
    """Return the words on the chart: the author's label or the first of the text, dose, and any doubt."""
    words = clip(event.label or event.what, WORDS)
    dose = EMPTY if event.dose and event.dose.within(words) else clip(event.dose, WORDS)
    doubt = EMPTY if event.sure is Sureness.CERTAIN else fill("({sure})", sure=_doubt(event.sure))
    return join(" ", (words, dose, doubt))


def _doubt(sure: Sureness) -> SafeText:
    return wording("certainty unknown") if sure is Sureness.UNKNOWN else term(sure)
