"""The visits after it, each with its measurements as they were written."""

from __future__ import annotations

from mmbuilder.safe.case import Visit
from mmbuilder.safe.moment import clock
from mmbuilder.safe.text import SafeText, fill, join, sentence, wording
from mmbuilder.storyboard.blocks import Cell, Slide, Table
from mmbuilder.storyboard.context import Context, counted

MISSING = wording("follow-up: the case lists no visits")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide with a row a visit."""
    visits = context.case.outcome.visits
    if not visits:
        return ()
    table = Table(
        header=(wording("Visit"), wording("Measured"), wording("Course")),
        rows=tuple(_row(visit) for visit in visits),
        shares=(3, 3.5, 3.5),
        caption=wording("Follow-up visits with measurements"),
    )
    notes = (wording("Name the last visit, and what is still open."),)
    return (Slide("follow_up", _headline(visits), (table,), notes, context.seconds),)


def _row(visit: Visit) -> tuple[Cell, ...]:
    measured = (fill("{name} {value}", name=measure.name, value=measure.value) for measure in visit.measures)
    return (
        Cell(join(" · ", (clock(visit.at), visit.label)), strong=True),
        Cell(join("; ", measured)),
        Cell(visit.note),
    )


def _headline(visits: tuple[Visit, ...]) -> SafeText:
    count = counted(len(visits), wording("visit"), wording("visits"))
    return sentence(fill("{count} so far, the last at {last}", count=count, last=clock(visits[-1].at)))
