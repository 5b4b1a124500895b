"""Why each action has the strength it has, and where it is looked at again; for paper."""

from __future__ import annotations

from mmbuilder.safe.terms import term
from mmbuilder.safe.text import capital, fill, wording
from mmbuilder.storyboard.blocks import Cell, Slide, Table
from mmbuilder.storyboard.context import Context

MISSING = wording("reasons of the actions: the case gives none")


def make(context: Context) -> tuple[Slide, ...]:
    """One page part with a row for each action that says why, or when it is looked at again."""
    told = [action for action in context.case.actions if action.strength_reason or action.review]
    if not told:
        return ()
    unsaid = wording("not stated")
    table = Table(
        header=(wording("Action"), wording("Strength"), wording("Why this strength"), wording("Review")),
        rows=tuple(
            (
                Cell(fill("A{n}", n=action.number), strong=True),
                Cell(capital(term(action.strength)) if action.strength else unsaid),
                Cell(action.strength_reason or unsaid),
                Cell(action.review or unsaid),
            )
            for action in told
        ),
        shares=(1, 1.8, 5, 2.5),
        caption=wording("Actions with the reason of their strength and the meeting that reviews them"),
    )
    return (Slide("action_reasons", wording("This is why the actions are ranked as they are."), (table,)),)
