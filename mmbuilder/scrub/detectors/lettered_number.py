"""A number by its form, with nothing to announce it: letters with hyphens and four figures or more (`RC-5518`, `IRIS-7720-AE`).

Published numbers (standards, trials, guidelines, scales) and those of models stay.

Source: 45 CFR 164.514(b)(2)(i)(R), any other unique identifying number; the forms are common practice, no source.
https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.abbreviations import ABBREVIATIONS
from mmbuilder.scrub.detectors._published import outside
from mmbuilder.scrub.detectors._span import NOT_MEASURED, span
from mmbuilder.scrub.detectors._view import view
from mmbuilder.scrub.plan import Span

KIND = "record number"
LETTER = "R"
SOURCE = "45 CFR 164.514(b)(2)(i)(R)"
EXAMPLES = (
    "Asset QED-00771 replaced",
    "scan on the fridge IRIS-7720-AE shows",
    "FQ-00A93-22C signed in",
    "prison no A0417QX",
    "QDH 771209 had no label",
    "G1017 25 662 091 given over 3 h",
    "QMP-25-0772 about pain relief",
    "2025/INQ/0441 closed",
    "sample QB-0091-X4 frozen",
)
NEAR_MISSES = (
    "SARS-CoV-2 and COVID-2019",
    "WHO-2016 and ESC-2020",
    "HLA-B2705 and CA-19-9",
    "ISO-9001, IEC-60601-1",
    "EORTC QLQ-C30",
    "GCS 15 1430 1500",
    "BP 120 80 and HR 110 1430",
    "NCT-01234567",
    "T2-weighted, FLAIR",
    "MA60AC 21 D, ZCB00 22.5",
    "IL-6 1200",
    "TNM-8, AJCC-2017",
    "GTN 50 1430",
    "CK 124563",
    "H2O2 3 percent",
    "Ti-6Al-4V alloy",
    "AO 42-A1 and 31-A2",
    "AAOS-2021-22",
    "RBC 12 24 and WBC 14 1200",
)

_PARTS = re.compile(
    rf"(?<![\w./+-])(?=(?:[A-Z/-]*\d){{4}})(?=[\d/-]*[A-Z])[A-Z]{{1,5}}(?:[-/][A-Z0-9]{{1,8}}){{1,4}}(?![\w+]|[-./]\d){NOT_MEASURED}"
    rf"|(?<![\w./+-])(?:19|20)?\d\d[/-][A-Z]{{2,4}}[/-]\d{{2,6}}(?![\w+]|[-./]\d)"
)
_SPACED = re.compile(rf"(?<![\w./+-])(?P<letters>[A-Z]{{2,4}})\s\d{{6}}(?![\w%]|[.,:/-]\d){NOT_MEASURED}")
_GROUPS = re.compile(
    rf"(?<![\w./+-])(?P<letters>[A-Z]{{1,2}})\d{{2,4}}(?:\s\d{{2,4}}){{2,3}}(?:\s[A-Z])?(?![\w%]|[.,:/-]\d){NOT_MEASURED}"
)
_INSIDE = re.compile(r"(?<![\w./+-])[A-Z]\d{4}[A-Z]{2}(?![\w+]|[-./]\d)")
_PUBLISHED = re.compile(
    r"(?:NCT|ISRCTN|PMC|PMID|ISO|IEC|EN|BS|ASTM|CD|COVID|SARS|MERS|ACTRN|CTRI|DRKS|NG|CG|QS|TA|IPG|HLA|CA|IL|CYP|WHO|ESC|ACC|AHA|AAOS|AJCC|UICC|TNM|NICE|SIGN|ICD|OPCS|CPT|DSM|EORTC|QLQ|SF"
    r"|FIGO|EAU|AAGBI|GOLD|NCEPOD|HSE|MHRA|FDA|CE|EU|UN|CAS|EC|DIN|AS|NZS|ANSI|NFPA|LOINC|RFC|IEEE)[-/\s]"
)
_YEAR = re.compile(r"[A-Z]{1,6}[-/](?:19|20)\d\d(?:[-/]\d\d)?")


def find(text: str) -> Iterator[Span]:
    """Yield every number of such a form; what a citation prints stays."""
    yield from outside(text, _found(view(text)))


def _found(text: str) -> Iterator[Span]:
    for found in _PARTS.finditer(text):
        if not (_PUBLISHED.match(found[0]) or _YEAR.fullmatch(found[0])):
            yield span(found, KIND, LETTER, "[record number]", 0.6)
    for pattern in (_SPACED, _GROUPS):
        for found in pattern.finditer(text):
            if found["letters"] not in ABBREVIATIONS and found["letters"] not in _MEASURED:
                yield span(found, KIND, LETTER, "[record number]", 0.6)
    yield from (span(found, KIND, LETTER, "[record number]", 0.6) for found in _INSIDE.finditer(text))


_MEASURED = frozenset(
    {
        "T",
        "L",
        "C",
        "S",
        "P",
        "CK",
        "CPK",
        "BNP",
        "AFP",
        "CEA",
        "LDH",
        "ALT",
        "AST",
        "HIV",
        "CMV",
        "EBV",
        "PMID",
        "OMIM",
    }
)
