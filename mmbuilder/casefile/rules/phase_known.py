"""A phase that is named is a phase that is listed."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.case.freetext import FreeText, Path
from mmbuilder.casefile.context import EVENTS, Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.casefile.nearest import nearest
from mmbuilder.problem import Severity

CODE = "unknown-phase"
WHY = "what is in no phase stands beside the bars of the timeline, not in them"
GOOD = """
timeline: {phases: [{name: Dissection, starts: "09:30", ends: "11:00"}], events: {1: {phase: dissection}}}
"""
BAD = """
timeline: {phases: [{name: Dissection, starts: "09:30", ends: "11:00"}], events: {1: {phase: dissecton}}}
"""


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each phase named by an event or frame that is not among the phases listed."""
    phases = [phase.name.value.casefold() for phase in ctx.case.timeline.phases]
    if not phases:
        return
    for path, named in _named(ctx):
        if named.value.casefold() not in phases:
            near = nearest(named.value.casefold(), phases)
            line = ctx.line(("timeline", "phases", phases.index(near), "name")) if near else 0
            yield Finding(
                path,
                "this phase is not listed",
                found="a name that is not among the phases",
                expected=f"did you mean the phase on line {line}?" if near else "the name of a listed phase",
                severity=Severity.WARN,
            )


def _named(ctx: Context) -> Iterator[tuple[Path, FreeText]]:
    for place, event in enumerate(ctx.case.timeline.events):
        if event.phase is not None:
            yield (*EVENTS, place, "phase"), event.phase
    for place, frame in enumerate(ctx.case.frames):
        if frame.phase is not None:
            yield ("frames", place, "phase"), frame.phase
