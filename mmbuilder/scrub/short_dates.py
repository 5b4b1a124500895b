"""Dates without a year in full (`16/10`, `21 Oct`, `9/9/25`), read only where one reading is left.

The year is the nearest to the day that is counted from, and only where the next one lies at least twice as
far. In figures the day must tell itself from the month: 16/10 has one reading, 2/10 has two, unless the author's
other dates tell which comes first (`own_days`). The phrasings are common practice, no source.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date

from mmbuilder.case.dates import month_of, nearest_years, of_short_year, orders, real
from mmbuilder.scrub.detectors._calendar import LOWER, WEEKDAY
from mmbuilder.scrub.plan import Span


@dataclass(frozen=True)
class Near:
    """A date and its place; a time of day beside it is left out."""

    day: date
    start: int
    end: int


_DAY = r"(?P<day>\d{1,2})(?:st|nd|rd|th)?"
_SHORT_YEAR = r"(?:[\s.,/'’-]{1,2}(?P<year>\d\d))?"
_ON = rf"(?P<weekday>{WEEKDAY},?\s+)?(?:the\s+)?"
_TIME = r"(?:[01]?\d|2[0-3])[:.]?[0-5]\d(?:\s?(?:z|h|hrs?|[ap]\.?m\.?))?"
_AFTER = (
    rf"(?P<after>,?\s(?:(?:at\s|@\s?|around\s)?(?:{_TIME}|\d{{1,2}}\s?[ap]m)|(?:early\s|late\s)?[a-z]+))?"
)
_SHAPES = tuple(
    re.compile(rf"(?P<before>{_TIME},?\s)?(?P<all>{_ON}{shape}){_AFTER}", re.IGNORECASE)
    for shape in (
        rf"{_DAY}(?:\sof)?[\s.,/-]{{0,2}}(?P<month>{LOWER}){_SHORT_YEAR}\.?",
        rf"(?P<month>{LOWER})[\s.,/-]{{0,2}}(?:the\s)?{_DAY}{_SHORT_YEAR}",
        r"(?P<first>\d{1,2})(?P<sign>[-/.])(?P<second>\d{1,2})(?:(?P=sign)(?P<year>(?:19|20)?\d\d))?\.?",
    )
)
_BORN = re.compile(r"(?:\bborn|\bd\.?o\.?b\.?|\bbirth(?:day)?)(?:\s(?:on|is))?[\s:]*$", re.IGNORECASE)


def near(text: str, span: Span, counted_from: date, day_first: bool | None = None) -> Near | None:
    """Return the date of a finding; None where its year, or which figure is the month, is not certain.

    Args:
        text: the sentence.
        span: what was found in it as a date.
        counted_from: the day that lies near.
        day_first: whether the author writes the day first; None where that is not known.
    """
    if _BORN.search(text, 0, span.start):
        return None
    said = text[span.start : span.end]
    found = next(filter(None, (shape.fullmatch(said) for shape in _SHAPES)), None)
    day = _certain(found, counted_from, day_first) if found else None
    if found is None or day is None or not _on_its_weekday(found["weekday"], day):
        return None
    return Near(day, span.start + found.start("all"), span.start + found.end("all"))


def _certain(found: re.Match[str], counted_from: date, day_first: bool | None) -> date | None:
    """Return the one reading that lies near."""
    parts = found.groupdict()
    if parts.get("month"):
        day, month = int(parts["day"]), month_of(parts["month"].lower())
        readings = frozenset({(day, month)})
    else:
        first, second = int(parts["first"]), int(parts["second"])
        readings = orders(first, second)
        if len(readings) > 1 and day_first is not None:
            readings = frozenset({(first, second) if day_first else (second, first)})
        if first <= 12 < second and not parts["year"]:
            return None  # 10/25: a day of October, or the October of a year
    if parts["year"]:
        year = int(parts["year"])
        if year >= _FULL:
            (one, *others) = readings
            return None if others else real(year, one[1], one[0])
        return of_short_year(readings, year, counted_from)
    days = {_nearest(month, day, counted_from) for day, month in readings}
    return days.pop() if len(days) == 1 else None


_FULL = 1000
"""From here on a year is told in four figures."""


def _nearest(month: int, day: int, counted_from: date) -> date | None:
    """Return the day of the nearest year; None where the year next to it is less than twice as far."""
    every = nearest_years(day, month, counted_from)
    if len(every) < 2 or abs(every[1] - counted_from) < 2 * abs(every[0] - counted_from):
        return None
    return every[0]


_WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def _on_its_weekday(said: str | None, day: date) -> bool:
    return not said or said.lower().startswith(_WEEKDAYS[day.weekday()])
