"""Dates in words, as they are dictated: `the ninth of October`, `fourth of the eleventh sixty-two`, `May twenty twenty-six`.

Source: 45 CFR 164.514(b)(2)(i)(C), all elements of dates except year; the words are common practice, no source.
https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._calendar import timed
from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.plan import Span

KIND = "date"
LETTER = "C"
SOURCE = "45 CFR 164.514(b)(2)(i)(C)"
EXAMPLES = (
    "seen on the ninth of October",
    "born fourth of the eleventh sixty-two",
    "around May twenty twenty-six",
    "this is Quenby on the twenty-second, patient well",
    "stitches out the twenty-first.",
    "July the third",
    "twenty-third March",
    "pain since the second of Feb",
    "in october nineteen ninety-eight",
    "operated on November tenth",
    "date of birth May fifth nineteen sixty",
    "typed on 23 stroke 8",
    "the evening of the second of February this year",
    "resection on the twelfth for metastases",
)
NEAR_MISSES = (
    "the third of three washouts",
    "twenty-first case of the series",
    "second degree burn",
    "fourth of the five ports",
    "on the third attempt",
    "born on the third push",
    "on the second, smaller cyst",
    "it may twenty minutes later",
    "the fifth metacarpal",
    "first of all",
    "it may second the finding",
    "a march first thing",
    "4 stroke 2 cycles",
    "on the twelfth rib, on the tenth and eleventh ribs",
    "on the tenth day for the second time",
)

_FIRST = r"(?:first|second|third|fourth|fifth|sixth|seventh|eighth|ninth)"
_LATE = rf"(?:thirteenth|fourteenth|fifteenth|sixteenth|seventeenth|eighteenth|nineteenth|twentieth|twenty[\s-]{_FIRST}|thirtieth|thirty[\s-]first)"
_DAY = rf"(?:{_LATE}|{_FIRST}|tenth|eleventh|twelfth)"
_MONTH = r"(?:January|February|March|April|May|June|July|August|September|October|November|December|(?:Jan|Feb|Apr|Jun|Jul|Aug|Sept?|Oct|Nov|Dec)(?![^\W\d_]))"
_ONES = r"(?:one|two|three|four|five|six|seven|eight|nine)"
_TENS = r"(?:twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety)"
_TEEN = r"(?:ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen|eighteen|nineteen)"
_PAIR = rf"(?:{_TENS}(?:[\s-]{_ONES})?|{_TEEN}|oh[\s-]{_ONES})"
_YEAR = rf"(?:(?:nineteen|twenty)[\s-]{_PAIR}|two\sthousand(?:\sand)?(?:\s(?:{_ONES}|{_PAIR}))?|{_PAIR}|(?:19|20)\d\d)"
_PATTERNS = (
    re.compile(rf"(?<!\w)(?:the\s)?{_DAY}(?:\sof)?\s{_MONTH}(?:,?\s{_YEAR})?(?!\w)", re.IGNORECASE),
    re.compile(rf"(?<!\w)(?:the\s)?{_DAY}\sof\sthe\s(?:{_FIRST}|tenth|eleventh|twelfth),?\s{_YEAR}(?!\w)", re.IGNORECASE),
    re.compile(rf"(?<!\w){_MONTH}\sthe\s{_DAY}(?:,?\s{_YEAR})?(?!\w)", re.IGNORECASE),
    re.compile(rf"(?<!\w){_MONTH}\s{_DAY},?\s{_YEAR}(?!\w)", re.IGNORECASE),
    re.compile(rf"(?<!\w)(?:(?-i:M(?:ay|arch))|January|February|April|June|July|August|September|October|November|December)\s{_DAY}(?!\w)", re.IGNORECASE),
    re.compile(r"(?<![\w.,/-])(?:0?[1-9]|[12]\d|3[01])\s(?:stroke|slash)\s(?:0?[1-9]|1[0-2])(?:\s(?:stroke|slash)\s(?:19|20)?\d\d)?(?!\w)(?!\s(?:cycle|engine))", re.IGNORECASE),
    re.compile(
        rf"(?<!\w)(?:(?:in|since|around|by|until|from|of)\s)(?i:({_MONTH}\s(?:(?:nineteen|twenty)[\s-]{_PAIR}|two\sthousand(?:\sand)?(?:\s(?:{_ONES}|{_PAIR}))?)))(?!\w)"
    ),
    re.compile(rf"(?<!\w)(?:on|by|until|since|out|from)\s(the\s(?:{_LATE}|tenth|eleventh|twelfth))(?=\s?[.,;)]|(?m:$)|\s(?:of\sthis|at|in\sclinic|full\sstop|comma|for|because|we|she|he|i)\b)", re.IGNORECASE),
    re.compile(rf"(?<!\w)(?:died|expired|discharged|admitted|readmitted|born|operated|seen|moved|transferred)(?:\s[a-z]+)?\son\s(the\s{_DAY})(?=\s?[.,;)]|(?m:$))", re.IGNORECASE),
)  # fmt: skip
_MAY_BE = re.compile(r"(?:st|nd|rd|th)\b|nineteen|twenty|thousand|\d\s(?:stroke|slash)", re.IGNORECASE)


def find(text: str) -> Iterator[Span]:
    """Yield every date in words."""
    if not _MAY_BE.search(text):
        return
    yield from timed(text, _found(text))


def _found(text: str) -> Iterator[Span]:
    for pattern in _PATTERNS:
        for found in pattern.finditer(text):
            yield span(found, KIND, LETTER, "[date]", 0.85, 1 if found.re.groups else 0)
