"""Each decision beside its fair alternatives: would another choice have changed the course?"""

from __future__ import annotations

from mmbuilder.safe.case import Decision
from mmbuilder.safe.terms import term
from mmbuilder.safe.text import EMPTY, SafeText, capital, join, sentence, wording
from mmbuilder.storyboard.blocks import Cell, Slide
from mmbuilder.storyboard.columns import filled_table
from mmbuilder.storyboard.context import Context

MISSING = wording("looking back: no decision says whether another choice would have changed the course")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide with a row a decision; the last column answers the headline, by the author's own view.

    Where nobody has answered it, paper has the alternatives alone, and slides have shown them.
    """
    decisions = context.case.decisions
    answered = any(decision.counterfactual or decision.sure for decision in decisions)
    if not decisions or (context.on_slides and not answered):
        return ()
    table = filled_table(
        header=(
            wording("Chosen"),
            wording("Fair alternatives"),
            wording("Had it been different"),
            wording("Changed?"),
        ),
        rows=tuple(_row(decision, wording("not said") if answered else EMPTY) for decision in decisions),
        shares=(3, 3, 4, 1.8),
        caption=wording("Decisions with alternatives, and whether another would have changed the course"),
    )
    headline = (
        wording("Would another choice have changed the course?")
        if answered
        else wording("These were the fair alternatives.")
    )
    notes = (wording("The outcome is known now; it was not known then."),)
    return (Slide("looking_back", headline, (table,), notes, context.seconds),)


def _row(decision: Decision, unsaid: SafeText) -> tuple[Cell, ...]:
    others = [option.what for place, option in enumerate(decision.options) if place != decision.chosen]
    return (
        Cell(decision.options[decision.chosen].what, strong=True),
        Cell(join(" ", map(sentence, others))),
        Cell(decision.counterfactual or unsaid),
        Cell(capital(term(decision.sure)) if decision.sure else unsaid),
    )
