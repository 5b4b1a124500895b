"""When something is due: a day, a month with its year, or a length of time counted from the meeting."""

from __future__ import annotations

import re
from calendar import monthrange
from datetime import date, timedelta

from pydantic_core import PydanticCustomError

from mmbuilder.case.dates import MONTH, month_of
from mmbuilder.case.freetext import FreeText
from mmbuilder.case.tidy import tidy
from mmbuilder.case.when import parse_day

_COUNTS = (
    ("a", "one", "ein", "einem", "einer"), ("two", "zwei"), ("three", "drei"), ("four", "vier"),
    ("five", "fünf"), ("six", "sechs"), ("seven", "sieben"), ("eight", "acht"), ("nine", "neun"),
    ("ten", "zehn"), ("eleven", "elf"), ("twelve", "zwölf"),
)  # fmt: skip
_COUNT = {word: count for count, words in enumerate(_COUNTS, 1) for word in words}
_UNITS = {
    "day": "days",
    "tag": "days",
    "week": "weeks",
    "woche": "weeks",
    "month": "months",
    "monat": "months",
    "year": "years",
    "jahr": "years",
}

_LENGTH = re.compile(
    rf"(?:(?:with)?in|after|innerhalb von|nach|binnen)?\s*(?P<count>\d{{1,3}}|{'|'.join(_COUNT)})\s+"
    rf"(?P<unit>{'|'.join(_UNITS)})(?:s|e|en|n)?"
    r"(?: (?:after|from|of) (?:(?:this|the) meeting|now|today)| nach (?:dieser|der) besprechung)?\.?"
)


_MONTH_OF_YEAR = re.compile(
    rf"(?:by |in )?(?:the )?(?:end(?: of)? )?(?P<month>{MONTH})\.?,? (?P<year>20\d\d)\.?"
)


_BY = re.compile(r"^\s*(?:by|on|until|till|before|bis(?: zum)?|am|zum)\s+", re.IGNORECASE)


def day_due(text: FreeText | None, meeting: date | None) -> date | None:
    """Return the day, where the text is a day, a month or a length from the meeting and nothing else."""
    if text is None:
        return None
    try:
        day = parse_day(_BY.sub("", text.value)).date
    except PydanticCustomError:
        day = None
    day = day or end_of_month(text.value)
    if day is not None or meeting is None:
        return day
    found = _LENGTH.fullmatch(tidy(text.value))
    if found is None:
        return None
    count = _COUNT.get(found["count"]) or int(found["count"])
    return _later(meeting, count, _UNITS[found["unit"]])


_MEETING = re.compile(
    r"(?:at|in) (?:the |a |our )?(?:next )?meeting (?:in|of|on) |(?: meeting)$", re.IGNORECASE
)


def day_again(text: FreeText | None) -> date | None:
    """Return the day, or the last of the month, that it is looked at again: `at the meeting in June 2027`."""
    return None if text is None else day_due(FreeText(_MEETING.sub("", text.value.strip())), None)


def end_of_month(text: str) -> date | None:
    """Return the last day of a month with its year, where the text is nothing else: `end of May 2027`."""
    found = _MONTH_OF_YEAR.fullmatch(tidy(text))
    month = month_of(found["month"]) if found else None
    if found is None or month is None:
        return None
    year = int(found["year"])
    return date(year, month, monthrange(year, month)[1])


def _later(day: date, count: int, unit: str) -> date:
    """Add days or weeks; of months and years the same day, or the last if the month has none such."""
    if unit in ("days", "weeks"):
        return day + timedelta(days=count * (7 if unit == "weeks" else 1))
    years, month = divmod(day.month - 1 + count * (12 if unit == "years" else 1), 12)
    year, month = day.year + years, month + 1
    return date(year, month, min(day.day, monthrange(year, month)[1]))
