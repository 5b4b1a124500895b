"""What records of one event tell differently besides its time, and what follows; never averaged."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.safe.case import Event
from mmbuilder.safe.text import SafeText, fill, join, wording

_NAMES = {"what": wording("recorded"), "dose": wording("dose"), "volume": wording("volume")}


def told(event: Event, name: str) -> SafeText:
    """Return `what`, `dose` or `volume` of an event; in dispute `0.1 mg (chart) or 1 mg (pump log)`."""
    own: SafeText = getattr(event, name)
    others = [(getattr(record, name), record.source) for record in event.records if getattr(record, name)]
    if not others:
        return own
    return join(" or ", (_by(value, source) for value, source in ((own, event.source), *others)))


def disagreements(event: Event) -> tuple[SafeText, ...]:
    """Return a line for each thing in dispute, and one for each figure that this leaves open."""
    return tuple(_disagreements(event))


def _disagreements(event: Event) -> Iterator[SafeText]:
    for name, called in _NAMES.items():
        if any(getattr(record, name) for record in event.records):
            yield fill("{name} {told}", name=called, told=told(event, name))
    for figure in event.computed:
        if figure.unresolved:
            results = (*figure.answers[:1], *(() if figure.answers else figure.disputed))
            yield fill("{name} {results}", name=figure.name, results=join(" or ", results))


def _by(value: SafeText, source: SafeText) -> SafeText:
    return fill("{value} ({source})", value=value, source=source) if source else value
