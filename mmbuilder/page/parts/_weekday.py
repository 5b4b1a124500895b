"""Dates in figures behind a weekday, which settles what the figures leave open: `Wed 11/03/2026`."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from mmbuilder.case.dates import MONTH, month_of, orders, real

_DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
WEEKDAY = r"\b(?P<weekday>(?:mon|tue|wed|thu|fri|sat|sun)(?:s|rs?|nes|ur)?(?:day)?)[.,]?\s"
_FIGURES = re.compile(
    WEEKDAY + r"(?P<first>\d{1,2})(?P<by>[/.-])(?P<second>\d{1,2})(?P=by)(?P<year>\d{4})(?!\d)", re.IGNORECASE
)
_NAMED = re.compile(
    WEEKDAY + rf"(?P<day>\d{{1,2}})(?:st|nd|rd|th)? (?P<month>{MONTH}),? (?P<year>\d{{4}})\b", re.IGNORECASE
)
"""`Tues 14 Nov 2023`, as the head of a note says the day of the operation."""


@dataclass(frozen=True)
class Settled:
    """A date that can only be one.

    Attributes:
        day_first: whether its figures have the day first; None where they do not tell.
    """

    date: date
    day_first: bool | None


def settled(text: str) -> Iterator[Settled]:
    """Yield each date behind a weekday that the calendar has on that weekday in one way of reading alone."""
    for found in _NAMED.finditer(text):
        day = real(int(found["year"]), month_of(found["month"].lower()), int(found["day"]))
        if day is not None:
            yield Settled(day, None)
    for found in _FIGURES.finditer(text):
        first, second, year = int(found["first"]), int(found["second"]), int(found["year"])
        days = {real(year, month, day): day == first for day, month in orders(first, second)}
        fitting = [
            (day, day_first)
            for day, day_first in days.items()
            if day is not None and day.weekday() == _DAYS.index(found["weekday"][:3].lower())
        ]
        if len(fitting) == 1:
            yield Settled(fitting[0][0], None if first == second else fitting[0][1])
