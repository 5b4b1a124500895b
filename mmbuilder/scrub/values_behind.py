"""Where a number or a date ends: before an age, a value, a dose, a stage that a list or a hurried line writes right behind it.

`K448120 F57 T3N1`, `MRN 448120 2.4 L`, `14 Nov Hb 92`: groups of figures and letters may belong to the number before them,
but what has the form of a value, or bears its name or unit, does not. How notes are written is common practice, no source.
"""

from __future__ import annotations

import re
from itertools import pairwise

from mmbuilder.scrub.abbreviations import ABBREVIATIONS
from mmbuilder.scrub.judging.reading import flags

_PART = re.compile(r"\S+")
_ENOUGH = 4
"""Figures of a number that may end there."""
_BY_ITSELF = re.compile(
    r"[1-8]?\d[MF]|[MF][1-8]?\d|\d{1,2}(?:G|Fr|Ch)|[xX]\d{1,2}"  # ages with a sex, gauges, how often
    r"|\d{1,2}\+\d|G\d{1,2}P\d{1,2}|(?:[TNMECV]\d[a-c]?){2,3}|C\d{1,2}M\d{1,2}"  # weeks of a pregnancy, stages, scores
    r"|\d\.\d{1,2}|\d{1,3}(?:\.\d)?%|\d{1,2}-0|(?:D|POD)\d{1,2}|\d{1,2}/(?:15|52)"  # values, threads, days, shares
)
"""What no group of a number looks like."""
_OF_A_UNIT = re.compile(
    r"\s(?:y\.?/?o|yrs?|years?|mg|mcg|g|kg|ml|L|mm|cm|Fr|G|Ch|u|units?|mmHg|kPa|mmol|bpm|min|mins|hrs?|days?|weeks?|#)(?![\w'’-])|\s?%|\+\d|[FM](?!\w)"
)
_OF_THE_DAY = re.compile(r"\s?(?:[ap]\.?m|Uhr|h)(?!\w)")
"""A time of day is told with its date: `13/11 3.20 am`."""
_OLD = re.compile(r"(?:9\d|1\d\d)\s?(?:y|[FM](?!\w))")
"""An age over 89 tells somebody: it goes with the number."""
_SMALL = re.compile(r"\d{1,3}(?:\.\d{1,2})?")
YEARS = re.compile(r"\s[1-8]?\d(?!\d)")
_DATE = re.compile(r"\d[./-]\d{1,2}[./-]\d")
_PAIR = re.compile(r"\d[./-]\d")
_SIDE = re.compile(r"\s[a-z]{3}")
_WORD = re.compile(r"[^\W\d_]{2,}")
_FIGURE = re.compile(r"\d")


def end_before_values(text: str, start: int, end: int) -> int:
    """The end of a number, or of a date, without the values behind it; the same end where it has none."""
    parts = [*_PART.finditer(text, start, end)]
    last = max((part.start() for part in parts if _a_number(part[0])), default=start)
    for before, part in pairwise(parts):
        told = text[start : before.end()]
        if part.start() > last and _whole(told) and _a_value(text, part, end):
            return before.end()
    return end


def _a_number(said: str) -> bool:
    """Whether a part is a number or a date of its own: nothing before it is cut off."""
    return sum(map(str.isdigit, said)) >= _ENOUGH or _DATE.search(said) is not None


def _whole(told: str) -> bool:
    """Whether it may end here: a number of some length, or a day and a month."""
    if sum(map(str.isdigit, told)) >= _ENOUGH:
        return True
    month = any("m" in flags(word.lower()) for word in _WORD.findall(told))
    return _FIGURE.search(told) is not None and (month or _PAIR.search(told) is not None)


def _a_value(text: str, part: re.Match[str], end: int) -> bool:
    """Whether a part of a finding is a value, or the name of one."""
    said = part[0]
    if _BY_ITSELF.fullmatch(said):
        return not _OF_THE_DAY.match(text, part.end())
    if _SMALL.fullmatch(said):
        return _OF_A_UNIT.match(text, part.end()) is not None and not _OLD.match(text, part.start())
    if said in ("F", "M"):
        return YEARS.match(text, part.end()) is not None
    if said in ("L", "R"):
        return part.end() == end and _SIDE.match(text, end) is not None
    return _WORD.fullmatch(said) is not None and _of_the_clinic(said)


def _of_the_clinic(said: str) -> bool:
    """Whether letters are an abbreviation of the clinic, and neither a month, a day nor a label of numbers."""
    plain = said.lower()
    return said in ABBREVIATIONS and "m" not in flags(plain) and plain not in ("am", "pm", "no", "nr")
