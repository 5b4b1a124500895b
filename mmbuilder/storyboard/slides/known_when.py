"""What could be known, when: facts beside the thought they led to."""

from __future__ import annotations

from mmbuilder.safe.moment import clock
from mmbuilder.safe.text import join, wording
from mmbuilder.storyboard.blocks import Cell, Slide, Table
from mmbuilder.storyboard.context import Context

MISSING = wording("what was known when: the case lists no decisions")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide with a row a decision: what was visible beside what was thought."""
    if not context.case.decisions:
        return ()
    rows = tuple(
        (Cell(clock(decision.at), strong=True), Cell(join("; ", decision.visible)), Cell(decision.because))
        for decision in context.case.decisions
    )
    table = Table(
        header=(wording("When"), wording("What could be seen"), wording("What was thought")),
        rows=rows,
        shares=(1.3, 4, 4),
        caption=wording("What could be seen and what was thought, by time"),
    )
    return (Slide("known_when", wording("This is what was known, and when."), (table,), (), context.seconds),)
