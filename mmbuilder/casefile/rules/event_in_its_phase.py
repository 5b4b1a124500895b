"""An event took place in the phase it claims."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.casefile.context import EVENTS, Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.problem import Severity

CODE = "event-outside-phase"
WHY = "either its time, its clock or its phase is wrong"
GOOD = """
timeline: {phases: [{name: Dissection, starts: "09:30", ends: "11:00"}], events: {1: {phase: dissection}}}
"""
BAD = """
timeline: {phases: [{name: Dissection, starts: "10:10", ends: "11:00"}], events: {1: {phase: dissection}}}
"""


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each event that is certainly before or after its phase."""
    spans = {
        phase.name.value.casefold(): (
            ctx.moment(phase.starts, phase.clock),
            ctx.moment(phase.ends, phase.clock),
        )
        for phase in ctx.case.timeline.phases
    }
    for place, (event, moment) in enumerate(zip(ctx.case.timeline.events, ctx.moments, strict=True)):
        if event.phase is None or moment is None or event.phase.value.casefold() not in spans:
            continue
        starts, ends = spans[event.phase.value.casefold()]
        early = starts is not None and moment.certainly_before(starts)
        if early or (ends is not None and ends.certainly_before(moment)):
            yield Finding(
                (*EVENTS, place, "phase"),
                f"event {place + 1} is {'before' if early else 'after'} the phase it claims",
                expected="the phase it took place in, or the clock its time was read from",
                severity=Severity.WARN,
            )
