"""The presenter's own answers, each with how sure they are."""

from __future__ import annotations

from mmbuilder.safe.terms import term
from mmbuilder.safe.text import capital, wording
from mmbuilder.storyboard.blocks import Cell, Slide, Table
from mmbuilder.storyboard.context import Context

MISSING = wording("presenter's answers: the case gives none")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide with a row a question."""
    answered = [question for question in context.case.questions if question.answer]
    if not answered:
        return ()
    unsaid = wording("not said")
    rows = tuple(
        (
            Cell(question.ask, strong=True),
            Cell(question.answer),
            Cell(capital(term(question.sure)) if question.sure else unsaid),
        )
        for question in answered
    )
    table = Table(
        header=(wording("Question"), wording("Answer"), wording("How sure")),
        rows=rows,
        shares=(3, 5, 1.6),
        caption=wording("Questions with their answers and how sure each is"),
    )
    notes = (wording("Say what you do not know."),)
    return (
        Slide(
            "own_answers",
            wording("These are the answers, and how sure they are."),
            (table,),
            notes,
            context.seconds,
        ),
    )
