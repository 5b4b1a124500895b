"""The rescue as it should be done, in steps that can be said aloud."""

from __future__ import annotations

from mmbuilder.safe.terms import Course
from mmbuilder.safe.text import fill, wording
from mmbuilder.storyboard.blocks import Bullets, Slide
from mmbuilder.storyboard.context import Context, counted

MISSING = wording("rescue steps: the case lists none")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide."""
    steps = context.case.rescue
    if not steps:
        return ()
    count = counted(len(steps), wording("step"), wording("steps"))
    near = context.case.course is Course.NEAR_MISS
    headline = (
        fill("To stop it takes {count}.", count=count)
        if near
        else fill("The rescue has {count}.", count=count)
    )
    notes = (
        wording("Say each step aloud as you would in theatre. Check drugs and doses against local policy."),
    )
    return (Slide("rescue", headline, (Bullets(steps, numbered=True),), notes, context.seconds),)
