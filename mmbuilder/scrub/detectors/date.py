"""Calendar dates and parts of dates more exact than the year, in all their forms.

A full date becomes a Day number where Day 0 is known, else `[date]`. A year alone may stay,
except a year of birth, which tells an age. Times of day and Day numbers are left alone.

Source: 45 CFR 164.514(b)(2)(i)(C), all elements of dates except year; ISO 8601-1 (2026-03-14).
https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._calendar import (
    FULL_WEEKDAY,
    LOWER,
    MONTH,
    WEEKDAY,
    YEAR,
    could_be,
)
from mmbuilder.scrub.detectors._span import NOT_MEASURED, span
from mmbuilder.scrub.plan import Span

KIND = "date"
LETTER = "C"
SOURCE = "45 CFR 164.514(b)(2)(i)(C); ISO 8601-1"
EXAMPLES = (
    "on 2026-03-14 at night",
    "14 March 2026",
    "March 14th 2026",
    "March 14, 2026",
    "14/03/26",
    "14.3.2026",
    "Mar 2026",
    "14-Mar-26",
    "14Mar2026",
    "the 14th of March",
    "Saturday 14 March 2026",
    "Sat 14/3",
    "next Tuesday 4th June",
    "on Monday the list was long",
    "since April",
    "14 march 2026",
    "20260314",
    "born 1931",
    "DOB 14.02.1957",
    "3 May",
    "two days before Christmas",
    "2026-03-14T09:30",
    "Monday 14th",
    "MAY 2026",
    "January to March 2025",
    "3 to 5 March 2026",
)
NEAR_MISSES = (
    "Acuity was 6/9 unaided and 20/40 at week 2",
    "adrenaline 1:4 and 1:10,000",
    "blood pressure 120/80",
    "10-0 nylon and 5-0 PDS",
    "acuity 3/60",
    "at L4/5 and L3/4",
    "it may need 2 units",
    "May need a second look",
    "doses of 5/10/15 mg",
    "patients march on; 3 sat up in bed",
    "repeat 2/7 then 6/52",
    "at 14:30 and 09.45",
    "Christmas disease",
    "on day 3",
    "Day 14, 24/7 cover",
    "the sun was low",
    "in 2019 the trust changed its policy",
    "software version 3.2.10",
    "sec 12 dec 4",
    "vitrectomy at 4000 cpm",
    "Fri 3 mm", "2.5/3.5 mm",
)  # fmt: skip

_DAY = r"(?:0?[1-9]|[12]\d|3[01])"
_ORDINAL = rf"{_DAY}(?:st|nd|rd|th)"
_TAIL_YEAR = rf"[\s.,/'’-]{{0,3}}(?:{YEAR}|['’]?\d\d(?![\d:.%/]|\s?(?:{LOWER}|mg|ml|mm|units|h\b)))(?!\d)"
_BEFORE = rf"(?<![\w.,/:])(?:(?:next|last|this)\s)?(?:{WEEKDAY},?\s+)?(?:the\s+)?"

_RANGE = r"\s?(?:to|and|or|until|till|&|-|–|/)\s?"
_DAYS = rf"(?:(?:{_ORDINAL}|{_DAY}){_RANGE})?"
_MONTHS = rf"(?:{MONTH}{_RANGE}){{0,3}}"

_PATTERNS = (
    # 2026-03-14, 2026/3/14, 20260314
    re.compile(rf"(?<!\w)(?<!\d[.,/:-]){YEAR}([-/.])(?:0?[1-9]|1[0-2])\1{_DAY}(?!\d)"),
    re.compile(rf"(?<![\w.,]){YEAR}(?:0[1-9]|1[0-2])(?:0[1-9]|[12]\d|3[01])(?!\w|[.,]\d)"),
    # 14 March 2026, 14th of March, 14-Mar-26
    re.compile(rf"{_BEFORE}{_DAYS}(?:{_ORDINAL}|{_DAY})(?:\sof)?[\s./-]{{0,2}}{MONTH}(?:{_TAIL_YEAR})?"),
    re.compile(
        rf"(?<![\w.,/:])(?:{_ORDINAL}|{_DAY})(?:\sof)?[\s./-]{{1,2}}{LOWER}[\s.,/'’-]{{1,3}}{YEAR}(?!\d)",
        re.IGNORECASE,
    ),
    # March 14th 2026, March 2026
    re.compile(rf"(?<!\w)(?:{WEEKDAY},?\s+)?{MONTH}[\s.-]{{1,2}}(?:{_ORDINAL}|{_DAY})(?![\d:%]|\.\d)(?:{_TAIL_YEAR})?{NOT_MEASURED}"),
    re.compile(rf"(?<!\w){_MONTHS}{MONTH}[\s,/'’-]{{1,3}}(?:of\s)?{YEAR}(?!\d)"),
    re.compile(rf"(?<!\w)(?:in|since|until|till|during|last|next|early|late|mid|by|of|from|this)[\s-]({MONTH})(?![\s]?\d)"),
    # Saturday 14th, Sat 14/3, Monday
    re.compile(rf"(?<!\w){WEEKDAY},?\s+(?:the\s+)?{_ORDINAL}(?!\w)"),
    re.compile(rf"(?<!\w){WEEKDAY},?\s+(?:the\s+)?{_DAY}[/.](?:0?[1-9]|1[0-2])(?![\d/.])"),
    re.compile(r"(?<!\w)on\s(?:the\s)?((?:1[3-9]|2[0-35-9]|3[01])/(?:0?[1-9]|1[0-2]))(?![\d/])"),
    # feasts
    re.compile(
        r"(?<!\w)(?:Christmas(?:\s(?:Day|Eve))?|Boxing\sDay|New\sYear['’]?s?(?:\s(?:Day|Eve))?|Easter(?:\s\w+day)?"
        r"|Ramadan|Eid|Diwali|Thanksgiving|Hanukkah|Whitsun|[Bb]ank\s[Hh]oliday)(?!\w)(?!\s(?:disease|factor|tree))"
    ),
)  # fmt: skip
_FIGURES = re.compile(
    rf"(?<![\w.,/:-])(\d{{1,2}})([-/.])(\d{{1,2}})\2({YEAR}|\d\d)(?![\w/-]|[.,]\d){NOT_MEASURED}"
)
_BORN = re.compile(
    r"(?<!\w)(?:born(?:\sin)?|birth\s?year|year\sof\sbirth|d\.?o\.?b\.?|yob)[\s:]{1,3}((?:18|19|20)\d\d)(?![\d-])",
    re.IGNORECASE,
)
_WEEKDAY_ALONE = re.compile(rf"(?<!\w){FULL_WEEKDAY}(?!\w)")
_VERSION = re.compile(r"(?:version|ver|v|release|build|software|firmware)\.?\s*$", re.IGNORECASE)


def find(text: str) -> Iterator[Span]:
    """Yield every date and part of a date."""
    for pattern in _PATTERNS:
        for found in pattern.finditer(text):
            yield span(found, KIND, LETTER, "[date]", 0.9, 1 if _announced(found) else 0)
    for found in _FIGURES.finditer(text):
        real = could_be(int(found[1]), int(found[3]))
        if real and not _VERSION.search(text, max(0, found.start() - 12), found.start()):
            yield span(found, KIND, LETTER, "[date]", 0.85)
    yield from (span(found, KIND, LETTER, "[date]", 0.9, 1) for found in _BORN.finditer(text))
    for found in _WEEKDAY_ALONE.finditer(text):
        yield span(found, KIND, LETTER, "[day of the week]", 0.6)


def _announced(found: re.Match[str]) -> bool:
    """Whether group 1 is the date and not a separator."""
    return bool(found.re.groups) and len(found[1] or "") > 1
