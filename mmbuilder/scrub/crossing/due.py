"""What a slide tells of a due day: its month. The day itself is for the log and the calendar alone.

A day or a month at which an action is looked at again is told by its month in the same way, and so is the
day of a change that a reflection sets itself: `Day 142` after the operation tells nobody when that is. Neither
a length from the meeting nor the day may stand on a slide: beside the day in the log, the length would tell when
the meeting was. So a date among the words of such an action is told by nothing (`scrub.standins`).
"""

from __future__ import annotations

from calendar import month_name
from collections.abc import Callable
from datetime import date

from mmbuilder.case.due import day_due
from mmbuilder.case.freetext import FreeText
from mmbuilder.case.model import Reflection
from mmbuilder.safe.mint import KEY
from mmbuilder.safe.text import SafeText, ours, wording

MONTHS = tuple(month_name)[1:]
"""In English: the interpreter's default, since nothing here sets a locale."""

_CLEAR = 335
"""Days from the meeting within which the name of a month says which one is meant."""


def change_of(told: Reflection, dated: Callable[[FreeText | None], bool]) -> date | None:
    """Return the day by which a reflection changes something; beside a date that is told as an offset, none."""
    return None if dated(told.change) else day_due(told.change_by, None)


def told(day: date, meeting: date | None) -> SafeText:
    """Return `February`, or that it is far off."""
    days = (day - meeting).days if meeting else 0
    if days > _CLEAR:
        return wording("in a year or later")
    if days < -_CLEAR:
        return wording("a year ago or longer")
    return ours(KEY, MONTHS[day.month - 1])
