"""The action log of a meeting: what earlier meetings agreed, with what this case adds to it."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from mmbuilder.safe.case import Action, ScrubbedCase
from mmbuilder.safe.log import LoggedAction, most_urgent_first
from mmbuilder.safe.text import EMPTY, SafeText, fill, join


def action_log(case: ScrubbedCase) -> tuple[LoggedAction, ...]:
    """Return the rows of the log, overdue first; every action of the case itself is open."""
    return most_urgent_first((*case.previous, *(_opened(action, case.code) for action in case.actions)))


def due_days(rows: Iterable[LoggedAction]) -> frozenset[date]:
    """Return the days that the log and its calendar may tell: the one kind of date that leaves."""
    return frozenset(row.due_day for row in rows if row.due_day is not None)


def _opened(action: Action, code: SafeText) -> LoggedAction:
    return LoggedAction(
        id=fill("A{n}", n=action.number),
        case=code,
        what=action.what,
        strength=action.strength,
        owner=action.owner,
        due=action.due,
        due_day=action.due_day,
        measure=measured(action),
        baseline=action.baseline,
    )


def measured(action: Action) -> SafeText:
    """Say what is counted, out of what, with target and period; nothing twice that the measure names."""
    if not action.measure:
        return EMPTY
    out_of = fill("out of {all}", all=action.out_of) if _says_more(action) else EMPTY
    target = fill("target: {target}", target=action.target) if action.target else EMPTY
    period = fill("over {period}", period=action.period) if action.period else EMPTY
    return join("; ", (join(", ", (action.measure, out_of)), target, period))


def _says_more(action: Action) -> bool:
    return bool(action.out_of) and not action.out_of.within(action.measure)
