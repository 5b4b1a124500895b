"""Each decision beside its fair alternatives: would another choice have changed the course?"""

from __future__ import annotations

from mmbuilder.safe.case import Decision
from mmbuilder.safe.terms import term
from mmbuilder.safe.text import capital, join, sentence, wording
from mmbuilder.storyboard.blocks import Cell, Slide, Table
from mmbuilder.storyboard.context import Context

MISSING = wording("looking back: the case lists no decisions")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide with a row a decision; the last column answers the headline, by the author's own view."""
    if not context.case.decisions:
        return ()
    table = Table(
        header=(
            wording("Chosen"),
            wording("Fair alternatives"),
            wording("Had it been different"),
            wording("Changed?"),
        ),
        rows=tuple(_row(decision) for decision in context.case.decisions),
        shares=(3, 3, 4, 1.8),
        caption=wording("Decisions with alternatives, and whether another would have changed the course"),
    )
    headline = wording("Would another choice have changed the course?")
    notes = (wording("The outcome is known now; it was not known then."),)
    return (Slide("looking_back", headline, (table,), notes, context.seconds),)


def _row(decision: Decision) -> tuple[Cell, ...]:
    others = [option.what for place, option in enumerate(decision.options) if place != decision.chosen]
    unsaid = wording("not said")
    return (
        Cell(decision.options[decision.chosen].what, strong=True),
        Cell(join(" ", map(sentence, others))),
        Cell(decision.counterfactual or unsaid),
        Cell(capital(term(decision.sure)) if decision.sure else unsaid),
    )
