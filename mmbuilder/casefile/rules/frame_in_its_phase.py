"""A frame was taken in the phase it claims."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.case.model import Frame, Phase
from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.safe.moment import Moment

CODE = "frame-outside-phase"
WHY = "a frame in the wrong phase shows the room something it could not have seen then"
GOOD = """
timeline: {phases: [{name: Dissection, starts: "09:30", ends: "11:00"}]}
frames: {0: {when: "10:04", phase: Dissection}}
"""
BAD = """
timeline: {phases: [{name: Dissection, starts: "09:30", ends: "11:00"}]}
frames: {0: {when: "11:20", phase: Dissection}}
"""


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each frame that is certainly before or after its phase."""
    phases = {
        phase.name.value.casefold(): (place, phase) for place, phase in enumerate(ctx.case.timeline.phases)
    }
    for place, frame in enumerate(ctx.case.frames):
        claimed = phases.get(frame.phase.value.casefold()) if frame.phase is not None else None
        moment = _moment(ctx, frame)
        if claimed is None or moment is None:
            continue
        side = _outside(ctx, claimed[1], moment)
        if side:
            yield Finding(
                ("frames", place, "phase"),
                f"frame {place + 1} is {side} the phase it claims",
                found=f"the phase is on line {ctx.line(('timeline', 'phases', claimed[0]))}",
                expected="the phase in which the frame was taken, or the clock its time was read from",
                example="clock: recorder",
            )


def _moment(ctx: Context, frame: Frame) -> Moment | None:
    """When it was taken: its own time, else that of its event."""
    if frame.when is not None:
        return ctx.moment(frame.when, frame.clock)
    place = ctx.event_ids.get(frame.event) if frame.event is not None else None
    return ctx.moments[place] if place is not None else None


def _outside(ctx: Context, phase: Phase, moment: Moment) -> str:
    starts, ends = ctx.moment(phase.starts, phase.clock), ctx.moment(phase.ends, phase.clock)
    if starts is not None and moment.certainly_before(starts):
        return "before"
    return "after" if ends is not None and ends.certainly_before(moment) else ""
