"""Identity numbers of Singapore (NRIC, FIN): a letter, seven figures, a check letter.

Source: the check by weights 2 7 6 5 4 3 2 modulo 11 and its letters is widely published and from memory here;
it only raises confidence. https://www.ica.gov.sg
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.plan import Span

KIND = "national number"
LETTER = "G"
SOURCE = "Immigration and Checkpoints Authority of Singapore; check from memory"
EXAMPLES = ("NRIC S1234567D", "S0000001I on the form", "FIN G1234567X")
NEAR_MISSES = ("S1 and S2", "G1234 of the list", "T10 7 cm")

_FORM = re.compile(r"(?<!\w)[STFGM]\d{7}[A-Z](?!\w)")
_LETTERS = {"S": "JZIHGFEDCBA", "T": "JZIHGFEDCBA", "F": "XWUTRQPNMLK", "G": "XWUTRQPNMLK"}


def find(text: str) -> Iterator[Span]:
    """Yield every number of the form."""
    for found in _FORM.finditer(text):
        yield span(found, KIND, LETTER, "[national number]", 0.97 if checks(found[0]) else 0.85)


def checks(number: str) -> bool:
    """Whether the check letter is right; False for series M, whose rule we do not have."""
    total = sum(int(digit) * weight for digit, weight in zip(number[1:8], (2, 7, 6, 5, 4, 3, 2), strict=True))
    total += 4 if number[0] in "TG" else 0
    return number[0] in _LETTERS and _LETTERS[number[0]][total % 11] == number[8]
