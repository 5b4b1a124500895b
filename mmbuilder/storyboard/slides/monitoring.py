"""What is still watched: until when, at which value somebody acts, and who; stamped where one is missing."""

from __future__ import annotations

from mmbuilder.analysis.monitoring import HEAD, missing, monitoring_rows
from mmbuilder.safe.case import Watch
from mmbuilder.safe.text import EMPTY, SafeText, fill, join, sentence, wording
from mmbuilder.storyboard.blocks import Cell, Slide, Table
from mmbuilder.storyboard.context import Context, counted
from mmbuilder.storyboard.slides.actions import INCOMPLETE

MISSING = wording("monitoring: the case lists nothing that is still watched")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide with a row a thing watched."""
    plan = context.case.outcome.monitoring
    if not plan:
        return ()
    table = Table(
        header=HEAD,
        rows=tuple(_row(watch) for watch in plan),
        shares=(3, 2, 3, 2),
        caption=wording("Monitoring with end, threshold and role"),
    )
    notes = (wording("Could somebody who was not here follow this? Fill in what is missing."),)
    return (Slide("monitoring", _headline(plan), (table,), notes, context.seconds),)


def _row(watch: Watch) -> tuple[Cell, ...]:
    lacks = missing(watch)
    stamp = fill("{word}: {parts}", word=INCOMPLETE, parts=join(", ", lacks)) if lacks else EMPTY
    ((what, *others),) = monitoring_rows((watch,))
    return (Cell(what, stamp=stamp, strong=True), *map(Cell, others))


def _headline(plan: tuple[Watch, ...]) -> SafeText:
    count = counted(len(plan), wording("thing is still watched"), wording("things are still watched"))
    lacking = sum(bool(missing(watch)) for watch in plan)
    if lacking:
        return sentence(fill("{count}, of which {n} without a whole plan", count=count, n=lacking))
    return sentence(fill("{count}, with an end, a threshold and a role", count=count))
