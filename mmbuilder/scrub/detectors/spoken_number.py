"""Numbers spoken figure by figure, as they are dictated: `hospital number four four seven one two`, `double seven oh nine`.

Source: 45 CFR 164.514(b)(2)(i)(D), (H) and (R), telephone, record and other numbers; the words are common practice,
no source. https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._span import UNIT, span
from mmbuilder.scrub.plan import Span

KIND = "record number"
LETTER = "R"
SOURCE = "45 CFR 164.514(b)(2)(i)(D), (H), (R)"
EXAMPLES = (
    "Hospital number four four seven one two",
    "Medical record triple seven four oh nine",
    "phone oh seven seven double one two three",
    "bleep is two two nine oh",
    "call me on oh one six double three five",
    "Nummer vier vier sieben eins zwei",
    "número cuatro cuatro siete uno dos",
)
NEAR_MISSES = (
    "one two three and lift",
    "a number of two to three",
    "grade two, three of four ports",
    "record two units and four bags",
    "number one priority is one two way valve",
    "bleep one of the two registrars",
)

_FIGURES = {
    "en": r"zero|oh|nought|one|two|three|four|five|six|seven|eight|nine",
    "de": r"null|eins|zwei|zwo|drei|vier|fünf|sechs|sieben|acht|neun",
    "es": r"cero|uno|dos|tres|cuatro|cinco|seis|siete|ocho|nueve",
    "fr": r"zéro|un|deux|trois|quatre|cinq|six|sept|huit|neuf",
}
_TWICE = r"(?:double|triple|treble|doble|doppel)"
_CUE = (
    r"(?:number|num|no|record|mrn|phone|telephone|tel|mobile|cell|bleep|pager|ext(?:ension)?|fax|code|id|policy|account|call(?:\sme)?\son|ring\son"
    r"|nummer|telefon|número|teléfono|numéro|téléphone)(?:\sis|\sist|\ses|\sest|,|:)?"
)
_LONG = 6
"""Figures in a row that nobody counts aloud."""
_CUED = 4


def _runs(figures: str) -> re.Pattern[str]:
    one = rf"(?:{_TWICE}\s)?(?:{figures})"
    behind = rf"(?<!\w)(?:{_CUE})\s({one}(?:,?\s{one}){{{_CUED - 1},}})"
    alone = rf"(?<!\w)({one}(?:\s{one}){{{_LONG - 1},}})"
    return re.compile(rf"(?:{behind}|{alone})(?!\w)(?!\s(?:{UNIT}))", re.IGNORECASE)


_PATTERNS = tuple(_runs(figures) for figures in _FIGURES.values())
_OPENS = re.compile(
    rf"\b(?:{'|'.join(_FIGURES.values())})\s(?:{_TWICE}\s)?(?:{'|'.join(_FIGURES.values())})\b", re.IGNORECASE
)
"""Two figures in a row: without them no pattern is run."""


def find(text: str) -> Iterator[Span]:
    """Yield every number told in words, one figure after the other."""
    if not _OPENS.search(text):
        return
    for pattern in _PATTERNS:
        for found in pattern.finditer(text):
            yield span(found, KIND, LETTER, "[record number]", 0.85, 1 if found[1] else 2)
