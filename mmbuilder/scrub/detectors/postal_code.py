"""Postal codes: by full form (United Kingdom, Canada), by state (United States), by word (all others).

Source: 45 CFR 164.514(b)(2)(i)(B); BS 7666 form of the UK postcode; Canada Post (letters D, F, I, O, Q and U
are not used). Both forms from memory. https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._span import NOT_MEASURED, span
from mmbuilder.scrub.plan import Span

KIND = "postal code"
LETTER = "B"
SOURCE = "45 CFR 164.514(b)(2)(i)(B); BS 7666"
EXAMPLES = (
    "Post code ZZ9 7TF",
    "lives at ZZ99 3WZ",
    "SW1A 1AA",
    "Springfield, IL 62701",
    "ZIP 90210",
    "90210-1234 CA",
    "K1A 0B1",
    "postcode 1234 AB",
    "Eircode D02 X285",
    "PLZ 10115",
)
NEAR_MISSES = (
    "at L4 5 mm below",
    "T10 PEEP 5",
    "B12 1MG given",
    "C5 6 disc",
    "S1 2 nerve roots",
    "ME 40000 units",
    "SN60WF +21.0 D",
    "zip closure at 12 cm",
    "platelets 15000",
    "IN 10000 patients",
)

_UK = re.compile(
    r"(?<!\w)(?:[A-PR-UWYZ]\d{1,2}|[A-PR-UWYZ][A-HK-YZ]\d{1,2}|[A-PR-UWYZ]\d[A-HJKPS-UW]"
    r"|[A-PR-UWYZ][A-HK-Y]\d[ABEHMNPRV-Y]|GIR)\s\d[ABD-HJLNP-UW-Z]{2}(?!\w)"
)
_STATE = (
    r"(?:A[LKZR]|C[AOT]|D[CE]|FL|GA|HI|I[ADLN]|K[SY]|LA|M[ADEINOST]|N[CDEHJMVY]|O[HKR]|PA|RI|S[CD]|T[NX]|UT"
    r"|V[AT]|W[AIVY])"
)
_US = re.compile(rf"(?<![^\s,])(?:,\s?)?{_STATE},?\s(\d{{5}}(?:-\d{{4}})?)(?![\w-])(?!\s[a-z])")
_US_NINE = re.compile(r"(?<![\w.,-])\d{5}-\d{4}(?![\w-])(?=\s?,?\s?(?:[A-Z]{2}\b|USA?\b|$|\.))")
_CANADA = re.compile(r"(?<!\w)[ABCEGHJ-NPRSTVXY]\d[ABCEGHJ-NPRSTV-Z][\s-]?\d[ABCEGHJ-NPRSTV-Z]\d(?!\w)")
_CUED = re.compile(
    r"(?<!\w)(?:post\s?codes?|postal\s(?:code|address)|zip(?:\s?code)?|eircode|PLZ|pin\s?code|CEP|CAP)"
    r"\s?(?:is|was)?[\s:.=]{1,3}"
    rf"((?=[A-Z\s]{{0,5}}\d)[A-Z0-9]{{2,8}}(?:[\s-][A-Z0-9]{{2,4}})?)(?!\w){NOT_MEASURED}",
    re.IGNORECASE,
)


def find(text: str) -> Iterator[Span]:
    """Yield codes by form, by state and by word."""
    for found in _UK.finditer(text):
        yield span(found, KIND, LETTER, "[postal code]", 0.85)
    for found in _CANADA.finditer(text):
        yield span(found, KIND, LETTER, "[postal code]", 0.85)
    for found in _US_NINE.finditer(text):
        yield span(found, KIND, LETTER, "[postal code]", 0.7)
    for pattern in (_US, _CUED):
        for found in pattern.finditer(text):
            yield span(found, KIND, LETTER, "[postal code]", 0.85, 1)
