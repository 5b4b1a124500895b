"""National Health Index numbers of New Zealand: ABC1234, and ABC12DX since 2022.

Source: HISO 10046, Consumer Health Identity Standard: 24 letters (no I, O), old form check modulo 11 (from
memory; it only raises confidence). https://www.tewhatuora.govt.nz
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.plan import Span

KIND = "national number"
LETTER = "G"
SOURCE = "HISO 10046 (from memory)"
EXAMPLES = ("NHI ZZZ0016", "NHI: ZZZ00AX", "ZZZ0016 on the label")
NEAR_MISSES = ("NHI card", "ECG 1200", "PDS 3000 ml", "SPF 5012", "the NHI number")

_CUED = re.compile(
    r"(?<!\w)NHI(?:\s(?:no\.?|number))?[\s:#]{1,3}([A-HJ-NP-Z]{3}\d{2}(?:\d{2}|[A-HJ-NP-Z]{2}))(?!\w)",
    re.IGNORECASE,
)
_FORM = re.compile(r"(?<![\w./-])[A-HJ-NP-Z]{3}\d{4}(?![\w./-])")
_ALPHABET = "ABCDEFGHJKLMNPQRSTUVWXYZ"


def find(text: str) -> Iterator[Span]:
    """Yield numbers after their word, and those by form whose check digit is right."""
    yield from (span(found, KIND, LETTER, "[national number]", 0.95, 1) for found in _CUED.finditer(text))
    yield from (
        span(found, KIND, LETTER, "[national number]", 0.7)
        for found in _FORM.finditer(text)
        if checks(found[0])
    )


def checks(number: str) -> bool:
    """Whether the check digit of the old form is right: weights 7 to 2, then 11 less the rest."""
    values = [_ALPHABET.index(sign) + 1 if sign.isalpha() else int(sign) for sign in number[:6]]
    rest = sum(value * weight for value, weight in zip(values, range(7, 1, -1), strict=True)) % 11
    return rest != 0 and (11 - rest) % 10 == int(number[6])
