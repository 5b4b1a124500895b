"""What held, and what went well: never dropped for time."""

from __future__ import annotations

from mmbuilder.safe.case import ScrubbedCase
from mmbuilder.safe.text import SafeText, capital, fill, sentence, wording
from mmbuilder.storyboard.blocks import Bullets, Slide
from mmbuilder.storyboard.context import Context, counted

MISSING = wording("what held: the case lists nothing that went well")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide."""
    held = context.case.held
    if not held:
        return ()
    headline = sentence(
        fill("{things} went well and held", things=counted(len(held), wording("thing"), wording("things")))
    )
    notes = (wording("Say these aloud: they are to be kept."),)
    told = Bullets(items(context.case, proved=not context.planned.brief))
    return (Slide("held", headline, (told,), notes, context.seconds),)


def items(case: ScrubbedCase, *, proved: bool = True) -> tuple[SafeText, ...]:
    """What held, each with its evidence unless there is no room for it."""
    return tuple(
        fill("{what} ({evidence})", what=capital(item.what), evidence=item.evidence)
        if item.evidence and proved
        else capital(item.what)
        for item in case.held
    )
