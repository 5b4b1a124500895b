"""References; for paper, never for a slide at the end."""

from __future__ import annotations

from mmbuilder.safe.text import wording
from mmbuilder.storyboard.blocks import Bullets, Slide
from mmbuilder.storyboard.context import Context

MISSING = wording("references: the case lists none")


def make(context: Context) -> tuple[Slide, ...]:
    """One page part."""
    references = context.case.references
    if not references:
        return ()
    return (Slide("references", wording("References."), (Bullets(references, numbered=True),)),)
