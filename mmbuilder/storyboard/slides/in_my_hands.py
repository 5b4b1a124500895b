"""What lies in the author's own hands, beside what has to be passed on."""

from __future__ import annotations

from mmbuilder.safe.text import wording
from mmbuilder.storyboard.blocks import Bullets, Slide
from mmbuilder.storyboard.context import Context

MISSING = wording("what is in my hands: the reflection does not say")

CONTROL, ESCALATE = wording("In my hands"), wording("To be passed on")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide with the two lists side by side."""
    told = context.case.reflection
    if told is None or not (told.control or told.escalate):
        return ()
    lists = tuple(
        Bullets(items or (wording("nothing recorded"),), heading)
        for items, heading in ((told.control, CONTROL), (told.escalate, ESCALATE))
    )
    headline = wording("Some of it is mine to change, some is not.")
    return (Slide("in_my_hands", headline, lists, (), context.seconds, beside=True),)
