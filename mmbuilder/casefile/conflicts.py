"""Records of one event that conflict in an amount, and the figures that this reaches."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from mmbuilder.case.freetext import FreeText
from mmbuilder.case.model import Computation, Event
from mmbuilder.clinic import InputFault, Worked, gather, work
from mmbuilder.clinic.conflict import alike, by_records, leading, written
from mmbuilder.clinic.units import Amount
from mmbuilder.safe.terms import EventKind

AMOUNTS = ("dose", "volume")
"""What of an event two records may tell differently in figures."""
TOTAL = "cumulative dose"
_LEAST = 2
"""So many doses of a drug make a total that is worth telling."""


def conflicts(event: Event) -> Iterator[tuple[Amount, tuple[Amount, ...]]]:
    """Yield (what the event tells, what other records tell) of each amount they do not agree in."""
    for name in AMOUNTS:
        own = _read(getattr(event, name))
        different = _different(event, name, own) if own else ()
        if own and different:
            yield own, different


def unread(event: Event) -> bool:
    """Whether records tell an amount in different words, of which one cannot be read as a figure."""
    return any(
        own and told and own.plain != told.plain and None in (_read(own), _read(told))
        for name in AMOUNTS
        for own in (getattr(event, name),)
        for told in (getattr(other, name) for other in event.also)
    )


def by_each_record(event: Event, asked: Computation) -> Worked | None:
    """Return a figure of an event by each record; None where no conflict reaches it.

    Raises:
        InputFault: it cannot be worked out from what another record tells.
    """
    given = gather((one.name.value, one.value.value) for one in asked.given)
    for own, others in conflicts(event):
        worked = by_records(asked.what.value, given, own, others)
        if worked is not None:
            return worked
    return None


def total_of_drug(events: Sequence[Event], place: int) -> Worked | None:
    """Return all that was given of a drug, at the first of its events whose dose is in dispute.

    Drugs are the same where their events have the same label, or the same words. None where the case
    asks for a total itself, or a dose of the drug cannot be read.
    """
    same = [event for event in events if _drug(event) and _drug(event) == _drug(events[place])]
    open_ones = [event for event in same if _disputed(event)]
    if not open_ones or open_ones[0] is not events[place] or len(same) < _LEAST:
        return None
    if any(asked.what.plain == TOTAL for event in same for asked in event.compute):
        return None
    try:
        return _total(same, open_ones)
    except InputFault:
        return None  # doses of kinds that do not add up make no total


def _total(same: Sequence[Event], open_ones: Sequence[Event]) -> Worked | None:
    doses = {id(event): _ways(event) for event in same}
    if not all(doses.values()):
        return None
    if len(open_ones) == 1:
        own, *others = doses[id(open_ones[0])]
        return by_records(TOTAL, {"entries": [written(ways[0]) for ways in doses.values()]}, own, others)
    return work(TOTAL, {"entries": [" or ".join(map(written, ways)) for ways in doses.values()]})


def _ways(event: Event) -> tuple[Amount, ...]:
    """The dose of an event by each of its records, its own first."""
    own = _read(event.dose)
    return (own, *(_different(event, "dose", own))) if own else ()


def _disputed(event: Event) -> bool:
    return len(_ways(event)) > 1


def _drug(event: Event) -> str | None:
    return (event.label or event.what).plain if event.kind is EventKind.DRUG else None


def _different(event: Event, name: str, own: Amount) -> tuple[Amount, ...]:
    told = (_read(getattr(other, name)) for other in event.also)
    return tuple(found for found in told if found is not None and not alike(own, found))


def _read(text: FreeText | None) -> Amount | None:
    return leading(text.value) if text else None
