"""The words of an action name no day beside the one it is due: slides, paper and log leave it out."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.case.due import day_again, day_due
from mmbuilder.case.tidy import tidy
from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.casefile.rules._days import DAY
from mmbuilder.problem import Severity

CODE = "day-beside-due"
WHY = (
    "log and calendar print the day an action is due; another day of it, told from the meeting, would tell "
    "when the meeting was, so `[date]` stands in its place"
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

_WORDS = ("what", "strength_reason", "measure", "out_of", "target", "period", "baseline")


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each text of an action that names a day, where the action is due or looked at again on one."""
    meeting = ctx.case.meeting.date if ctx.case.meeting else None
    for place, action in enumerate(ctx.case.actions):
        if day_due(action.due, meeting) is None and day_again(action.review) is None:
            continue
        for key in _WORDS:
            text = getattr(action, key)
            if text is not None and DAY.search(tidy(text.value)):
                yield Finding(
                    ("actions", place, key),
                    f"action {place + 1}: its words name a day, and slides, paper and log leave that out",
                    found="a calendar day beside a due day",
                    expected="how long before or after, in words that name no day or month",
                    example="baseline: 4 of 20 in the quarter before",
                    severity=Severity.WARN,
                )
