"""Any number that is called one: `staff no. 448120`, `coroner's ref 25/448-AB`, `pump ID VENT-0448`.

The word before "no." does not matter, save where it numbers a thing that is printed or sold by the thousand (a page,
a model, a standard). Source: 45 CFR 164.514(b)(2)(i)(R), any other unique identifying number; the words are common
practice. https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._span import NOT_MEASURED, span
from mmbuilder.scrub.detectors._view import view
from mmbuilder.scrub.plan import Span

KIND = "record number"
LETTER = "R"
SOURCE = "45 CFR 164.514(b)(2)(i)(R)"
EXAMPLES = (
    "staff no. 448120",
    "pump no. 44812",
    "coroner's ref 25/448-AB",
    "IPD No IP/25/44812",
    "randomisation number 0448",
    "ventilator ID VENT-0448",
    "SI ref 2025-4481",
    "Asset # 44812",
    "expediente n.º 2025/448",
    "Aktenzeichen Nr. 44-812/25",
    "helicopter registration G-ZZHX",
)
NEAR_MISSES = (
    "model number SN60WF",
    "no 10-0 nylon left",
    "there was no 120/80 at any time",
    "number 12 blade",
    "ref 135-145, ref. 3.5-5.0",
    "reference 2014;101(3):204-12",
    "in a number of 12 cases",
    "total number 12000",
    "figure no. 12345",
    "reference range 7.35-7.45",
    "no 1430-1445 entries",
    "PMID number 12345678",
    "no more than 12-14 ml",
    "guideline number NG45-2021",
)

_WORD = r"(?:numbers?|nos?|nr|num|n\.?[º°]|ref(?:erence)?|refs?|ids?|ident(?:ifier|ification)|(?:case|file|record)\scode)(?![^\W\d_])\.?"
_VALUE = r"(?=[\w/.-]{5}|0\d{3}(?!\w))[A-Za-z0-9](?:[\w/.-]{0,38}\w)"
_NUMBER = re.compile(
    rf"(?:(?<![^\W_])(?P<word>{_WORD})|[#№])(?:\s?(?:is|was)(?!\w))?[\s:=#.]{{0,3}}(?P<value>{_VALUE}){NOT_MEASURED}",
    re.IGNORECASE,
)
_PRINTED = re.compile(
    r"(?:model|catalogue|figure|fig|table|page|chapter|section|version|standard|guideline|guidance|guide|total|pmid|doi|isbn"
    r"|issn|iso|part|item|product|type|size|grade|level|cas|ec|icd|opcs|cpt|snomed|the|in\sa|a)\.?\s*$",
    re.IGNORECASE,
)
_MEASURE = re.compile(
    r"\d{1,3}(?:\.\d+)?-\d{1,3}(?:\.\d+)?|\d+\.\d+|\d+|(?:19|20)\d\d[-/](?:19|20)\d\d|(?:[01]\d|2[0-3])[0-5]\d-(?:[01]\d|2[0-3])[0-5]\d|\d{1,3}/\d{1,3}"
)
"""Figures that could be a value, a range of values, a pressure or years."""


_CALL_SIGN = re.compile(
    r"(?<!\w)(?:registration|reg|helicopter|aircraft|plane|helimed|tail\s(?:number|no)|call\s?sign)\.?\s(?:is\s|was\s|registration\s|no\.?\s)?(?-i:([A-Z]{1,2}-[A-Z]{3,4}))(?!\w)",
    re.IGNORECASE,
)
"""The registration of an aircraft: letters only (ICAO Annex 7, from memory)."""


def find(text: str) -> Iterator[Span]:
    """Yield the number; the words before it stay."""
    text = view(text)
    yield from (span(found, KIND, LETTER, "[vehicle number]", 0.8, 1) for found in _CALL_SIGN.finditer(text))
    for found in _NUMBER.finditer(text):
        value, figures = found["value"], sum(sign.isdigit() for sign in found["value"])
        whole = value.isdigit() and not value.endswith("000")
        if (
            figures < 3
            or (not whole and _MEASURE.fullmatch(value))
            or (whole and len(value) == 4 and value[0] != "0")
        ):
            continue
        if not _PRINTED.search(text, max(0, found.start() - 14), found.start()):
            yield span(found, KIND, LETTER, "[record number]", 0.75, "value")
