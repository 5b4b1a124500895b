"""What goes outside the department tells no exact age and no year: only decades, and years from Day 0.

Inside it they stay. What cannot be generalised for certain is removed. Times of day: `times_of_day`.

Source: practice of case reports (no source); ages and dates as in 45 CFR 164.514(b)(2)(i)(C), which
allows both, so that this goes further than it asks.
"""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder import uses
from mmbuilder.case import told_age
from mmbuilder.case.freetext import Path
from mmbuilder.case.model import Case
from mmbuilder.case.told_year import Years
from mmbuilder.casefile.context import Context
from mmbuilder.scrub.plan import Span

AGE, YEAR = "exact age", "calendar year"
LETTER = "C"
_SURE = 0.6
"""Below every pattern: an identifier that holds such figures is told as what it is."""


class Outside:
    """What a case has to leave out for readers elsewhere; nothing, where it stays in the department."""

    def __init__(self, case: Case) -> None:
        self._years = Years(case) if uses.load(case.use).outside else None

    def find(self, path: Path, text: str) -> Iterator[Span]:
        """Yield each exact age and year of a text, with its stand-in."""
        if self._years is None or not Context.as_written(path):
            return
        for age in told_age.find(text):
            yield Span(age.start, age.end, AGE, LETTER, age.instead, _SURE)
        for year, instead in self._years.find(text):
            yield Span(year.start, year.end, YEAR, LETTER, instead, _SURE)
