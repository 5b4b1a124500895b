"""Calendar dates as clinicians write them. The order of day and month is asked for, never guessed."""

from __future__ import annotations

import re
from calendar import isleap
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


def read_date(text: str) -> date | None:
    """Return the date; None where `text` (already tidied) has no shape of a date.

    Raises:
        PydanticCustomError: it can be read in two ways, or is not in the calendar.
    """
    if re.fullmatch(YEAR_FIRST, text):
        year, month, day = map(int, re.split(r"[-/.]", text))
        return _real(year, month, day)
    if re.fullmatch(FIGURES, text):
        return _figures(*re.split(r"[-/.]", text))
    if re.fullmatch(DAY_WORD, text) or re.fullmatch(WORD_DAY, text):
        return _words(text)
    return None


def _figures(first: str, second: str, year: str) -> date:
    if len(year) < 4:
        raise _short_year()
    a, b = int(first), int(second)
    if a <= 12 and b <= 12 and a != b:
        raise refusal(
            "date-ambiguous",
            "this date can be read in two ways",
            found="day and month in figures, either of which could be the month",
            expected="the month as a word, or year-month-day",
            why="it could be either of two days, weeks apart; " + _WHY,
            example="1 February 2001 if the day comes first, 2 January 2001 if the month does",
        )
    return _real(int(year), a, b) if b > 12 else _real(int(year), b, a)


def _words(text: str) -> date:
    month = next(place for place, name in enumerate(_MONTHS, 1) if re.search(rf"\b{name}", text))
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
    try:
        return date(year, month, day)
    except ValueError:
        raise _not_in_calendar(year, month, day) from None


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
