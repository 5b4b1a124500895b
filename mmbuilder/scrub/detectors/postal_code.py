"""Postal codes: by full form (United Kingdom, Canada), by state (United States), by word (all others).

Source: 45 CFR 164.514(b)(2)(i)(B); BS 7666 form of the UK postcode; Canada Post (letters D, F, I, O, Q and U
are not used). Both forms from memory. https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._span import NOT_MEASURED, span
from mmbuilder.scrub.detectors._view import view
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
    "zz9 7tf",
    "Zz9 7tf",
    "SW1A-1AA",
    "lives at zz99 3wz",
    "SW1A 1AA",
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
    "T3N1M0",
    "T1N0M0",
    "T4N2M1",
    "T2N 1M0",
    "at l4 5th attempt",
    "is at2 3rd pass",
    "in s1 2nd root",
    "pt4 5hr later",
)

_UK = re.compile(
    r"(?<!\w)(?:[A-PR-UWYZ]\d{1,2}|[A-PR-UWYZ][A-HK-YZ]\d{1,2}|[A-PR-UWYZ]\d[A-HJKPS-UW]"
    r"|[A-PR-UWYZ][A-HK-Y]\d[ABEHMNPRV-Y]|GIR)\s\d[ABD-HJLNP-UW-Z]{2}(?!\w)"
)
_UK_LOOSE = re.compile(
    r"(?<!\w)(?!(?:at|in|is|to|of|on|by|no|or|pt|op|gr)\d)[A-PR-UWYZ][A-HK-Z](?:\d{1,2}|\d[A-Z])[\s-]\d"
    r"(?!st|nd|rd|th|hr|ug|fr|hz|pd|dl|ed)[ABD-HJLNP-UW-Z]{2}(?!\w)",
    re.IGNORECASE,
)
"""In small letters, or with a dash: only with an area of two letters, as `l4 5th` is no code."""
_STATE = (
    r"(?:A[LKZR]|C[AOT]|D[CE]|FL|GA|HI|I[ADLN]|K[SY]|LA|M[ADEINOST]|N[CDEHJMVY]|O[HKR]|PA|RI|S[CD]|T[NX]|UT"
    r"|V[AT]|W[AIVY])"
)
_US = re.compile(rf"(?<![^\s,])(?:,\s?)?{_STATE},?\s(\d{{5}}(?:-\d{{4}})?)(?![\w-])(?!\s[a-z])")
_US_COMMA = re.compile(rf"(?<=[^\W\d_]),\s{_STATE},?\s(\d{{5}}(?:-\d{{4}})?)(?![\w-])")
_US_FIGURES = re.compile(r"\d{5}(?:-\d{4})?")
_ZIP = re.compile(r"zip", re.IGNORECASE)
_US_NINE = re.compile(r"(?<![\w.,-])\d{5}-\d{4}(?![\w-])(?=\s?,?\s?(?:[A-Z]{2}\b|USA?\b|$|\.))")
_CANADA = re.compile(
    r"(?<!\w)(?!T[0-4]N\s?[0-3]M[01](?!\w))[ABCEGHJ-NPRSTVXY]\d[ABCEGHJ-NPRSTV-Z][\s-]?\d[ABCEGHJ-NPRSTV-Z]\d(?!\w)"
)
_CUED = re.compile(
    r"(?<![\w\[])(?:post\s?codes?|postal\s(?:code|address)|zip(?:\s?code)?|eircode|PLZ|pin\s?code|CEP|CAP)"
    r"\s?(?:is|was)?[\s:.=]{1,3}"
    rf"((?=[A-Z\s]{{0,5}}\d)[A-Z0-9]{{2,8}}(?:[\s-][A-Z0-9]{{2,4}})?)(?!\w){NOT_MEASURED}",
    re.IGNORECASE,
)


def find(text: str) -> Iterator[Span]:
    """Yield codes by form, by state and by word."""
    text = view(text)
    for found in (*_UK.finditer(text), *_UK_LOOSE.finditer(text)):
        yield span(found, KIND, LETTER, "[postal code]", 0.85)
    for found in _CANADA.finditer(text):
        yield span(found, KIND, LETTER, "[postal code]", 0.85)
    for found in _US_NINE.finditer(text):
        yield span(found, KIND, LETTER, area(found[0]), 0.7)
    for pattern in (_US, _US_COMMA):
        for found in pattern.finditer(text):
            yield span(found, KIND, LETTER, area(found[1]), 0.86, 1)
    for found in _CUED.finditer(text):
        american = _US_FIGURES.fullmatch(found[1]) and _ZIP.match(found[0])
        yield span(found, KIND, LETTER, area(found[1]) if american else "[postal code]", 0.85, 1)


RESTRICTED = frozenset(
    [
        "036",
        "059",
        "063",
        "102",
        "202",
        "203",
        "204",
        "205",
        "369",
        "556",
        "692",
        "753",
        "772",
        "790",
        "821",
        "823",
        "830",
        "831",
        "878",
        "879",
        "884",
        "890",
        "893",
    ]
)
"""Areas of 20,000 people or fewer: the union of Census 2000 (17, secondary source), Census 2010 (14 read in a weak
source, 2 from memory) and the American Community Survey 2018-2022 by tabulation area (18, computed)."""
VINTAGE = "union of 2000, 2010 and 2018-2022"


def area(code: str) -> str:
    """Stand-in for a ZIP code: its first three figures where that area has more than 20,000 people, else 000.

    Source: 45 CFR 164.514(b)(2)(i)(B)(1) and (2).
    """
    return f"[ZIP {'000' if code[:3] in RESTRICTED else code[:3]}xx]"
