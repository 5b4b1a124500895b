"""Days in figures that only their case tells from scores: `norad off 10/11`, where the operation was on the 9th of November.

A day and a month by themselves may be a score, an acuity or a number of weeks, so the detectors leave them. In a
case, figures that are one of the days after its Day 0 are that day, unless the words before them count
something. Which of two figures is the month is told by the author's other dates, never guessed. The words are
common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from mmbuilder.case.dates import nearest_years, orders
from mmbuilder.scrub.detectors import date as dates
from mmbuilder.scrub.detectors._quantity import bores
from mmbuilder.scrub.plan import Span

LONGEST = 30
"""Days after Day 0 of a course whose days are told so."""
_FIGURES = re.compile(r"(?<![\w.,/:+-])(\d{1,2})([/.])(\d{1,2})(?![\w%/]|[.,:-]\d)")
_WHOLE = re.compile(r"(\d{1,2})([-/.])(\d{1,2})(?:\2(?:19|20)?\d\d)?")
_COUNTED = re.compile(
    r"(?<!\w)(?:nodes?|ln|lymph|pain|scored?|scores|nrs|vas|power|mrc|grade|apgars?|gcs|murmur|positive|pos|cores|samples|vision|va|rpe|borg|gauge|size|level|of)"
    r"[\s:=]{1,2}$",
    re.IGNORECASE,
)
_COURSE = re.compile(
    r"(?<!\w)(?:on|off|out|in|since|until|till|from|by|stopped|started|began|done|removed|taken|sent|seen|home|extubated|intubated|discharged|repeated|culture[sd]?|bloods?|scan|drain)\s$",
    re.IGNORECASE,
)
"""What a day stands behind: it tells a day from a score out of four, five, six or ten."""
_SCORES, _SPANS, _FRACTIONS = (4, 5, 6, 10), (7, 12), 3
_ACUITY = re.compile(r"6/(?:4|5|6|7|9|12)")


def day_first(said: Iterable[str]) -> bool | None:
    """Whether an author writes the day before the month, by the dates that have one reading; None where they do not agree."""
    told = {
        int(found[1]) > 12
        for one in said
        if (found := _WHOLE.fullmatch(one.strip())) and (int(found[1]) > 12) != (int(found[3]) > 12)
    }
    return told.pop() if len(told) == 1 else None


@dataclass(frozen=True)
class OwnDays:
    """Finds the days of one case.

    Attributes:
        day_zero: of the case; without it nothing is found.
        day_first: how the author writes, as `day_first` tells.
    """

    day_zero: date | None
    day_first: bool | None

    def find(self, text: str) -> Iterator[Span]:
        """Yield each day of the course in figures."""
        if self.day_zero is None:
            return
        for found in _FIGURES.finditer(text):
            if self._of_the_course(int(found[1]), int(found[3])) and _no_measure(text, found):
                yield Span(*found.span(), dates.KIND, dates.LETTER, "[date]", 0.7)

    def _of_the_course(self, first: int, second: int) -> bool:
        assert self.day_zero is not None
        readings = orders(first, second)
        if len(readings) > 1:
            if self.day_first is None:
                return False
            readings = frozenset({(first, second) if self.day_first else (second, first)})
        return any(
            0 <= (day - self.day_zero).days <= LONGEST
            for one in readings
            for day in nearest_years(*one, self.day_zero)[:1]
        )


def _no_measure(text: str, found: re.Match[str]) -> bool:
    """Whether nothing is counted or measured: no score, no acuity, no fraction, no size, no number of days or months."""
    first, second = int(found[1]), int(found[3])
    before = text[max(0, found.start() - 16) : found.start()]
    if (
        _COUNTED.search(before)
        or _ACUITY.fullmatch(found[0])
        or second in _SPANS
        or bores(text, *found.span())
    ):
        return False
    if found[2] == "." or second in _SCORES or (second <= _FRACTIONS and first <= _FRACTIONS):
        return _COURSE.search(before) is not None
    return True
