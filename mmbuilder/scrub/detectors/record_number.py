"""Numbers of records, specimens, images, incidents and trials, announced by a word.

Source: 45 CFR 164.514(b)(2)(i)(H) medical record numbers, (R) other unique numbers.
https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.scrub.detectors._cued import cued
from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.plan import Span

KIND = "record number"
LETTER = "H"
SOURCE = "45 CFR 164.514(b)(2)(i)(H), (R)"
EXAMPLES = (
    "MRN 00482913 was on the label",
    "hospital no. K123456",
    "Hosp. number: 12-34-56",
    "accession 88213301",
    "incident W-104482",
    "Datix 99120",
    "case number 2026/00123",
    "Trial no RX-2231-07",
    "lab no M22-118834",
    "patient ID 774411",
    "unit number 12 34 56",
    "record no: 123456.",
)
NEAR_MISSES = (
    "case 3 of the list",
    "case no. 4 of the day",
    "the record was 120/80 at 14:30",
    "unit 4 of red cells",
    "units 1000 of heparin",
    "the incident at 14:30 was reported",
    "patient 1 and patient 2",
    "specimen 24 mm in length",
    "a lab value of 1400",
    "episode lasted 1200 s",
)

_NUMBER = cued(
    r"MRN|UMRN|URN|UHID|CRN|EMPI|PAS|datix|accession|hosp(?:ital)?\.?\s?(?:no|number|num|id|#)\.?"
    r"|(?:DICOM|study)\sUID",
    r"record|case|patient|pt|hospital|hosp\.?|clinic|chart|file|unit|folder|accession|incident|episode|encounter|visit"
    r"|admission|trial|study|lab|laboratory|specimen|sample|request|order|referral|reference|ref\.?|complaint|claim"
    r"|image|film|report|registration|subject|participant|donor|transplant|screening|referral|ticket",
)
_INCIDENT = cued(r"lab(?=\s[A-Z]\d)|incident(?=\s[A-Z]{1,4}-?\d)|ref(?:erence)?[.:]|UID[:\s]", least=4)


def find(text: str) -> Iterator[Span]:
    """Yield the number; the word before it stays."""
    for pattern in (_NUMBER, _INCIDENT):
        for found in pattern.finditer(text):
            yield span(found, KIND, LETTER, "[record number]", 0.9, 1)
