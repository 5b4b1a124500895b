"""How it came about, step by step, beside the drawing or still that shows it."""

from __future__ import annotations

from mmbuilder.safe.text import fill, wording
from mmbuilder.storyboard.blocks import Bullets, Picture, Slide
from mmbuilder.storyboard.context import Context, counted

MISSING = wording("mechanism: the case does not say how it came about")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide; the picture stands left of the steps."""
    told = context.case.mechanism
    if told is None:
        return ()
    count = counted(len(told.steps), wording("step"), wording("steps"))
    headline = fill("It came about in {count}.", count=count)
    steps = Bullets(told.steps, numbered=True)
    notes = (wording("Let the room tell the next step before you do."),)
    if told.frame is None:
        return (Slide("mechanism", headline, (steps,), notes, context.seconds),)
    frame = context.case.frames[told.frame - 1]
    picture = Picture(
        frame.image,
        fill("Figure: {caption}", caption=frame.caption),
        arrows=frame.arrows,
        circles=frame.circles,
    )
    return (Slide("mechanism", headline, (picture, steps), notes, context.seconds, beside=True),)
