"""Where things lay in the eye: a clock face with the surgeon's seat, each hour in both views."""

from __future__ import annotations

from mmbuilder.safe.orientation import Orientation
from mmbuilder.safe.terms import term
from mmbuilder.safe.text import SafeText, fill, sentence, wording
from mmbuilder.storyboard.blocks import Diagram, Slide
from mmbuilder.storyboard.context import Context

MISSING = wording("orientation: the case names no hours of one eye")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide; what contradicts itself is told below the face."""
    found = context.case.orientation
    if found is None:
        return ()
    check = (fill("To be checked: {reason}", reason=sentence(c.reason)) for c in found.contradictions)
    notes = (wording("Say for every hour whose view it is in."),)
    diagram = Diagram(found, notes=tuple(check))
    return (Slide("orientation", _headline(found), (diagram,), notes, context.seconds),)


def _headline(found: Orientation) -> SafeText:
    return fill(
        "The surgeon sat at the {seat} side of the {side} eye, at {hour} o'clock.",
        seat=term(found.seat),
        side=term(found.side),
        hour=found.seat_hour,
    )
