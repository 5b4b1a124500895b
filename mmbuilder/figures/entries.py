"""What stands in the lanes: events and decisions, their shapes, and how much each one matters."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from mmbuilder.analysis.timeline import Mark, Timeline
from mmbuilder.figures.captions import decision_captions, event_captions
from mmbuilder.figures.sheet import Shape
from mmbuilder.safe.case import Event
from mmbuilder.safe.moment import Moment
from mmbuilder.safe.terms import EventKind
from mmbuilder.safe.text import SafeText, wording


class Lane(StrEnum):
    """Lanes with labels, from the top."""

    EVENTS = "events"
    DRUGS = "drugs"
    PEOPLE = "people"
    DECISIONS = "decisions"


NAMES = {
    Lane.EVENTS: wording("Events"),
    Lane.DECISIONS: wording("Decisions"),
    Lane.DRUGS: wording("Drugs"),
    Lane.PEOPLE: wording("People"),
}

_LANES = {EventKind.DRUG: Lane.DRUGS, EventKind.CALL: Lane.PEOPLE, EventKind.ARRIVAL: Lane.PEOPLE}

_SHAPES = {
    EventKind.COMPLICATION: Shape.UP,
    EventKind.DRUG: Shape.DOWN,
    EventKind.CALL: Shape.RING,
    EventKind.ARRIVAL: Shape.RIGHT,
    EventKind.NOTE: Shape.SQUARE,
}

STRONG = frozenset({EventKind.FIRST_SIGN, EventKind.RECOGNITION, EventKind.RESPONSE})
"""The three marks with the strongest ink."""

_RANKS = (
    (EventKind.FIRST_SIGN, EventKind.RECOGNITION, EventKind.RESPONSE, EventKind.RESOLUTION),
    (EventKind.COMPLICATION,),
    (EventKind.CALL, EventKind.ARRIVAL),
    (EventKind.DRUG,),
    (EventKind.ACTION,),
    (EventKind.READING,),
    (EventKind.STEP,),
    (EventKind.NOTE,),
)
"""What is labelled first (our choice, after practice.md (b))."""

Key = tuple[str, int]
"""("event" or "decision", its number)."""


@dataclass(frozen=True)
class Entry:
    """One mark in a lane.

    Attributes:
        rank: 0 is labelled first.
        captions: its words, the fullest first.
        others: times from sources that do not agree, drawn hollow.
        disputed: sources do not agree about it in something, which a note tells.
        after: the event told before it, for one that has no time.
    """

    key: Key
    lane: Lane
    at: Moment
    rank: int
    captions: tuple[SafeText, ...]
    shape: Shape
    strong: bool = False
    others: tuple[Moment, ...] = ()
    disputed: bool = False
    after: Moment | None = None


def entries(timeline: Timeline) -> tuple[Entry, ...]:
    """Return all entries, events in the order of the story, then decisions."""
    found: list[Entry] = []
    last: Moment | None = None
    first = {numbers[0] for _, numbers in timeline.marks}
    signs = Mark.FIRST_SIGN in dict(
        timeline.marks
    )  # in a chart that is cut before they were seen, they are events
    for event in timeline.events:
        after = None if event.at.placed else last
        found.append(_of_event(event, after, marks=event.number in first, signs=signs))
        last = event.at if event.at.placed else last
    for number, moment, words in timeline.decisions:
        captions = decision_captions(number, words)
        found.append(Entry(("decision", number), Lane.DECISIONS, moment, 0, captions, Shape.DIAMOND))
    return tuple(found)


def _of_event(event: Event, after: Moment | None, *, marks: bool, signs: bool) -> Entry:
    """Return an event's entry; a second or third response is one of the deeds, and no mark of the story."""
    kind = EventKind.ACTION if event.kind is EventKind.RESPONSE and not marks else event.kind
    return Entry(
        key=("event", event.number),
        lane=_LANES.get(event.kind, Lane.EVENTS),
        at=event.at,
        rank=next(rank for rank, kinds in enumerate(_RANKS) if kind in kinds),
        captions=event_captions(event),
        shape=_SHAPES.get(event.kind, Shape.DOT),
        strong=event.kind in STRONG and (signs or event.kind is not EventKind.FIRST_SIGN),
        others=tuple(other.at for other in event.others if other.at.placed),
        disputed=event.disputed,
        after=after,
    )
