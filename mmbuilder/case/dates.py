"""Calendar dates as clinicians write them. The order of day and month is asked for, never guessed."""

from __future__ import annotations

import re
from calendar import isleap
from collections.abc import Iterable
from datetime import date

from pydantic_core import PydanticCustomError

from mmbuilder.case.refuse import refusal

_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
MONTH = (
    r"(?:jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?"
    r"|sept?(?:ember)?|oct(?:ober)?|nov(?:ember)?|dec(?:ember)?)\.?"
)
_YEAR = r"(?:(?:19|20|21)\d\d|\d\d)(?![\d:.h])"

YEAR_FIRST = r"\d{4}([-/.])\d{1,2}\1\d{1,2}(?!\d)"
FIGURES = rf"\d{{1,2}}([-/.])\d{{1,2}}\1{_YEAR}"
DAY_WORD = rf"\d{{1,2}}(?:st|nd|rd|th)?[ -](?:of )?{MONTH}(?:,?[ -]?{_YEAR})?"
WORD_DAY = rf"{MONTH} \d{{1,2}}(?:st|nd|rd|th)?(?:,? {_YEAR})?(?![\d:.])"
SHAPES = (YEAR_FIRST, FIGURES, DAY_WORD, WORD_DAY)
"""Patterns of text that is meant as a date, right or wrong."""

_CLEAR = "2001-02-13 or 13 February 2001"
_WHY = "a wrong date moves everything that is counted from it"


def read_date(text: str, near_to: date | None = None) -> date | None:
    """Return the date; None where `text` (already tidied) has no shape of a date.

    Args:
        text: the date.
        near_to: a day beside which figures with a year of two figures are read, where one reading is left.

    Raises:
        PydanticCustomError: it can be read in two ways, or is not in the calendar.
    """
    if re.fullmatch(YEAR_FIRST, text):
        year, month, day = map(int, re.split(r"[-/.]", text))
        return _real(year, month, day)
    if re.fullmatch(FIGURES, text):
        one, other, last = re.split(r"[-/.]", text)
        return _figures(one, other, last, near_to)
    if re.fullmatch(DAY_WORD, text) or re.fullmatch(WORD_DAY, text):
        return _words(text)
    return None


def _figures(first: str, second: str, year: str, near_to: date | None) -> date:
    a, b = int(first), int(second)
    if len(year) < 4:
        if near_to is None:
            raise _short_year()
        readings = orders(a, b)
        day = of_short_year(readings, int(year), near_to)
        if day is None and len(readings) < 2:
            raise _not_in_calendar(int(year), b, a)
        if day is None or _nearer_year_first(day, (a, b, int(year)), near_to):
            raise _ambiguous()
        return day
    if len(orders(a, b)) > 1:
        raise _ambiguous()
    return _real(int(year), a, b) if b > 12 else _real(int(year), b, a)


def orders(first: int, second: int) -> frozenset[tuple[int, int]]:
    """Return (day, month) of two figures, in each order in which the month is one."""
    return frozenset((day, month) for day, month in ((first, second), (second, first)) if month <= 12)


def of_short_year(readings: Iterable[tuple[int, int]], year: int, near_to: date) -> date | None:
    """Return the date of a year of two figures.

    Args:
        readings: the (day, month) that it may be.
        year: its last two figures; of the years they end, it is the nearest.
        near_to: the day that lies near.

    Returns:
        None where no date of the calendar is left, or more than one.
    """
    full = _nearest_year(year, near_to.year)
    days = {real(full, month, day) for day, month in readings}
    return days.pop() if len(days) == 1 else None


def _nearest_year(year: int, near_to: int) -> int:
    century = near_to - near_to % 100
    years = (century - 100 + year, century + year, century + 100 + year)
    return min(years, key=lambda one: abs(one - near_to))


def _nearer_year_first(day: date, figures: tuple[int, int, int], near_to: date) -> bool:
    """Whether the figures are a nearer day with the year in front, as in `26-10-30`."""
    year, month, last = figures
    other = real(_nearest_year(year, near_to.year), month, last)
    return other is not None and other != day and abs(other - near_to) <= abs(day - near_to)


def nearest_years(day: int, month: int, near_to: date) -> list[date]:
    """Return a date in the year of another and the years beside it, the nearest first."""
    days = (real(near_to.year + turn, month, day) for turn in (-1, 0, 1))
    return sorted(filter(None, days), key=lambda one: abs(one - near_to))


def real(year: int, month: int, day: int) -> date | None:
    """Return the date; None where the calendar has none such."""
    try:
        return date(year, month, day)
    except ValueError:
        return None


def _ambiguous() -> PydanticCustomError:
    return refusal(
        "date-ambiguous",
        "this date can be read in two ways",
        found="day and month in figures, either of which could be the month",
        expected="the month as a word, or year-month-day",
        why="it could be either of two days, weeks apart; " + _WHY,
        example="1 February 2001 if the day comes first, 2 January 2001 if the month does",
    )


def _words(text: str) -> date:
    month = month_of(text)
    numbers = re.findall(r"\d+", text)
    if len(numbers) < 2:
        raise refusal(
            "date-no-year",
            "this date has no year",
            found="a day and a month only",
            expected="day, month and year, or a Day number",
            why="leap years and the turn of the year change the count of days",
            example="13 February 2001, or day 2",
        )
    day, year = numbers
    if len(year) < 4:
        raise _short_year()
    return _real(int(year), month, int(day))


def month_of(text: str) -> int:
    """Return the month that stands in a text (already tidied) as a word of `MONTH`."""
    return next(place for place, name in enumerate(_MONTHS, 1) if re.search(rf"\b{name}", text))


def _short_year() -> PydanticCustomError:
    return refusal(
        "date-two-digit-year",
        "this date has a year of two figures",
        found="a year of two figures",
        expected="the year in full",
        why="with two figures it is not sure which number is the year; " + _WHY,
        example=_CLEAR,
    )


def _real(year: int, month: int, day: int) -> date:
    if (found := real(year, month, day)) is None:
        raise _not_in_calendar(year, month, day)
    return found


def _not_in_calendar(year: int, month: int, day: int) -> PydanticCustomError:
    leap = month == 2 and day == 29 and not isleap(year)
    return refusal(
        "date-not-in-calendar",
        "there is no such day in the calendar",
        found="29 February in a year that is not a leap year" if leap else "a day the calendar does not have",
        expected="a day that exists" + ("; 29 February comes in leap years only" if leap else ""),
        why=_WHY,
        example=_CLEAR,
    )
