"""What became of what earlier meetings agreed: the late first, and what was done but not measured is open."""

from __future__ import annotations

from collections.abc import Sequence

from mmbuilder.safe.log import LoggedAction
from mmbuilder.safe.terms import ActionStatus, term
from mmbuilder.safe.text import EMPTY, SafeText, capital, fill, join, sentence, wording
from mmbuilder.storyboard.blocks import Block, Cell, Paragraph, Slide, Table, Tone
from mmbuilder.storyboard.context import Context, counted

MISSING = wording("previous actions: the case names no action log")

NOT_CLOSED = wording("NOT CLOSED")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide with a row an action, in the order of the log; those it has no room for are counted."""
    rows, most = context.case.previous, context.planned.strongest
    if not rows:
        return ()
    table = Table(
        header=(
            wording("Action"),
            wording("Owner (role)"),
            wording("Due"),
            wording("Measure"),
            wording("Result"),
            wording("Status"),
        ),
        rows=tuple(_row(row) for row in rows[:most]),
        shares=(3.1, 1.8, 1.4, 2.7, 1.6, 1.6),
        caption=wording("Previous actions with owner role, due date, measure, result and status"),
    )
    blocks: list[Block] = [table]
    if len(rows) > most:
        blocks.append(Paragraph(fill("and {n} more in the log", n=len(rows) - most), Tone.QUIET))
    notes = (
        wording("Half a minute each, the late ones first: is it done, does it work, what is in the way?"),
        wording("What is done but not measured stays open until somebody has counted."),
    )
    return (Slide("previous_actions", _headline(rows), tuple(blocks), notes, context.seconds),)


def _row(row: LoggedAction) -> tuple[Cell, ...]:
    unsaid = wording("not stated")
    return (
        Cell(fill("{case} {id}: {what}", case=row.case, id=row.id, what=row.what), strong=True),
        Cell(row.owner or unsaid),
        Cell(_due(row), strong=row.late),
        Cell(row.measure or unsaid),
        Cell(_result(row)),
        _status(row),
    )


def _due(row: LoggedAction) -> SafeText:
    """When it is due, by the month: the day stands in the log, and no slide tells how far off it is."""
    if row.closed:
        return wording("no longer due")
    due = row.due or wording("not stated")
    return fill("late: {due}", due=due) if row.late else due


def _result(row: LoggedAction) -> SafeText:
    before = fill("before: {baseline}", baseline=row.baseline) if row.baseline else EMPTY
    return join("; ", (row.result or wording("not measured"), before))


def _status(row: LoggedAction) -> Cell:
    match row.status:
        case ActionStatus.NOT_MEASURED:
            return Cell(wording("Done, not measured"), stamp=NOT_CLOSED)
        case ActionStatus.DROPPED:
            return Cell(fill("Dropped: {reason}", reason=row.reason))
        case _:
            return Cell(capital(term(row.status)))


def _headline(rows: Sequence[LoggedAction]) -> SafeText:
    total = counted(len(rows), wording("previous action"), wording("previous actions"))
    late = sum(row.late for row in rows)
    unmeasured = sum(row.status is ActionStatus.NOT_MEASURED for row in rows)
    open_still = wording("done and not measured")
    parts = (
        counted(late, wording("late"), wording("late")) if late else EMPTY,
        counted(unmeasured, open_still, open_still) if unmeasured else EMPTY,
        wording("all closed") if all(row.closed for row in rows) else EMPTY,
    )
    state = join(", ", parts) or wording("none late")
    return sentence(fill("{total}: {state}", total=total, state=state))
