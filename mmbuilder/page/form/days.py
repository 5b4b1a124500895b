"""The days that a date may be meant as: told in words where it can be read in two ways, or names no day."""

from __future__ import annotations

import re
from calendar import monthrange
from collections.abc import Callable, Iterator
from datetime import date

from pydantic_core import PydanticCustomError

from mmbuilder.case.dates import MONTH, month_of, nearest_years, of_short_year, orders, read_date, real
from mmbuilder.case.tidy import tidy

CODES = frozenset(
    {
        "date-ambiguous",
        "date-two-digit-year",
        "date-no-year",
        "day-not-read",
        "due-ambiguous",
        "time-not-read",
    }
)
"""Faults of a date that days are offered for."""

_FIGURES = re.compile(r"(?:by )?(\d{1,2})[-/.](\d{1,2})(?:[-/.](\d{4}|\d\d))?")
_CLOCK = re.compile(
    r"(?P<date>\d{1,2}[-/.]\d{1,2}(?:[-/.](?:\d{4}|\d\d))?|.*[^\W\d_])"
    r" (?:at )?(?P<hour>[01]\d|2[0-3])(?P<by>[:.]?)(?P<minute>[0-5]\d)"
)
"""A day and a time of it: `13/11 0310`; behind a month in words four figures alone are a year."""
_NTH = r"(?:st|nd|rd|th)?"
_DAY = re.compile(
    rf"(?:by )?(?:the )?(?:(?P<day>\d{{1,2}}){_NTH} (?:of )?(?P<month>{MONTH})"
    rf"|(?P<month_first>{MONTH}) (?P<day_last>\d{{1,2}}){_NTH})(?:,? (?P<year>\d\d))?"
)
_PART = re.compile(
    rf"(?:by )?(?:the )?(?P<part>start|beginning|early|mid|middle|end|late)?[ -]?(?:of )?(?P<month>{MONTH})"
    r"(?: (?P<year>\d{4}))?"
)
_PLACE = {"start": 1, "beginning": 1, "early": 1, "mid": 15, "middle": 15}
"""Day of a month that a part of it is offered as; else its last."""


_WEEKDAY = re.compile(
    r"(?:by )?(?P<day>mon|tue|wed|thu|fri|sat|sun)(?:s|rs?|nes|ur)?(?:day)?[.,]? (?P<date>.+)"
)
_WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")

Orders = Callable[[int, int], frozenset[tuple[int, int]]]
"""The (day, month) that two figures may be."""


def settled(words: str, near_to: date, order: Orders = orders) -> str:
    """Return the one day that a date can be meant as, in words: `Wed 2/12/26`; else nothing.

    Args:
        words: as they were typed.
        near_to: the day beside which a year that is not written in full is read.
        order: in which order figures may be meant here; a weekday settles it too.
    """
    days = _fitting(tidy(words), near_to, order)
    day = days.pop() if len(days) == 1 else None
    return f"{day.day} {day:%B %Y}" if day else ""


def _fitting(said: str, near_to: date | None, order: Orders = orders) -> set[date]:
    """The days that words may mean; of those behind a weekday the ones that fall on it, in either order."""
    found = _WEEKDAY.fullmatch(said)
    if found is None:
        return {day for day in _days(said, near_to, order) if day is not None}
    days = (_in_full(found["date"]), *_days(found["date"], near_to, orders))
    return {day for day in days if day and day.weekday() == _WEEKDAYS.index(found["day"])}


def meant(words: str, near_to: date | None, *, timed: bool = False) -> tuple[str, ...]:
    """Return the days that a date may be meant as, in words and in order: `1 February 2001`.

    Args:
        words: as they were typed.
        timed: whether a time of day may stand behind the date; it is told with each day.
        near_to: the day that it is counted from. A year that is not written is the nearest; of a month
            without a day it is the next.
    """
    said = tidy(words)
    found = _CLOCK.fullmatch(said) if timed else None
    if found and not (found["date"][-1].isalpha() and not found["by"]):
        said, clock = found["date"], f" {found['hour']}:{found['minute']}"
    else:
        clock = ""
    return tuple(f"{day.day} {day:%B %Y}{clock}" for day in sorted(_fitting(said, near_to)))


def _in_full(words: str) -> date | None:
    """A date that lacks nothing."""
    try:
        return read_date(words)
    except PydanticCustomError:
        return None


def _days(words: str, near_to: date | None, order: Orders) -> Iterator[date | None]:
    if found := _FIGURES.fullmatch(words):
        for day, month in order(int(found[1]), int(found[2])):
            yield in_full(day, month, found[3] or "", near_to)
    elif found := _DAY.fullmatch(words):
        month = month_of(found["month"] or found["month_first"])
        yield in_full(int(found["day"] or found["day_last"]), month, found["year"] or "", near_to)
    elif found := _PART.fullmatch(words):
        yield _of_month(month_of(found["month"]), found["part"] or "", found["year"] or "", near_to)


def in_full(day: int, month: int, year: str, near_to: date | None) -> date | None:
    """Return a day of a year in four figures, in two or not said; arguments as for `meant`."""
    if len(year) == 4:
        return real(int(year), month, day)
    if near_to is None:
        return None
    if year:
        return of_short_year([(day, month)], int(year), near_to)
    return next(iter(nearest_years(day, month, near_to)), None)


def _of_month(month: int, part: str, year: str, near_to: date | None) -> date | None:
    first = date.min if year or near_to is None else near_to
    years = [int(year)] if year else [near_to.year, near_to.year + 1] if near_to else []
    days = (date(one, month, _PLACE.get(part, monthrange(one, month)[1])) for one in years)
    return next((day for day in days if day >= first), None)
