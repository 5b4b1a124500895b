"""What is due can be counted: a day or a month with its year, or a length of time after the meeting."""

from __future__ import annotations

import re
from collections.abc import Iterator

from pydantic_core import PydanticCustomError

from mmbuilder.case.dates import MONTH, read_date
from mmbuilder.case.due import end_of_month
from mmbuilder.case.freetext import FreeText, Path
from mmbuilder.case.tidy import tidy
from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.casefile.rules._days import DAY, WEEKDAY
from mmbuilder.problem import Severity

CODE = "due-ambiguous"
WHY = "a log needs the day and a slide its month; a date that can be two days tells neither"
GOOD = """
actions: [{what: Order it, owner: lead, due: 2026-04-03, measure: 4 of 4 lists each month, baseline: none,
  review: in 4 months, strength: stronger, strength reason: The old one is taken away}]
"""
BAD = "actions: [{what: Order it, owner: lead, due: mid Jan, measure: 4 of 4 lists, strength: stronger}]"

_EXAMPLES = {"due": "due: 4 weeks after this meeting", "change_by": "change by: in one month"}
"""A reflection is private: it counts from no meeting."""

_PART = re.compile(
    rf"(?<![a-z])(?:{MONTH}|januar|februar|märz|mai|juni|juli|oktober|okt|dezember|dez)(?![a-z])"
    rf"|\b{WEEKDAY}\b|(?<!\d)(?:19|20)\d\d(?!\d)|\b\d{{1,2}}/(?!7\b|12\b|52\b)\d{{1,2}}\b|\bq[1-4]\b"
    r"|\b(?:spring|summer|autumn|winter|easter|christmas|new year)\b"
)
_NO_TIME = re.compile(
    r"(?:as )?(?:soon|ongoing|later|open|asap|tbc|tbd|unknown|not (?:yet )?(?:known|decided|agreed|set)"
    r"|soon as possible|when(?:ever)? possible|in due course|to be (?:confirmed|decided|agreed|set))\.?"
)


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each due date that could be several days, or none, or that says no time at all."""
    for path, what, due in _due(ctx):
        words = tidy(due.value)
        if _NO_TIME.fullmatch(words):
            yield Finding(
                path,
                f"{what}: nobody can count when this is due",
                found="no day and no length of time",
                expected="a day with its year, or a length of time",
                example=_EXAMPLES[str(path[-1])],
                severity=Severity.WARN,
            )
        elif end_of_month(words) is None and _ambiguous(words):
            yield Finding(
                path,
                f"{what}: this due date can be read in two ways, or in none",
                found="a part of a date, or figures that can be two days",
                expected="a day or a month, the month as a word, with its year; or a time after the meeting",
                example=f"{path[-1]}: 15 January 2026".replace("_", " "),
            )


def _due(ctx: Context) -> Iterator[tuple[Path, str, FreeText]]:
    for place, action in enumerate(ctx.case.actions):
        if action.due is not None:
            yield ("actions", place, "due"), f"action {place + 1}", action.due
    told = ctx.case.reflection
    if told is not None and told.change_by is not None:
        yield ("reflection", "change_by"), "the change", told.change_by


def _ambiguous(words: str) -> bool:
    """Whether a part of a date is left beside the days that can be read."""
    try:
        rest = DAY.sub(lambda found: "" if read_date(found["date"]) else found[0], words)
    except PydanticCustomError:
        return True
    return _PART.search(rest) is not None
