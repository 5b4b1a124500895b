"""A total on an event whose records conflict is worked out by each of them."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.case.model import Computation, Event
from mmbuilder.casefile.context import EVENTS, Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.problem import Severity

CODE = "conflict-not-counted"
WHY = "one total would settle in silence what the records leave open"
GOOD = """
timeline: {events: {3: {kind: drug, dose: 0.1 mg, also: {dose: 1 mg},
  compute: [{what: cumulative dose, from: [{name: entries, value: 3 x 0.1 mg}]}]}}}
"""
BAD = """
timeline: {events: {3: {kind: drug, dose: 0.1 mg, also: {dose: 1 mg},
  compute: [{what: cumulative dose, from: [{name: entries, value: 3 x 0.2 mg}]}]}}}
"""

_TOTALS = ("cumulative dose", "blood loss")


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each total of doses or losses that a conflict on its event does not reach."""
    for place, event in enumerate(ctx.case.timeline.events):
        if not event.also or not event.compute:
            continue
        for at, asked in enumerate(event.compute):
            told = _unreached(event, asked) if asked.what.plain in _TOTALS else None
            if told:
                yield Finding(
                    (*EVENTS, place, "compute", at, "what"),
                    f"records of event {place + 1} conflict, and this figure is told by one of them only",
                    found=told,
                    expected="the amount of the event among its inputs, or both with `or` between",
                    example="- name: entries\n  value: 0.1 mg or 1 mg",
                    severity=Severity.WARN,
                )


def _unreached(event: Event, asked: Computation) -> str | None:
    """What keeps a conflict from being worked out both ways; None where nothing does."""
    from mmbuilder.casefile.conflicts import by_each_record, conflicts, unread
    from mmbuilder.clinic import InputFault

    if any(" or " in one.value.plain for one in asked.given):
        return None
    if not any(conflicts(event)):
        return "amounts that cannot be read as one figure with its unit" if unread(event) else None
    try:
        worked = by_each_record(event, asked)
    except InputFault:
        return "inputs that the figure cannot be worked out from, with one of the records"
    return None if worked else "no input, or more than one, that is the amount of the event"
