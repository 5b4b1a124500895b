"""A phase ends after it starts, and a recording before the next of the same recorder starts."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise

from mmbuilder.case.clocks import ClockFault
from mmbuilder.case.model import Clock
from mmbuilder.casefile.context import Context, clock_face
from mmbuilder.casefile.mark import Finding
from mmbuilder.casefile.rules._order import told
from mmbuilder.safe.moment import Moment

CODE = "end-before-start"
WHY = "a length that runs backwards is a wrong time or a clock that is off; it is never turned round"
GOOD = """
clocks: [{name: theatre clock, reference: yes}, {name: file 1, starts: "09:30:00", runs: 20 min},
  {name: file 2, starts: "09:52:00", runs: 20 min}]
timeline: {phases: [{name: Dissection, starts: "09:40", ends: "10:40"}]}
"""
BAD = """
clocks: [{name: theatre clock, reference: yes}, {name: file 1, starts: "09:30:00", runs: 20 min},
  {name: file 2, starts: "09:45:00", runs: 20 min}]
timeline: {phases: [{name: Dissection, starts: "09:40", ends: "09:30"}]}
"""


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each phase that ends before it starts, each recording that starts while the last one ran."""
    for place, phase in enumerate(ctx.case.timeline.phases):
        start, end = ctx.moment(phase.starts, phase.clock), ctx.moment(phase.ends, phase.clock)
        if start is not None and end is not None and phase.ends is not None and end.certainly_before(start):
            here, face = ("timeline", "phases", place), clock_face(phase.ends)
            yield Finding(
                (*here, "ends"),
                f"phase {place + 1} ends before it starts, by {_apart(end, start)}",
                found=f"line {ctx.line((*here, 'starts'))}, its start: `starts: {clock_face(phase.starts)}`",
                expected="an end after the start; across midnight, the day of each",
                example="starts: 09:40\nends: 10:40",
                quote=f"ends: {face}" if face else "",
            )
    yield from _recordings(ctx)


def _recordings(ctx: Context) -> Iterator[Finding]:
    """Two files of one recorder cannot run at once."""
    clocks = enumerate(ctx.case.clocks)
    files = [(place, clock) for place, clock in clocks if clock.starts and clock.runs is not None]
    for (above, one), (place, other) in pairwise(files):
        if _recorder(one) != _recorder(other):
            continue
        try:
            (start, end), (next_start, _) = ctx.recording(one), ctx.recording(other)
        except ClockFault:
            continue  # told by the rule on clocks
        if next_start.certainly_before(end) and not next_start.certainly_before(start):
            yield Finding(
                ("clocks", place, "starts"),
                f"this recording starts {_apart(next_start, end)} before the one above it has ended",
                found=f"line {ctx.line(('clocks', above, 'starts'))}, the one above: `{_starts(one)}`",
                expected="files of one recorder one after the other; two recorders have two names",
                example='name: file 2\nstarts: "09:52:00"',
                quote=_starts(other),
            )


def _recorder(file: Clock) -> tuple[str | None, str]:
    """Files whose names differ in their numbers alone, on one clock, are of one recorder."""
    return file.on, re.sub(r"\d+", "", file.name.casefold())


def _starts(file: Clock) -> str:
    return f"starts: {clock_face(file.starts)}" if file.starts is not None else ""


def _apart(early: Moment, late: Moment) -> str:
    assert early.hi is not None
    assert late.lo is not None
    return told((late.lo - early.hi) * 60)
