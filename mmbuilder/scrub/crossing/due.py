"""What a slide tells of a due day: its month. The day itself is for the log and the calendar alone.

A day or a month at which an action is looked at again is told by its month in the same way, and so is the
day of a change that a reflection sets itself: `Day 142` after the operation tells nobody when that is. Neither
a length from the meeting nor the day may stand on a slide: beside the day in the log, the length would tell when
the meeting was.
"""

from __future__ import annotations

from calendar import month_name
from collections.abc import Callable
from datetime import date

from mmbuilder.case.due import day_again, day_due
from mmbuilder.case.freetext import FreeText
from mmbuilder.case.model import Action, Reflection
from mmbuilder.safe.mint import KEY
from mmbuilder.safe.text import SafeText, ours, wording

MONTHS = tuple(month_name)[1:]
"""In English: the interpreter's default, since nothing here sets a locale."""

_CLEAR = 335
"""Days from the meeting within which the name of a month says which one is meant."""


def day_of(action: Action, meeting: date | None, dated: Callable[[FreeText | None], bool]) -> date | None:
    """Return the day that an action is due, if it is known and may be told as its month.

    Args:
        action: of the case.
        meeting: its day, which lengths are counted from.
        dated: whether a date of a text is replaced by an offset: beside one the day itself would tell the day
            counted from.
    """
    return None if _beside_a_date(action, dated) else day_due(action.due, meeting)


def again_of(action: Action, dated: Callable[[FreeText | None], bool]) -> date | None:
    """Return the day, or the last of the month, at which an action is looked at again, as `day_of` does.

    A length of time stays in the author's words: no log prints a day beside it.
    """
    return None if _beside_a_date(action, dated) else day_again(action.review)


def change_of(told: Reflection, dated: Callable[[FreeText | None], bool]) -> date | None:
    """Return the day by which a reflection changes something, as `again_of` does."""
    return None if dated(told.change) else day_due(told.change_by, None)


def _beside_a_date(action: Action, dated: Callable[[FreeText | None], bool]) -> bool:
    told = (action.what, action.measure, action.out_of, action.target, action.period, action.baseline)
    return any(map(dated, told))


def told(day: date, meeting: date | None) -> SafeText:
    """Return `February`, or that it is far off."""
    days = (day - meeting).days if meeting else 0
    if days > _CLEAR:
        return wording("in a year or later")
    if days < -_CLEAR:
        return wording("a year ago or longer")
    return ours(KEY, MONTHS[day.month - 1])
