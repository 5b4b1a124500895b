"""A stretch of time with its days: `day 0 18:00 to day 1 16:30`, or with dates. Only its length is kept."""

from __future__ import annotations

import re
from datetime import date
from time import strptime

from mmbuilder.clinic.inputs import Value, Written, minutes, stretch

DAY = 24 * 60
"""Minutes in a day."""
EXAMPLE = "day 0 18:00 to day 1 16:30"

_ONE = r"day -?\d{1,3}|\d{4}-\d\d-\d\d|\d{1,2} [a-z]{3,9} \d{4}"
_TIME = r"\d{1,2}[:.h]?\d\d"
_DAYS = re.compile(
    rf"(?P<first>{_ONE}),? (?P<start>{_TIME}) ?(?:-|–|→|to) ?(?:(?P<last>{_ONE}),? )?(?P<end>{_TIME})"
)
_DATES = ("%Y-%m-%d", "%d %B %Y", "%d %b %Y")


def timed(text: str) -> Value:
    """Read a stretch of time.

    Returns:
        Start, end in minutes from midnight of the first day, and whether the days were told (1 or 0):
        without them an end before its start is taken as on the next day.

    Raises:
        ValueError: it is none, its two days are told in two ways, or a date is not in the calendar.
    """
    found = _DAYS.fullmatch(" ".join(text.split()).casefold())
    if found is None:
        return (*stretch(text), 0.0)
    first, last = found["first"], found["last"] or found["first"]
    if first.startswith("day") is not last.startswith("day"):
        raise ValueError("a day number and a date")
    days = _number(last) - _number(first)
    return minutes(found["start"]), minutes(found["end"]) + days * DAY, 1.0


def _number(day: str) -> int:
    """The number of a day, from wherever its kind counts."""
    if day.startswith("day"):
        return int(day.removeprefix("day"))
    for shape in _DATES:
        try:
            return date(*strptime(day, shape)[:3]).toordinal()
        except ValueError:
            continue
    raise ValueError("not in the calendar")


TIMED = Written(
    timed,
    "two times of day, each with its day where a day or more may lie between",
    EXAMPLE,
)
