"""What was considered as a cause and excluded, with the reason."""

from __future__ import annotations

from mmbuilder.safe.terms import term
from mmbuilder.safe.text import capital, join, wording
from mmbuilder.storyboard.blocks import Cell, Slide, Table
from mmbuilder.storyboard.context import Context

MISSING = wording("considered and excluded: the case lists nothing")


def make(context: Context) -> tuple[Slide, ...]:
    """One page part with a row for each excluded factor."""
    excluded = context.grid.excluded
    if not excluded:
        return ()
    unsaid = wording("no reason recorded")
    rows = tuple(
        (
            Cell(factor.what, strong=True),
            Cell(capital(term(factor.row))),
            Cell(join("; ", (factor.reason, *factor.evidence)) or unsaid),
        )
        for factor in excluded
    )
    table = Table(
        header=(wording("Considered"), wording("Factor type"), wording("Why it was excluded")),
        rows=rows,
        shares=(3, 2, 5),
        caption=wording("Factors considered and excluded, with the reason"),
    )
    return (Slide("excluded", wording("These causes were considered and excluded."), (table,)),)
