"""Which side, and where things lay: in an eye a clock face with the surgeon's seat, else a body.

An eye without hours has no drawing: half a body would say less than the two words do.
"""

from __future__ import annotations

from mmbuilder import packs
from mmbuilder.analysis.marked_side import Marked
from mmbuilder.safe.orientation import Orientation
from mmbuilder.safe.terms import Course, Side, term
from mmbuilder.safe.text import fill, sentence, wording
from mmbuilder.storyboard.blocks import Diagram, Slide
from mmbuilder.storyboard.context import Context

MISSING = wording("orientation: the case names no side or no hours of the eye, or its side was not at issue")

_EYE = "ophthalmology"


def make(context: Context) -> tuple[Slide, ...]:
    """One slide: the face if hours were named, the body if only a side was.

    A room needs the body only where a side was all but mistaken; paper has it always.
    """
    found, side = context.case.orientation, context.case.patient.side
    if found is not None:
        return (_face(found, context.seconds),)
    if side is Side.NONE or context.case.specialty == packs.load(_EYE).title:
        return ()
    if context.on_slides and context.case.course is not Course.NEAR_MISS:
        return ()
    return (_body(context, side),)


def _face(found: Orientation, seconds: int) -> Slide:
    """What contradicts itself is told below the face."""
    check = (fill("To be checked: {reason}", reason=sentence(c.reason)) for c in found.contradictions)
    headline = fill(
        "The surgeon sat at the {seat} side of the {side} eye, at {hour} o'clock.",
        seat=term(found.seat),
        side=term(found.side),
        hour=found.seat_hour,
    )
    notes = (wording("Say for every hour whose view it is in."),)
    return Slide("orientation", headline, (Diagram(found, notes=tuple(check)),), notes, seconds)


def _body(context: Context, side: Side) -> Slide:
    """Beside the side stands what was planned there."""
    headline = (
        wording("Both sides of the body are meant.")
        if side is Side.BOTH
        else fill("The side meant is the patient's {side}.", side=term(side))
    )
    caption = sentence(fill("Planned: {procedure}", procedure=context.case.plan.procedure))
    notes = (wording("Say the side aloud, as the patient's own."),)
    return Slide("orientation", headline, (Diagram(Marked(side), caption),), notes, context.seconds)
