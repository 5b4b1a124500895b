"""A due date that is written in figures can be read in one way only."""

from __future__ import annotations

from collections.abc import Iterator

from pydantic_core import PydanticCustomError

from mmbuilder.case.when import parse_day
from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding

CODE = "due-ambiguous"
WHY = "the slide tells how long after the meeting it is due; a date that can be two days tells neither"
GOOD = "actions: [{what: Order it, owner: lead, due: 2026-04-03, measure: 4 of 4 lists, strength: stronger}]"
BAD = "actions: [{what: Order it, owner: lead, due: 03/04/2026, measure: 4 of 4 lists, strength: stronger}]"

_TWO_WAYS = ("date-ambiguous", "date-two-digit-year", "date-not-in-calendar")


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each due date that could be two days, or none."""
    for place, action in enumerate(ctx.case.actions):
        if action.due is None:
            continue
        try:
            parse_day(action.due.value)
        except PydanticCustomError as fault:
            if fault.type in _TWO_WAYS:
                yield Finding(
                    ("actions", place, "due"),
                    f"action {place + 1}: this due date can be read in two ways, or in none",
                    found="a date in figures",
                    expected="the month as a word, or year-month-day",
                    example="due: 3 April 2026",
                )
