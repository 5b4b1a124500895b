"""Ages over 89, in figures and words. 89 may be stated; 90 and more become "90 or older".

Source: 45 CFR 164.514(b)(2)(i)(C): all ages over 89, which may be put into one category of age 90 or older.
https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.plan import Span

KIND = "age over 89"
LETTER = "C"
SOURCE = "45 CFR 164.514(b)(2)(i)(C)"
EXAMPLES = (
    "Aged 93, lives alone",
    "a 93-year-old woman",
    "91 years old",
    "age: 104",
    "a 93 yo man",
    "93F with a fall",
    "a nonagenarian",
    "the centenarian",
    "ninety-three year old",
    "in her nineties",
    "at the age of 95",
    "90 y/o",
    "92 yrs",
)
NEAR_MISSES = (
    "a 62-year-old man",
    "aged 89",
    "saturation 93 on air",
    "pulse 95, pressure 95/60",
    "aged 9 and 8",
    "temperature 98F",
    "93 mmHg at 92 minutes",
    "average 93 ml",
    "95 cases over 20 years",
    "the 90 degree turn",
    "page 93",
)

_OVER = r"(?:9\d|1[0-2]\d)"
_UNITS = r"(?:one|two|three|four|five|six|seven|eight|nine)"
_TENS = rf"(?:ninety|one\shundred|a\shundred)(?:[\s-](?:and[\s-])?{_UNITS})?"
_YEARS = r"(?:years?|yrs?|year['’]s)"
_PATTERNS = (
    re.compile(
        rf"(?<![\w.,/:])(?:{_OVER}|{_TENS})[\s-]?"
        rf"(?:{_YEARS}[\s-]{{0,2}}olds?|{_YEARS}[\s-]of[\s-]age|y\.?/?o\.?|yr\.?)(?!\w)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"(?<![\w.,/:])(?:{_OVER})\s?(?:years|yrs)(?!\w)(?!\s(?:ago|later|of|before|after|follow))",
        re.IGNORECASE,
    ),
    re.compile(
        rf"(?<!\w)age[ds]?(?:\s(?:of|is|was|at|over|about|nearly))?[\s:=]{{0,3}}((?:{_OVER}|{_TENS}))"
        r"(?![\w/%]|[.,]\d)(?!\s?(?:mm|cm|ml|mg|kg|days|weeks|months|hours|min))",
        re.IGNORECASE,
    ),
    re.compile(
        r"(?<!\w)in\s(?:his|her|their|the)\s((?:early|mid|late)?[\s-]?(?:nineties|90['’]?s))(?!\w)",
        re.IGNORECASE,
    ),
    re.compile(r"(?<!\w)(?:(?:a|an|the)\s)?(?:nona|cente|supercente)(?:ge)?narians?(?!\w)", re.IGNORECASE),
)
_LETTER_SEX = re.compile(rf"(?<![\w.,/:°-]){_OVER}\s?[MF](?!\w)")
_HEAT = re.compile(r"temp|fever|°|core|pyrexi|warm|degrees", re.IGNORECASE)


def find(text: str) -> Iterator[Span]:
    """Yield the words that tell the age; the sentence around them stays."""
    for pattern in _PATTERNS:
        for found in pattern.finditer(text):
            yield span(found, KIND, LETTER, "90 or older", 0.95, found.re.groups)
    for found in _LETTER_SEX.finditer(text):
        if not _HEAT.search(text, max(0, found.start() - 30), found.start()):
            yield Span(found.start(), found.end() - 1, KIND, LETTER, "90 or older", 0.7)
