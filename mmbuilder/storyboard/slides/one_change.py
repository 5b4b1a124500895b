"""The one thing that will be done differently, with its date."""

from __future__ import annotations

from mmbuilder.safe.text import SafeText, fill, wording
from mmbuilder.storyboard.blocks import Block, Callout, Paragraph, Slide, Tone
from mmbuilder.storyboard.context import Context

MISSING = wording("one change: the reflection names none")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide; where no date is given it says so."""
    told = context.case.reflection
    if told is None or not told.change:
        return ()
    blocks: list[Block] = [Callout(told.change, by(told.change_by))]
    if context.case.support:
        blocks.append(Paragraph(fill("Support: {line}", line=context.case.support), Tone.QUIET))
    headline = wording("This is the one thing I will do differently.")
    return (Slide("one_change", headline, tuple(blocks), (), context.seconds),)


def by(day: SafeText) -> SafeText:
    """When the change is due, or that no date is given: a bare month would say neither."""
    return fill("Due: {day}", day=day) if day else wording("NO DATE YET")
