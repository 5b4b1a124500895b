"""Learning points."""

from __future__ import annotations

from mmbuilder.safe.case import ScrubbedCase
from mmbuilder.safe.text import SafeText, capital, fill, sentence, wording
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
            (Bullets(items(context.case)),),
            (wording("One breath between points."),),
            context.seconds,
        ),
    )


def items(case: ScrubbedCase) -> tuple[SafeText, ...]:
    """What helps next time, each with a capital, as points of a list begin."""
    return tuple(map(capital, case.learning))
