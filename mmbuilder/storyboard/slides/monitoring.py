"""What is still watched: until when, at which value somebody acts, and who; stamped where one is missing."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.analysis.monitoring import HEAD, missing, monitoring_rows
from mmbuilder.safe.case import Watch
from mmbuilder.safe.text import EMPTY, SafeText, fill, join, sentence, wording
from mmbuilder.storyboard.blocks import Bullets, Cell, Slide, Table
from mmbuilder.storyboard.context import Context, counted
from mmbuilder.storyboard.slides.actions import INCOMPLETE
from mmbuilder.storyboard.slides.outcome import visited

MISSING = wording("monitoring: the case lists nothing that is still watched")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide with a row a thing watched, and the visits that are still to come."""
    plan = context.case.outcome.monitoring
    visits = tuple(filter(None, map(visited, context.case.outcome.to_come)))
    blocks = (*_watched(plan), *((Bullets(visits, wording("Visits to come")),) if visits else ()))
    if not blocks:
        return ()
    notes = (wording("Could somebody who was not here follow this? Fill in what is missing."),)
    return (Slide("monitoring", _headline(plan, len(visits)), blocks, notes, context.seconds),)


def _watched(plan: tuple[Watch, ...]) -> Iterator[Table]:
    if plan:
        yield Table(
            header=HEAD,
            rows=tuple(_row(watch) for watch in plan),
            shares=(3, 2, 3, 2),
            caption=wording("Monitoring with end, threshold and role"),
        )


def _row(watch: Watch) -> tuple[Cell, ...]:
    lacks = missing(watch)
    stamp = fill("{word}: {parts}", word=INCOMPLETE, parts=join(", ", lacks)) if lacks else EMPTY
    ((what, *others),) = monitoring_rows((watch,))
    return (Cell(what, stamp=stamp, strong=True), *map(Cell, others))


def _headline(plan: tuple[Watch, ...], visits: int) -> SafeText:
    if not plan:
        return sentence(counted(visits, wording("visit is to come"), wording("visits are to come")))
    count = counted(len(plan), wording("thing is still watched"), wording("things are still watched"))
    lacking = sum(bool(missing(watch)) for watch in plan)
    if lacking:
        return sentence(fill("{count}, of which {n} without a whole plan", count=count, n=lacking))
    return sentence(fill("{count}, with an end, a threshold and a role", count=count))
