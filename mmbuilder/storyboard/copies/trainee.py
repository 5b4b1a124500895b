"""For the trainees: the opening of the story, room to write for each question, and no answer.

All of it lies on the table from the first minute. So nothing is on it that the room learns
later: no still, chart or fact from behind the first pause, and no question either, for a later
one tells what has happened by then. Those are read from the slides.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import takewhile

from mmbuilder.safe.case import ScrubbedCase
from mmbuilder.safe.text import EMPTY, SafeText, fill, number, wording
from mmbuilder.storyboard.blocks import (
    Cell,
    Paragraph,
    Picture,
    Slide,
    Storyboard,
    Table,
)

LINES = 3
"""Lines to write on under each question."""


def make(deck: Storyboard, case: ScrubbedCase) -> Storyboard:
    """Return the trainees' copy of a deck."""
    told = takewhile(lambda slide: not slide.pause, deck.slides)
    # The paper has a title of its own, and the cautions at its foot.
    opening = (_opening(slide) for slide in told if slide.kind != "title")
    # What only a still would show is no more than a heading here.
    return replace(deck, slides=(*(slide for slide in opening if slide.blocks), *_questions(deck, case)))


def _opening(slide: Slide) -> Slide:
    kept = tuple(block for block in slide.blocks if not isinstance(block, Picture))
    return replace(slide, blocks=kept, notes=(), beside=False)


def _questions(deck: Storyboard, case: ScrubbedCase) -> Iterator[Slide]:
    pauses = [slide for slide in deck.slides if slide.pause and slide.kind != "questions"]
    for place, slide in enumerate(pauses, 1):
        headline = fill("Pause {n}: {question}", n=place, question=_question(slide, place))
        yield Slide("pause", headline, (_lines(),))
    if case.questions:
        yield Slide("cold_questions", wording("Questions to answer cold"), (_numbered(len(case.questions)),))
    note = wording("The questions are on the slides; the answers are given in the session.")
    yield Slide("learned", wording("What I take away from this session"), (_lines(), Paragraph(note)))


def _question(slide: Slide, place: int) -> SafeText:
    """What is asked at a pause, as far as it may be read before."""
    if place == 1:
        return slide.headline
    return wording("What do you see?") if slide.kind == "frame" else wording("What do you do, and why?")


def _numbered(questions: int) -> Table:
    return Table(
        header=(wording("No."), wording("Your answer")),
        rows=tuple((Cell(number(place + 1)), Cell(EMPTY)) for place in range(questions)),
        shares=(1, 12),
        caption=wording("Room to write"),
    )


def _lines() -> Table:
    empty: SafeText = EMPTY
    return Table(
        header=(wording("Your answer"),),
        rows=((Cell(empty),),) * LINES,
        shares=(1,),
        caption=wording("Room to write"),
    )
