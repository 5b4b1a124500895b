"""Times of day within a sentence, and how a reader outside may be told them: counted from the index event.

Only a time that certainly belongs to the day of the story is counted: in a story of one day, on the
reference clock, in a text that names no other day and no other clock, and not long before or after
the events that were timed. Any other becomes `[time]`. Hours of a clock face ("9.30 to 12 o'clock")
tell a place on the body, and times into a recording
("file 2 0:03:35") tell no time of day: both stay.

The phrasings are common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from pydantic_core import PydanticCustomError

from mmbuilder.case.apart import apart
from mmbuilder.case.clocks import ClockFault, Reckoner
from mmbuilder.case.model import Case
from mmbuilder.case.when import parse_when

LOST = "[time]"
"""Stands for a time of day that cannot be counted from the index event for certain."""

_AROUND = 60
"""Minutes before the first and after the last timed event in which a time still counts as of that day."""


@dataclass(frozen=True)
class ToldTime:
    """A time of day in a text, by its place."""

    start: int
    end: int


_H, _M = r"(?:[01]\d|2[0-3])", r"[0-5]\d"
_DOTTED = r"(?:at|by|until|till|since|before|after|around|about|um|log|notes?|record|chart|~)"
_CUE = r"(?:at|by|until|till|from|since|before|after|around|about|to|and|between|um|bis|~)"
_UNIT = (
    r"(?!\s?(?:%|[kmcµn]?(?:g|l|m|mol|Pa)\b|mm|cm|ml|mmHg|units?|iu|/|minutes?|min|seconds?"
    r"|s\b|hours?\b|days?))"
)
_RECORDING = re.compile(
    r"(?:video|recording|tape|(?:file|video|clip|film|part)\s\d{1,2}),?\s(?:at\s|from\s)?"
    r"(?:[\d:.]+\s(?:to|and|-)\s)?$",
    re.IGNORECASE,
)
_PATTERNS = tuple(
    re.compile(shape, re.IGNORECASE)
    for shape in (
        # 16:10, 16:10:05, 9:05 am; no ratio (1:10 000), no count from the index event (T+1:10)
        rf"(?<![\w:.,+−–/-])(?P<all>{_H}:{_M}(?::{_M})?(?:\s?(?:[ap]\.?m\.?|h(?:rs?)?|Uhr))?)(?![\d:]|\s\d{{3}}|\w)",
        rf"\b{_CUE}\s(?P<all>\d:{_M})(?![\d:]|\s\d{{3}}|\w)",
        # 4 pm, 9.30 am, 16 Uhr
        rf"(?<![\w:.,+−–/-])(?P<all>\d{{1,2}}(?:[:.]{_M})?\s?(?:[ap]m|[ap]\.m\.|Uhr))(?!\w)",
        # at 14.30, nursing notes 02.00
        rf"\b{_DOTTED}\s(?P<all>{_H}\.{_M})(?![\d:]|\.\d|\s?o['’]clock|\w){_UNIT}",
        rf"(?<![\w:.,+−–/-])(?P<all>0\d\.{_M})(?![\d:]|\.\d|\w){_UNIT}",
        # 0930 h, at 0930; not since 2019
        rf"(?<![\w:.,+−–/-])(?P<all>{_H}{_M}\s?h(?:rs?|ours)?)(?!\w)",
        rf"\b(?:at|by|until|till|from|before|after)\s(?P<all>(?!19\d\d|20\d\d){_H}{_M})(?![\d:]|\.\d|\w){_UNIT}",
        # half past three, ten o'clock at night
        r"\b(?P<all>(?:half|(?:a\s)?quarter)\s(?:past|to)\s(?:\d{1,2}|[a-z]+))\b",
        r"\b(?P<all>(?:\d{1,2}|[a-z]+)\so['’]clock\s(?:in\sthe\s(?:morning|afternoon|evening)|at\snight))\b",
    )
)


_HOUR_OF_A_DIAL = re.compile(r"1[0-2]\.\d\d")


def find(text: str, *, dial: bool = False) -> Iterator[ToldTime]:
    """Yield every time of day, in order of place; none overlaps another.

    Args:
        text: the sentence.
        dial: whether hours with a dot ("at 11.30") tell places on a clock face, as those of an eye do.
    """
    found = {match.span("all") for pattern in _PATTERNS for match in pattern.finditer(text)}
    yield from apart(
        ToldTime(start, end)
        for start, end in found
        if not (dial and _HOUR_OF_A_DIAL.fullmatch(text, start, end))
        and not _RECORDING.search(text, max(0, start - 40), start)
    )


_ANOTHER = re.compile(
    r"\b(?:days?|date|next|previous|earlier|yesterday|tomorrow|overnight|night|weeks?|clock|clocks"
    r"|(?:mon|tues|wednes|thurs|fri|satur|sun)day|tag|tage|uhr|jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec"
    r"|(?:19|20)\d\d)[a-z]*\b",
    re.IGNORECASE,
)
"""Words of another day or clock: a time after them, or in one clause with them, may not be of this day."""
_END_OF_CLAUSE = re.compile(r"[;.]\s")


class Counting:
    """Times of day of one case, counted from its index event where that is certain.

    Args:
        case: the raw case.
    """

    def __init__(self, case: Case) -> None:
        self._dial = case.specialty == "ophthalmology"
        self._reckoner = Reckoner(case)
        self._bounds = self._of_one_day(case)

    def find(self, text: str) -> Iterator[tuple[ToldTime, str]]:
        """Yield every time of day with what may stand in its place."""
        for told in find(text, dial=self._dial):
            yield told, self._instead(text, told)

    def _instead(self, text: str, told: ToldTime) -> str:
        clause = _END_OF_CLAUSE.search(text, told.end)
        if self._bounds is None or _ANOTHER.search(text, 0, clause.start() if clause else len(text)):
            return LOST
        try:
            moment = self._reckoner.moment(parse_when(text[told.start : told.end]))
        except (ClockFault, PydanticCustomError):
            return LOST
        first, last = self._bounds
        if moment.lo is None or moment.lo != moment.hi or not first <= moment.lo <= last:
            return LOST
        hours, minutes = divmod(round(abs(moment.lo)), 60)
        return f"T{'−' if moment.lo < 0 else '+'}{hours}:{minutes:02d}"

    def _of_one_day(self, case: Case) -> tuple[float, float] | None:
        """Return the minutes within which a time is of this story; None for a story of several days."""
        ends: list[float] = []
        for event in case.timeline.events:
            stamps = (event.when.first, event.when.last)
            if any(stamp is not None and stamp.day is not None for stamp in stamps):
                return None
            try:
                moment = self._reckoner.moment(event.when, event.clock)
            except ClockFault:
                return None
            ends += [end for end in (moment.lo, moment.hi) if end is not None]
        return (min(ends) - _AROUND, max(ends) + _AROUND) if ends else None
