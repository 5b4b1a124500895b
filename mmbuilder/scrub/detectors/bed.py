"""Beds, bays and rooms together with a ward: they lead to one patient through the bed list.

A ward or bed by itself is kept: `theatre 4`, `bed 3 of the unit`.

Source: 45 CFR 164.514(b)(2)(i)(R), any other unique identifying code; common practice.
https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.plan import Span

KIND = "bed"
LETTER = "R"
SOURCE = "45 CFR 164.514(b)(2)(i)(R)"
EXAMPLES = (
    "Ward 7B, bed 12",
    "bed 14 on Fern Ward",
    "Side room 3, Ward 12",
    "W7 bed 4",
    "room 3, Ward 7B",
    "B7 bed 12",
    "ICU bed 12",
    "bed 12 ICU",
    "Ward 7 bay 2 bed 4",
    "Station 3, Zimmer 12",
    "cama 12, planta 3",
)
NEAR_MISSES = (
    "theatre 4",
    "in bed for 3 days",
    "room temperature 21",
    "bed 3 was empty",
    "a 12 bed ward",
    "Theatre no. 4 was cold",
    "the bed 12 cm too low",
    "ward round at 9",
)

_BED = r"(?:[Ss]ide\s[Rr]oom|[Bb]ed|[Bb]ay|[Rr]oom|[Cc]ubicle|[Cc]ot|SR)\s?\d{1,3}[A-Za-z]?"
_WARD = r"(?:[Ww]ard\s(?:\d{1,3}[A-Za-z]?|[A-Z]\d{0,2})|W\d{1,2}[A-Za-z]?)"
_UNIT = r"(?:ICU|ITU|HDU|CCU|PICU|NICU|SAU|AMU|MAU|ED|A&E|PACU|[A-Z]\d{1,2})"
_ABROAD = r"(?:Station|Zimmer|Bett|cama|planta|habitación|chambre|lit)\s\d{1,3}[A-Za-z]?"
_NAMED = r"(?:[A-Z][a-z]+\s){1,2}Ward"
_BOTH = re.compile(
    rf"(?<!\w)(?:{_WARD}(?:[,\s/-]{{1,3}}{_BED}){{1,2}}|{_UNIT},?\s[Bb]ed\s?\d{{1,2}}|[Bb]ed\s?\d{{1,2}},?\s(?:on\s|in\s)?{_UNIT}|{_ABROAD}[,\s/-]{{1,3}}{_ABROAD}|{_BED}(?:,\s|\s(?:on|of|in)\s(?:the\s)?){_WARD}|{_BED}(?:,\s|\s(?:on|of|in)\s){_NAMED})(?!\w)"
)


def find(text: str) -> Iterator[Span]:
    """Yield bed and ward together."""
    yield from (span(found, KIND, LETTER, "[bed]", 0.7) for found in _BOTH.finditer(text))
