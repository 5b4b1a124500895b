"""Calendar years within a sentence, and how a reader outside may be told them: counted from Day 0.

A year is no identifier by itself (45 CFR 164.514(b)(2)(i)(C)), but several of them date the case, and
a case report tells elapsed times only. Years that lie apart are told as about so many years: how much
of each of them went by is not known. A year that cannot be counted becomes `[year]`.

Days and months are removed everywhere and are left to what does that. The phrasings are common
practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from mmbuilder.case.apart import apart
from mmbuilder.case.clocks import ClockFault, Reckoner
from mmbuilder.case.model import Case

LOST = "[year]"
"""Stands for a year that cannot be counted from Day 0."""


@dataclass(frozen=True)
class ToldYear:
    """A year in a text, by its place, with an `in` before it.

    Attributes:
        year: the year; None for a decade or a range.
        short: only its last two figures were written; its century is taken to be this one.
    """

    start: int
    end: int
    year: int | None
    short: bool = False


_NUMBERED = r"(?<!page )(?<!room )(?<!bed )(?<!no )(?<!nr )(?<!number )(?<!code )(?<!model )(?<!version )"
_START = rf"{_NUMBERED}(?<![\w.,:/+–−#£$€<>=±≈~-])"
_UNIT = (
    r"(?!\s?(?:%|[kcmµn]?(?:g|l|m|mol|pa)\b|mm|ml|units?\b|iu\b|kcal|rpm|hz|×)"
    r"|\s(?:cells|steps|people|patients|cases|operations|to\s\d{3,5}\s?(?:ml|mg|g|l)\b))"
)
_END = rf"(?![\w°²³]|[.,:+×–-]\d|/\S){_UNIT}"
_IN = r"(?:\bin\s(?:the\s(?:(?:spring|summer|autumn|winter|year)\sof\s)?)?)?"
_CENTURY = r"(?:19|20)"
_PATTERNS = tuple(
    re.compile(shape, re.IGNORECASE)
    for shape in (
        # 2016, in 2016, in the summer of 2016
        rf"{_IN}{_START}(?P<year>{_CENTURY}\d\d){_END}",
        # since '16
        r"(?:\bin\s|(?<=since\s)|(?<=until\s)|(?<=from\s)|(?<=of\s))['’](?P<short>\d\d)(?!\w|[.,:/]\d)",
        # 2016-2018, 2016/17; in the 1990s
        rf"{_IN}{_START}{_CENTURY}\d\d\s?[-–/]\s?(?:{_CENTURY})?\d\d{_END}",
        rf"{_IN}{_START}{_CENTURY}\d0s\b",
    )
)


def find(text: str) -> Iterator[ToldYear]:
    """Yield every year, in order of place; none overlaps another."""
    yield from apart(_told(match) for pattern in _PATTERNS for match in pattern.finditer(text))


def _told(match: re.Match[str]) -> ToldYear:
    parts = match.groupdict()
    if short := parts.get("short"):
        return ToldYear(*match.span(), 2000 + int(short), short=True)
    return ToldYear(*match.span(), int(year) if (year := parts.get("year")) else None)


class Years:
    """Years of one case, counted from its Day 0.

    Args:
        case: the raw case.
    """

    def __init__(self, case: Case) -> None:
        self._reckoner = Reckoner(case)

    def find(self, text: str) -> Iterator[tuple[ToldYear, str]]:
        """Yield every year with what may stand in its place."""
        for told in find(text):
            yield told, self._instead(told)

    def _instead(self, told: ToldYear) -> str:
        try:
            zero = self._reckoner.day_zero
        except ClockFault:
            zero = None  # told by the rule on clocks
        if told.year is None or zero is None or (told.short and told.year > zero.year):
            return LOST  # a short year after Day 0 may as well be of the century before
        after = told.year - zero.year
        match after:
            case 0:
                return "the same year"
            case -1:
                return "the year before"
            case 1:
                return "the year after"
            case _:
                return f"about {abs(after)} years {'before' if after < 0 else 'after'}"
