"""What follows where records of one event conflict: its figures by each record, and the total of a drug."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from mmbuilder.case import model
from mmbuilder.casefile.conflicts import by_each_record, total_of_drug
from mmbuilder.clinic import InputFault, Worked
from mmbuilder.safe import case as safe
from mmbuilder.scrub.crossing.computing import computed, crossed
from mmbuilder.scrub.crossing.words import Words


def records(event: model.Event, words: Words) -> Iterator[safe.OtherRecord]:
    """Yield what other sources tell differently of an event, besides its time."""
    for other in event.also:
        if other.what or other.dose or other.volume:
            yield safe.OtherRecord(
                words.safe(other.what),
                words.safe(other.dose),
                words.safe(other.volume),
                words.safe(other.source),
            )


def figures(events: Sequence[model.Event], place: int) -> Iterator[safe.Computed]:
    """Yield the figures of an event; one that a conflict reaches has the result by each record."""
    for asked in events[place].compute:
        worked = _worked(events[place], asked)
        yield from (_open(worked),) if worked else computed((asked,))
    total = total_of_drug(events, place)
    if total is not None:
        yield _open(total)


def _worked(event: model.Event, asked: model.Computation) -> Worked | None:
    try:
        return by_each_record(event, asked)
    except InputFault:
        return None  # warned of by the check of the case: the figure of the event's own record stands


def _open(worked: Worked) -> safe.Computed:
    return replace(crossed(worked), unresolved=True)
