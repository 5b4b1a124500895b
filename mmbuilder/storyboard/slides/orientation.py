"""Where things lay in the eye: a clock face with the surgeon's seat, each hour in both views."""

from __future__ import annotations

from mmbuilder.safe.case import ScrubbedCase
from mmbuilder.safe.orientation import Finding, Orientation, orient
from mmbuilder.safe.terms import Side, term
from mmbuilder.safe.text import SafeText, fill, sentence, wording
from mmbuilder.storyboard.blocks import Diagram, Slide
from mmbuilder.storyboard.context import Context

MISSING = wording("orientation: the case names no hours of one eye")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide; what contradicts itself is told below the face."""
    found = _oriented(context.case)
    if found is None:
        return ()
    check = (fill("To be checked: {reason}", reason=sentence(c.reason)) for c in found.contradictions)
    notes = (wording("Say for every hour whose view it is in."),)
    diagram = Diagram(found, notes=tuple(check))
    return (Slide("orientation", _headline(found), (diagram,), notes, context.seconds),)


def _oriented(case: ScrubbedCase) -> Orientation | None:
    told, side = case.orientation, case.patient.side
    if told is None or side not in (Side.RIGHT, Side.LEFT):
        return None
    named = (Finding(one.what, one.hour, one.view, one.wound, one.sector) for one in told.findings)
    return orient(side, told.seat, tuple(named))


def _headline(found: Orientation) -> SafeText:
    return fill(
        "The surgeon sat at the {seat} side of the {side} eye, at {hour} o'clock.",
        seat=term(found.seat),
        side=term(found.side),
        hour=found.seat_hour,
    )
