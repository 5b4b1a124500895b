"""Fax numbers, by their word.

Source: 45 CFR 164.514(b)(2)(i)(E); ITU-T E.164 (up to 15 figures). https://www.itu.int/rec/T-REC-E.164
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.plan import Span

KIND = "fax number"
LETTER = "E"
SOURCE = "45 CFR 164.514(b)(2)(i)(E); ITU-T E.164"
EXAMPLES = (
    "Fax 01632 960777 was busy",
    "F: +44 1632 960888",
    "Telefax: 030 23125 009",
    "faxed to 01632 960112",
    "Fax# 212-555-0199",
    "fax no 555-0199",
)
NEAR_MISSES = ("faxed 3 pages", "F: 39.5", "fax at 1430", "the fax was 2 m away")

_FAX = re.compile(
    r"(?<![^\W_])(?:(?i:tele)?[Ff](?i:ax)(?:ed)?#?(?:\s(?:to|no\.?|number|is))?|[Tt]élécopie|F(?=:\s?\+?[\d(]|\s\+?\(?0\d{3}))[\s:.=#]{1,3}(\+?\(?\d[\d\s().-]{6,18}\d)(?!\w|[.,:/]\d)"
)


def find(text: str) -> Iterator[Span]:
    """Yield the number; the word stays."""
    for found in _FAX.finditer(text):
        if sum(sign.isdigit() for sign in found[1]) >= 7:
            yield span(found, KIND, LETTER, "[fax number]", 0.96, 1)
