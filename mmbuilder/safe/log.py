"""One row of the action log, which goes on from meeting to meeting."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date

from mmbuilder.safe.terms import ActionStatus, Strength
from mmbuilder.safe.text import EMPTY, SafeText


@dataclass(frozen=True)
class LoggedAction:
    """What was agreed, and what became of it.

    Attributes:
        id: of the action within its case.
        case: letter or code of the case it came from.
        due: when it is due in words, the month where the day is known: for slides, and a log without a day.
        due_day: the due date as a day. For the log and the calendar only; see `safe.case.Action`.
        passed: whether its day was over when the meeting was.
        reason: why it was dropped.
        evidence: where it can be seen that it was done.
    """

    id: SafeText
    case: SafeText
    what: SafeText
    strength: Strength | None = None
    owner: SafeText = EMPTY
    due: SafeText = EMPTY
    due_day: date | None = field(default=None, repr=False)
    passed: bool = False
    measure: SafeText = EMPTY
    baseline: SafeText = EMPTY
    result: SafeText = EMPTY
    status: ActionStatus = ActionStatus.OPEN
    reason: SafeText = EMPTY
    evidence: SafeText = EMPTY

    @property
    def closed(self) -> bool:
        """Whether nothing is left to do: what was done and not measured is not closed."""
        return self.status in (ActionStatus.DONE, ActionStatus.DROPPED)

    @property
    def late(self) -> bool:
        """Whether it is past its due date and not closed."""
        return not self.closed and self.passed


def most_urgent_first(rows: Iterable[LoggedAction]) -> tuple[LoggedAction, ...]:
    """Return the rows with the longest overdue first, then by due date, what has none, and what is closed."""
    return tuple(sorted(rows, key=lambda row: (row.closed, row.due_day or date.max)))
