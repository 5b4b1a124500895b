"""One sentence to take away."""

from __future__ import annotations

from mmbuilder.safe.text import sentence, wording
from mmbuilder.storyboard.blocks import Callout, Slide
from mmbuilder.storyboard.context import Context

MISSING = wording("take-away: the case has none")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide."""
    callout = Callout(sentence(context.case.take_away))
    notes = (wording("Read it once. Thank the team, then stop."),)
    return (
        Slide("take_away", wording("If you keep one thing, keep this."), (callout,), notes, context.seconds),
    )
