"""The words of an action name no day that would keep the day it is due out of log and calendar."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.case.due import day_due
from mmbuilder.case.tidy import tidy
from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.casefile.rules._days import DAY
from mmbuilder.problem import Severity

CODE = "due-not-told"
WHY = (
    "a day in its words is told from the meeting; beside that, the day in the log would tell when the "
    "meeting was, so log and calendar are given none"
)
GOOD = """
actions: [{what: Order what has been out since January, owner: lead, due: 2026-04-03, baseline: none,
  measure: 4 of 4 lists each month, review: in 4 months, strength: stronger,
  strength reason: The old one is taken away}]
"""
BAD = """
actions: [{what: Order what has been out since 5 January 2026, owner: lead, due: 2026-04-03,
  measure: 4 of 4 lists, strength: stronger}]
"""

_WORDS = ("what", "measure", "out_of", "target", "period", "baseline")


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each text of an action that names a day, where the action is due on one."""
    meeting = ctx.case.meeting.date if ctx.case.meeting else None
    for place, action in enumerate(ctx.case.actions):
        if day_due(action.due, meeting) is None:
            continue
        for key in _WORDS:
            text = getattr(action, key)
            if text is not None and DAY.search(tidy(text.value)):
                yield Finding(
                    ("actions", place, key),
                    f"action {place + 1}: its words name a day, so the day it is due stands in no calendar",
                    found="a calendar day beside a due day",
                    expected="the month, or how long before or after the meeting",
                    example="baseline: 4 of 20 in the quarter before",
                    severity=Severity.WARN,
                )
