"""Numbers of records, specimens, images, incidents and trials, announced by a word.

Source: 45 CFR 164.514(b)(2)(i)(H) medical record numbers, (R) other unique numbers.
https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._cued import cued
from mmbuilder.scrub.detectors._span import NOT_MEASURED, span
from mmbuilder.scrub.detectors._view import view
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
    "historia clínica 448120",
    "Fallnummer 2026-004412",
    "Fall-Nr. 88104412",
    "numéro de dossier 77-4410",
    "patient ka MRN 4481207 hai",
    "reg no 448812",
    "MRN (00482913)",
    'MRN "00482913"',
    "MRN/00482913",
    "MRN, 00482913",
    "MRN; 00482913",
    "MRN — 00482913",
    "MRN of 00482913",
    "MRN is: 00482913",
    "MRN ００４８２９１３",
    "MRN 482",
    "MRN MH 4471-9926  47F",
    "hospital no. AB 448120, bed",
    "REF 12345",
    "Case 2025/00123",
    "complaint C25-448",
    "subject QX-044-012",
    "police log PL/4471/0903",
    "H/N 4419-B-7720 of the clinic",
    "crime ref 42/4471/25",
    "incident form 4471/25",
    "booking no. 4471-22",
    "CAD 4471",
    "your ref: QX/4471",
    "CIRS-Meldung 4471, Verwechslung",
    "Vorfall 77231 wurde gemeldet",
    "incident 4471 filed",
    "found as 1.2.840.99999.3.152.235.2.12.187636473",
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
    "refer 12 patients",
    "ref 4 in the list",
    "case 2025",
    "levels 1.2.3.4.5",
    "report 120/80",
    "MRN ON 12 of them",
    "log 10 reduction",
    "policy 2019",
    "case 1430-1445",
    "event at 1430",
    "theatre log 12.20",
    "theatre log 1220",
    "incident 1430, cuff leak",
    "Meldung 2019",
    "nach Meldung 1430 in den OP",
)

_NUMBER = cued(
    r"MRN|M\.R\.N\.?|UMRN|URN|UHID|CRN|EMPI|PAS|BHR|St?EIS|LFPSE|ulysses|RL6|datix(?:\sref)?|accession|hosp(?:ital)?\.?\s?(?:no|number|num|id|#)\.?"
    r"|(?:DICOM|study)\sUID|(?:n[º°.]{0,2}\s?de\s)?historia\scl[íi]nica|NHC|N\.?H\.?C\.?|Fall-?(?:nummer|Nr\.?)|Patienten-?(?:nummer|ID|Nr\.?)"
    r"|Aufnahme-?(?:nummer|Nr\.?)|n(?:uméro|°|o\.?)\s(?:de\s|du\s)?(?:dossier|patient|séjour)|case\s?notes?(?:\s(?:no|number)\.?)?(?=\s?:?\s?[A-Z]{0,3}\d{4})|dossier\sn[°º]|safeguarding|badge|payroll|smart\s?card|IPP|NIP(?=\s?:)"
    r"|H/N|hosp\s?n(?:o|um)|(?:police|coroner['’]?s?|security|call|ambulance|crime|control\sroom|radio|theatre(?!\slog\s(?:[01]?\d|2[0-3])[.:]?[0-5]\d(?![\w/-])))\slog(?:\s(?:no|number|ref))?|(?:crime|claim|police|coroner['’]?s?|inquest|booking|docket|warrant|custody"
    r"|complaint|accident|adverse\sevent|RIDDOR|SIRI|StEIS|inquest|PALS|duty\sof\scandour|(?:clinical\s)?incident\s(?:form|report)|journey|run|CAD|PNR|taxi|waybill|consignment|parcel|shift|requisition|e-?referral|UBRN|UPRN|ULN)"
    r"\s?(?:ref(?:erence)?|no|number|num|id|#)\.?|CAD(?=\s[A-Z]?\d{4})|UBRN|jigsaw|case\sref|our\sref|your\sref",
    r"record|case|patient|pt|hospital|hosp\.?|clinic|chart|file|unit|folder|accession|incident|episode|encounter|visit"
    r"|admission|trial|study|lab|laboratory|specimen|sample|request|order|referral|reference|ref\.?|complaint|claim"
    r"|image|film|report|registration|reg|subject|participant|donor|transplant|screening|referral|ticket|booking|form|log|event|crime|policy|permit|contract|docket|job|task|query|enquiry"
    r"|consent|prescription|script|slot|pathway|theatre|session|appointment|appt|invoice|receipt|order|PO|batch|run|set|tray|swab\scount",
)
_LOOSE = cued(r"MRN|UMRN|UHID|EMPI|datix|hospital\snumber|hosp\.?\sno", loose=True)
_SHORT = re.compile(
    r"(?<![^\W_])(?:U?MRN|UHID)(?:\s(?:no|number|is))?\.?[\s:=#(]{1,3}(\d{3})(?![\w%]|[.,/]\d)"
)
_SPACED = re.compile(
    r"(?<![^\W_])(?:U?MRN|UHID|(?i:hosp(?:ital)?\.?\s(?:no|number))\.?)[\s:=#(]{1,3}"
    r"((?=(?:\D*\d){4})[A-Z]{1,3}\s\d{2,10}(?:-\d{2,10}){0,3})(?![\w-]|[.,/]\d)"
)
"""The letters of a hospital before its number, parted by a space: `MRN MH 4471-9926`."""
_REF = re.compile(rf"(?<![^\W_])(?:REF|Ref)\.?[\s:]{{1,2}}(\d{{4,12}})(?![\w%]|[.,]\d){NOT_MEASURED}")
_YEAR_FIRST = re.compile(
    r"(?<![^\W_])(?:case|incident|file|record|claim)\s((?:19|20)\d\d[/-]\d{3,8})(?![\w]|[.,]\d)",
    re.IGNORECASE,
)
_LETTERED = re.compile(
    r"(?<![^\W_])(?i:complaint|subject|participant|incident(?:\sform|\sreport)?|claim|case|study|trial|sample|specimen|request|order|ticket|file|chart|record|patient|pt|booking|log|crime|policy|police|form|job|tray|docket|event|report|consent)\s"
    r"(?=(?:[\w/-]*?\d){4})([A-Z]{1,4}[-/]?\d[\w/-]*\w|\d{3,6}[-/]?[A-Z]{1,3}|\d{2,4}/\d{4,6}(?:/\d{2,4})?|\d{4,6}/\d{2,4})(?![\w]|[.,]\d)"
)
_REPORTED = re.compile(
    rf"(?<![^\W_])(?:(?:CIRS-?)?(?:Meldung|Vorfall)|incident)\s(?!(?:19|20)\d\d(?!\d)|(?:[01]\d|2[0-3])[0-5]\d(?!\d))(\d{{4,7}})(?![\w%/-]|[.,:]\d){NOT_MEASURED}",
    re.IGNORECASE,
)
"""What was reported, by its number alone; four figures that a time or a year may be stay."""
_UID = re.compile(r"(?<![\w.])(?=[\d.]{16})[0-2](?:\.\d{1,40}){5,20}(?!\w)")
"""A DICOM identifier: at least six numbers with dots, 16 signs or more."""
_INCIDENT = cued(
    r"lab(?=\s[A-Z]\d)|incident(?=\s[A-Z]{1,4}-?\d)|ref(?:erence)?[.:](?!\s?\d+(?:\.\d+)?-\d+(?:\.\d+)?(?!\w))|UID[:\s]",
    least=4,
)


def find(text: str) -> Iterator[Span]:
    """Yield the number; the word before it stays."""
    text = view(text)
    for pattern in (_NUMBER, _INCIDENT, _LOOSE, _SHORT, _SPACED, _REF, _YEAR_FIRST, _LETTERED, _REPORTED):
        for found in pattern.finditer(text):
            yield span(found, KIND, LETTER, "[record number]", 0.9, 1)
    for found in _UID.finditer(text):
        yield span(found, KIND, LETTER, "[record number]", 0.85)
