"""Registration and licence numbers of staff.

Source: 45 CFR 164.514(b)(2)(i)(K), certificate and licence numbers.
https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._cued import cued
from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.plan import Span

KIND = "licence number"
LETTER = "K"
SOURCE = "45 CFR 164.514(b)(2)(i)(K)"
EXAMPLES = (
    "GMC 7123456 signed",
    "NMC PIN 99I0001E",
    "NPI 1234567893",
    "licence no. A1234567",
    "HCPC: PA09999",
    "DEA number AB1234563",
    "Mat. no colegiado 282812345",
    "LANR 123456789",
    "RPPS 10001234567",
    "shown as QUILL 704129 HB9KX",
)
NEAR_MISSES = (
    "GMC guidance 2013 on consent",
    "licence for bevacizumab 1.25 mg",
    "NMC standards",
    "AHPRA said so in 2019",
)

_NUMBER = cued(
    r"GMC|G\.M\.C\.|reg\.(?=\s\d{5})|NMC(?:\sPIN)?|HCPC|GDC|GPhC|GOC|NPI|AHPRA|CPSO|CPSBC|prescriber|(?:state|medical)\slicen[cs]e|IMC|MCRN|DEA|LANR|RPPS|ADELI|(?:n[º°.]{0,2}\s?|no\s)?colegiado|Approbations-?Nr\.?|MCI(?=\s?[:#])|PRN(?=\s?:)",
    r"licen[cs]e|lic\.?|registration|reg\.?|certificate|GMC|NMC|GDC|DEA|driving licen[cs]e|passport|council|provider|prescriber",
    least=5,
)


_DRIVER = re.compile(r"(?<!\w)[A-Z]{2,5}9{0,3}\s?\d{6}\s?[A-Z9]{2}\d[A-Z]{2}(?!\w)")
"""A British driver number: five letters of the surname, filled up with 9, six figures, initials, a figure and two letters (from memory)."""


def find(text: str) -> Iterator[Span]:
    """Yield the number; the word before it stays."""
    yield from (span(found, KIND, LETTER, "[licence number]", 0.9, 1) for found in _NUMBER.finditer(text))
    yield from (span(found, KIND, LETTER, "[licence number]", 0.7) for found in _DRIVER.finditer(text))
