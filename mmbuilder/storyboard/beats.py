"""Where the story stops: the frames and decisions that a use has time for, and what may be told before each.

A frame with a pause comes before a decision at the same moment: the room sees, then decides. A frame
without one is explained at once, so it comes when nothing is left to be asked.
"""

from __future__ import annotations

from mmbuilder.safe.case import Decision, Frame
from mmbuilder.safe.moment import SECOND, Moment
from mmbuilder.storyboard.context import Context

Beat = Frame | Decision


def beats(context: Context) -> list[Beat]:
    """Return the frames and decisions that the use has time for: in order of time, what stops first."""
    planned = context.spec.planned("course")
    if planned is None:
        return []
    mechanism = context.case.mechanism
    shown = mechanism.frame if mechanism is not None else None
    told = [frame for frame in context.case.frames if frame.number != shown]
    frames = sorted(told, key=lambda frame: not frame.pause)[: planned.frames]
    decisions = context.case.decisions[: planned.decisions]
    return sorted((*frames, *decisions), key=lambda beat: _order(context, beat))


def stops(beat: Beat) -> bool:
    """Whether the room is asked something there."""
    return isinstance(beat, Decision) or beat.pause


def began(context: Context, beat: Beat) -> Moment | None:
    """Return the earlier of its own time and that of its event; None if neither is known."""
    event = None if beat.event is None else context.timeline.event(beat.event).at
    return min((at for at in (beat.at, event) if at is not None and at.placed), key=just_before, default=None)


def just_before(moment: Moment) -> float:
    """Return the last moment at which nothing of it had happened: where a chart is to be cut."""
    start = moment.lo if moment.lo is not None else moment.hi
    assert start is not None
    return start - SECOND


def _order(context: Context, beat: Beat) -> tuple[bool, float, bool, int]:
    moment = context.when(beat)
    centre = moment.centre if moment is not None else None
    late = float("inf") if centre is None else centre
    return (not stops(beat), late, isinstance(beat, Decision), beat.number)
