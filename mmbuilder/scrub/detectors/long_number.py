"""A number by its length alone: six figures or more in one run, which no measure has, or letters with such a run.

Round numbers (`10000000 organisms`), numbers with a unit and counts of copies stay, and so do published numbers
(a registered trial, an article). National numbers of nine figures or more are in `national_number`.

Source: 45 CFR 164.514(b)(2)(i)(H) medical record numbers, (R) other unique numbers; that hospitals number patients
with six to eight figures is common practice, no source. https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._published import outside
from mmbuilder.scrub.detectors._span import NOT_MEASURED, span
from mmbuilder.scrub.detectors._view import view
from mmbuilder.scrub.plan import Span

KIND = "record number"
LETTER = "H"
SOURCE = "45 CFR 164.514(b)(2)(i)(H), (R)"
EXAMPLES = (
    "448120 for theatre",
    "UR 448120",
    "Acc# 25044812",
    "K448120 next on the list",
    "wristband read q0448120",
    "specimen 25S044812",
    "policy QX-4481200",
    "histology H25-04481",
    "25/H/04481",
    "25.044812.Q",
    "report 2025/03/448",
)
NEAR_MISSES = (
    "1000000 CFU per ml",
    "grew 10000000 organisms",
    "CMV 124563 copies",
    "viral load 1245634",
    "SN60WF +21.0 D",
    "E4V5M6, G3P2, T3N1M0",
    "platelets 245000",
    "ISO-80369 and IEC-60601",
    "PMID 12345678",
    "SNOMED CT 80146002",
    "2018;153(7):e180001",
    "NCT01234567",
    "heparin 250000 units",
    "20x30x4000 voxels",
    "L1L2L3L4L5S1",
    "ferritin 124563",
    "levels 1.123456",
    "COVID-19 and SARS-CoV-2",
    "AO 42-A1",
    "Swan-Ganz",
)

_RUN = re.compile(
    rf"(?<![\w.,/+±-])(?<!\d )\d{{6,8}}(?!\w|[.,:/-]\d| \d)(?<!000){NOT_MEASURED}(?!\s?(?:copies|cells|reads|/|per\b|CFU))"
)
_MIXED = re.compile(
    r"(?<![\w./-])(?<!\])(?!\d+[Xx]\d)(?=[A-Z]*\d)(?=(?:[A-Z]*\d){6})(?=[A-Z\d]*\d{4})(?=\d*[A-Z])[A-Z\d]{7,20}(?!\w|[./-]\d)"
    r"|(?<![\w./-])[a-z]{1,3}\d{6,10}(?!\w|[./-]\d)"
    r"|(?<![\w./-])[A-Z]{1,4}-\d{5,10}(?!\w|[./-]\d)"
    r"|(?<![\w./-])(?:[A-Z]{1,2}\d\d-\d{4,7}|\d\d[/.-]?[A-Z]{1,3}[/.-]?\d{4,7}|\d\d[./-]\d{6}[./-][A-Z]|(?:19|20)\d\d[/-]\d{1,3}[/-]\d{3,6})(?!\w|[./-]\d)"
)
_COUNTED = re.compile(
    r"(?<![^\W_])(?:load|copies|CMV|EBV|HCV|HBV|HIV|BNP|CK|CPK|ferritin|hCG|count|titre|titer|viral|dimer|AST|ALT|LDH|total|PMID|PMC|SNOMED(?:\sCT)?|LOINC|RxNorm|UMLS|OMIM|ORPHA|ATC"
    r"|SCTID|doi|issue|article|amylase|lipase|troponin|AFP|CEA|CA\s?\d+[.-]?\d*)(?:\s(?:of|was|is|code|number|no\.?))?[\s:=]*$",
    re.IGNORECASE,
)
_PUBLISHED = re.compile(
    r"(?:NCT|ISRCTN|PMC|ISO|IEC|EN|BS|ASTM|CD|COVID|ACTRN|CTRI|DRKS|NG|CG|QS|TA|IPG)[\d-]", re.IGNORECASE
)


def find(text: str) -> Iterator[Span]:
    """Yield every number that is too long to be a measure; what a citation prints stays."""
    yield from outside(text, _found(text))


def _found(text: str) -> Iterator[Span]:
    """Yield every number that is too long to be a measure."""
    text = view(text)
    for pattern, confidence in ((_RUN, 0.45), (_MIXED, 0.55)):
        for found in pattern.finditer(text):
            if _PUBLISHED.match(found[0]) or _COUNTED.search(text, max(0, found.start() - 20), found.start()):
                continue
            yield span(found, KIND, LETTER, "[record number]", confidence)
