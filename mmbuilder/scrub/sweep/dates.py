"""Calendar dates of a case, in any of the ways a date is written with figures or English month names."""

from __future__ import annotations

import re
from calendar import month_name
from collections.abc import Iterator
from datetime import date

_MONTHS = tuple(month_name)[1:]
"""In English: the interpreter's default, since nothing here sets a locale."""
_MONTH = "(" + "|".join(f"{name[:3]}(?:{name[3:]})?" for name in _MONTHS) + "|sept)"
_SHORT_MONTHS = tuple(name[:3].lower() for name in _MONTHS)
_MONTH_WORD = re.compile(rf"{_MONTH}(?:\b|(?=[\d_]))", re.IGNORECASE)
"""A month as it ends before a day, a year or the end of the date: `mar`, not `margin`."""
_NTH = r"(?:st|nd|rd|th)?"
_GAP = r"(?:\s|\u00a0|-|,|\.|/|_){0,2}"

_FIGURE = re.compile(r"\d")
# Each begins with a figure and only then looks back: the engine then passes over all other signs.
_FIGURES = re.compile(
    r"(\d(?<![\d.,].)\d{0,3})([-/.:_\u2010-\u2013])(\d{1,2})\2(\d{4}|\d{1,2})(?![\d])(?![.,]\d)"
)
_COMPACT = re.compile(r"([12](?<!\d.)(?:(?<=1)9|(?<=2)0)\d\d)([01]\d)([0-3]\d)(?!\d{1,5}(?!\d))")
_DAY_FIRST = re.compile(
    rf"(\d(?<!\d.)\d?){_NTH}(?:\s+of)?{_GAP}{_MONTH}\b{_GAP}(?:(\d{{4}}|'?\d\d(?!\d)))?", re.IGNORECASE
)
_MONTH_FIRST = re.compile(rf"\b{_MONTH}{_GAP}(\d{{1,2}}){_NTH}\b(?:{_GAP}(\d{{4}}))?", re.IGNORECASE)


def holds(text: str, dates: frozenset[date]) -> bool:
    """Whether any of `dates` is written in the text; both orders of day and month are taken."""
    if not dates or not _FIGURE.search(text):
        return False
    days = {(day.month, day.day) for day in dates}
    return any(found in dates or found in days for found in _written(text))


def _written(text: str) -> Iterator[date | tuple[int, int]]:
    for first, _, middle, last in _FIGURES.findall(text):
        yield from _from_figures(first, middle, last)
    for year, month, day in _COMPACT.findall(text):
        yield from _date(int(year), int(month), int(day))
    if not _names_a_month(text):  # asked first: the patterns below take long
        return
    for day, month, year in _DAY_FIRST.findall(text):
        yield from _named(day, month, year)
    for month, day, year in _MONTH_FIRST.findall(text):
        yield from _named(day, month, year)


def _names_a_month(text: str) -> bool:
    plain = text.replace(
        "\u0130", "I"
    ).casefold()  # a dotted capital I is an i to the patterns, and folds to two signs
    for name in _SHORT_MONTHS:
        place = plain.find(name)
        while place >= 0:
            if _MONTH_WORD.match(plain, place):
                return True
            place = plain.find(name, place + 1)
    return False


def _from_figures(first: str, middle: str, last: str) -> Iterator[date]:
    if len(first) == 4:
        yield from _date(int(first), int(middle), int(last))
        return
    year = int(last) if len(last) == 4 else 2000 + int(last)
    for candidate in (year, year - 100) if len(last) < 4 else (year,):
        yield from _date(candidate, int(middle), int(first))
        yield from _date(candidate, int(first), int(middle))


def _named(day: str, month: str, year: str) -> Iterator[date | tuple[int, int]]:
    number = next(place for place, name in enumerate(_MONTHS, 1) if name.startswith(month[:3].capitalize()))
    if not year:
        # "14 March": with the year of the meeting known, that is the date.
        yield number, int(day)
        return
    figures = int(year.lstrip("'"))
    for full in (figures,) if figures > 99 else (2000 + figures, 1900 + figures):
        yield from _date(full, number, int(day))


def _date(year: int, month: int, day: int) -> Iterator[date]:
    try:
        yield date(year, month, day)
    except ValueError:
        return
