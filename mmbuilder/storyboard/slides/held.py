"""What held, and what went well: never dropped for time."""

from __future__ import annotations

from mmbuilder.safe.text import fill, sentence, wording
from mmbuilder.storyboard.blocks import Bullets, Slide
from mmbuilder.storyboard.context import Context, counted

MISSING = wording("what held: the case lists nothing that went well")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide."""
    held = context.case.held
    if not held:
        return ()
    items = tuple(
        fill("{what} ({evidence})", what=item.what, evidence=item.evidence) if item.evidence else item.what
        for item in held
    )
    headline = sentence(
        fill("{things} went well and held", things=counted(len(held), wording("thing"), wording("things")))
    )
    notes = (wording("Say these aloud: they are to be kept."),)
    return (Slide("held", headline, (Bullets(items),), notes, context.seconds),)
