"""Learning points."""

from __future__ import annotations

from mmbuilder.safe.text import fill, sentence, wording
from mmbuilder.storyboard.blocks import Bullets, Slide
from mmbuilder.storyboard.context import Context, counted

MISSING = wording("learning points: the case has none")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide."""
    points = context.case.learning
    if not points:
        return ()
    count = counted(len(points), wording("thing helps"), wording("things help"))
    headline = sentence(fill("{count} next time", count=count))
    return (
        Slide(
            "learning",
            headline,
            (Bullets(points),),
            (wording("One breath between points."),),
            context.seconds,
        ),
    )
