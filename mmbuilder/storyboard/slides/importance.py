"""Why the case is told at all: what it adds, and to what."""

from __future__ import annotations

from mmbuilder.safe.text import sentence, wording
from mmbuilder.storyboard.blocks import Paragraph, Slide, Tone
from mmbuilder.storyboard.context import Context

MISSING = wording("importance: the case does not say why it matters")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide."""
    importance = context.case.report.importance
    if not importance:
        return ()
    notes = (wording("Say it once, then begin with the patient."),)
    told = Paragraph(sentence(importance), Tone.STRONG)
    return (Slide("importance", wording("This is why the case matters."), (told,), notes, context.seconds),)
