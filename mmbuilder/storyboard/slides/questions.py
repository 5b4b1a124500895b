"""The questions that pause the room; the presenter's own answers come on a later slide."""

from __future__ import annotations

from mmbuilder.safe.text import fill, sentence, wording
from mmbuilder.storyboard.blocks import Bullets, Callout, Slide
from mmbuilder.storyboard.context import Context, counted

MISSING = wording("questions: the case asks none")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide, a pause."""
    questions = context.case.questions
    if not questions:
        return ()
    count = counted(len(questions), wording("question"), wording("questions"))
    headline = sentence(fill("{count} to the room", count=count))
    notes = (wording("PAUSE: wait 20 s in silence. Juniors first; the presenter answers last."),)
    asked = tuple(question.ask for question in questions)
    block = Callout(asked[0]) if len(asked) == 1 else Bullets(asked, numbered=True)
    return (Slide("questions", headline, (block,), notes, context.seconds, pause=True),)
