"""The visits after it: measurements as curves where they can be drawn, and each visit as it was written."""

from __future__ import annotations

from mmbuilder import packs
from mmbuilder.analysis.series import FollowUp
from mmbuilder.analysis.series import follow_up as series_of
from mmbuilder.packs.schema import Reference
from mmbuilder.safe.case import Outcome, ScrubbedCase, Visit
from mmbuilder.safe.moment import clock
from mmbuilder.safe.text import EMPTY, SafeText, fill, inline, join, sentence, wording
from mmbuilder.storyboard.blocks import Block, Cell, Diagram, Slide
from mmbuilder.storyboard.columns import filled_table
from mmbuilder.storyboard.context import Context, counted, spelled

MISSING = wording("follow-up: the case lists no visits")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide: the drawing, if measures have figures of two visits or more, and a row a visit held."""
    visits = context.case.outcome.held
    if not visits:
        return ()
    table = filled_table(
        header=(wording("Visit"), wording("Measured"), wording("Course")),
        rows=tuple(_row(visit) for visit in visits),
        shares=(3, 3.5, 3.5),
        caption=wording("Follow-up visits with measurements"),
    )
    notes = (wording("Name the last visit, and what is still open."),)
    made = series_of(visits, _references(context.case), context.case.patient)
    blocks: tuple[Block, ...] = (*_drawn(made, context.case.zero), table)
    return (Slide("follow_up", _headline(context.case.outcome), blocks, notes, context.seconds),)


def _references(case: ScrubbedCase) -> tuple[Reference, ...]:
    return next((pack.references for pack in packs.every() if pack.title == case.specialty), ())


def _drawn(made: FollowUp, zero: SafeText) -> tuple[Diagram, ...]:
    if made.chart is None:
        return ()
    day = fill("Measured at each visit. Day 0 is the day of the index event: {zero}.", zero=inline(zero))
    only = (
        sentence(fill("In the table only: {name}, {why}", name=name, why=why))
        for name, why in made.table_only
    )
    return (Diagram(made.chart, day, (*made.notes, *only)),)


def _row(visit: Visit) -> tuple[Cell, ...]:
    measured = (fill("{name} {value}", name=measure.name, value=measure.value) for measure in visit.measures)
    return (
        Cell(join(" · ", (clock(visit.at), visit.label)), strong=True),
        Cell(join("; ", measured)),
        Cell(visit.note),
    )


def _headline(outcome: Outcome) -> SafeText:
    """Count what was held, and say how many are still to come."""
    count = counted(len(outcome.held), wording("visit"), wording("visits"))
    so_far = fill("{count} so far, the last at {last}", count=count, last=clock(outcome.held[-1].at))
    more = fill("{n} to come", n=spelled(len(outcome.to_come))) if outcome.to_come else EMPTY
    return sentence(join("; ", (so_far, more)))
