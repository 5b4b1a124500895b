"""What held, and beside it what helps next time: both are to be kept, and a review has one slide for them."""

from __future__ import annotations

from mmbuilder.safe.text import fill, sentence, wording
from mmbuilder.storyboard.blocks import Bullets, Slide
from mmbuilder.storyboard.context import Context, counted
from mmbuilder.storyboard.slides import held, learning

MISSING = wording("what held, learning points: the case lists neither")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide, with the two lists side by side; where the case has one of them, that one alone."""
    good, points = held.make(context), learning.make(context)
    if not (good and points):
        return (*good, *points)
    case = context.case
    headline = sentence(
        fill(
            "{things} held; {points} next time",
            things=counted(len(case.held), wording("thing"), wording("things")),
            points=counted(len(case.learning), wording("thing helps"), wording("things help")),
        )
    )
    lists = (
        Bullets(held.items(case), wording("Went well")),
        Bullets(learning.items(case), wording("Next time")),
    )
    notes = (*good[0].notes, *points[0].notes)
    return (Slide("held_and_learned", headline, lists, notes, context.seconds, beside=True),)
