"""Every event in order, with source and certainty; for paper, since the chart labels only the strongest."""

from __future__ import annotations

from mmbuilder.analysis.conflicts import told as by_record
from mmbuilder.safe.case import Event, OtherTime
from mmbuilder.safe.moment import clock
from mmbuilder.safe.terms import EventKind, Sureness, term
from mmbuilder.safe.text import EMPTY, SafeText, capital, fill, inline, join, number, wording
from mmbuilder.storyboard.blocks import Cell, Paragraph, Slide, Table, Tone
from mmbuilder.storyboard.context import Context
from mmbuilder.storyboard.slides.computed import told

MISSING = wording("events: the case lists none")

_MARKS = {EventKind.FIRST_SIGN, EventKind.RECOGNITION, EventKind.RESPONSE, EventKind.RESOLUTION}
_WRITTEN = ("what", "dose", "volume")


def make(context: Context) -> tuple[Slide, ...]:
    """One page part with a row an event, by its number on the chart; times that disagree side by side."""
    timeline, events = context.timeline, context.timeline.events
    if not events:
        return ()
    # A column of sources that nobody noted would be an empty one.
    wide = 5 if any(event.source or _doubt(event) for event in events) else 4
    table = Table(
        header=(wording("No."), wording("When"), wording("Kind"), wording("What"), wording("Source"))[:wide],
        rows=tuple(_row(place, event)[:wide] for place, event in enumerate(events, 1)),
        shares=(0.7, 2, 1.5, 4.7, 2)[:wide],
        caption=wording("All events in order of time"),
    )
    clocks = Paragraph(
        fill("Clocks: {clock}. T+0: {zero}.", clock=timeline.clock, zero=inline(timeline.zero)),
        Tone.QUIET,
    )
    return (Slide("events", wording("Everything that was recorded, in order."), (table, clocks)),)


def _row(place: int, event: Event) -> tuple[Cell, ...]:
    return (
        Cell(number(place)),
        Cell(join(" or ", (clock(event.at), *map(_other, event.others))), strong=event.kind in _MARKS),
        Cell(_kind(event), strong=event.kind in _MARKS),
        Cell(join(" · ", (*(by_record(event, name) for name in _WRITTEN), *map(told, event.computed)))),
        Cell(join(", ", (event.source, _doubt(event)))),
    )


def _kind(event: Event) -> SafeText:
    detail = term(event.noticed) if event.noticed else term(event.recognised) if event.recognised else EMPTY
    return join(", ", (capital(term(event.kind)), detail))


def _other(other: OtherTime) -> SafeText:
    when = clock(other.at)
    return fill("{when} ({source})", when=when, source=other.source) if other.source else when


def _doubt(event: Event) -> SafeText:
    return EMPTY if event.sure is Sureness.CERTAIN else term(event.sure)
