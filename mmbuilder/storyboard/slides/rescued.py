"""The rescue as it went: what was done from the recognition on, and when."""

from __future__ import annotations

from itertools import groupby

from mmbuilder.analysis.describe import lengths
from mmbuilder.analysis.timeline import Mark
from mmbuilder.safe.case import Event
from mmbuilder.safe.moment import clock
from mmbuilder.safe.terms import EventKind
from mmbuilder.safe.text import SafeText, capital, fill, join, sentence, unbroken, wording
from mmbuilder.storyboard.blocks import Facts, Slide
from mmbuilder.storyboard.context import Context

MISSING = wording("rescue as it went: nothing was recognised or done about it at a known point")

_GIVEN = wording("Given")
_GROUPS: tuple[tuple[SafeText, frozenset[EventKind]], ...] = (
    (wording("Recognised"), frozenset({EventKind.RECOGNITION})),
    (wording("Help"), frozenset({EventKind.CALL, EventKind.ARRIVAL})),
    (wording("Done"), frozenset({EventKind.RESPONSE, EventKind.ACTION, EventKind.STEP})),
    (_GIVEN, frozenset({EventKind.DRUG})),
    (wording("Under control"), frozenset({EventKind.RESOLUTION})),
)

_MOST = 10
"""Lines of a slide. Common practice, no source."""

_BEGUN, _TOOK = wording("recognition to response"), wording("response to resolution")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide, a line a deed, by the clock."""
    rows = rows_of(context)
    if not rows:
        return ()
    notes = (wording("Tell it in order, by the clock. Say who came and what was ready."),)
    return (Slide("rescued", _headline(context), (Facts(rows),), notes, context.seconds),)


def rows_of(context: Context) -> tuple[tuple[SafeText, SafeText], ...]:
    """What was done since the first recognition, or the first response without one: (when, what it was).

    Where that is too much for a slide, deeds of one sort that follow each other share a line.
    """
    told = [(event, group) for event in _since(context) if (group := _group(event)) is not None]
    if len(told) <= _MOST:
        return tuple(_row([event], group) for event, group in told)
    runs = groupby(told, key=lambda one: one[1])
    return tuple(_row([event for event, _ in run], group) for group, run in runs)


def _row(events: list[Event], group: SafeText) -> tuple[SafeText, SafeText]:
    first, *rest = events
    also = (fill("{when} {what}", when=_when(event), what=_what(event)) for event in rest)
    return _when(first), fill("{group}: {told}", group=group, told=join("; ", (_what(first), *also)))


def _group(event: Event) -> SafeText | None:
    """Return what an event was for the rescue: what has a dose was given, whatever else it was."""
    if event.dose:
        return _GIVEN
    return next((label for label, kinds in _GROUPS if event.kind in kinds), None)


def _since(context: Context) -> tuple[Event, ...]:
    start = context.first(Mark.RECOGNITION) or context.first(Mark.RESPONSE)
    events = context.timeline.events
    return events[events.index(start) :] if start is not None else ()


def _when(event: Event) -> SafeText:
    return clock(event.at) if event.at.placed else wording("no time")


def _what(event: Event) -> SafeText:
    return event.label or event.what


def _headline(context: Context) -> SafeText:
    """Say what is counted, from mark to mark: how long the rescue took is not for a tool to say."""
    known = {interval.name: interval for interval in context.timeline.intervals if interval.elapsed.known}
    begun, took = (known.get(name) for name in (_BEGUN, _TOOK))
    if begun is None or took is None:
        return wording("This is what was done once it was recognised.")
    pairs = (fill("{name}: {length}", name=one.name, length=unbroken(lengths(one))) for one in (begun, took))
    return sentence(capital(join("; ", pairs)))
