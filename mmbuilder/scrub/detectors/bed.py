"""Beds together with a ward, a bay, a unit or somebody, and beds by a code: they lead to one patient through the bed list.

A theatre or bed by itself is kept: `theatre 4`, `bed 3 of the unit`, `CAMA 5:`. A ward tells where somebody lay (`ward 7`), and so does a
bed or room of three figures or with a letter.

Source: 45 CFR 164.514(b)(2)(i)(R), any other unique identifying code; common practice.
https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._span import NOT_MEASURED, span
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.words import fold
from mmbuilder.scrub.plan import Span
from mmbuilder.scrub.words import word_set

KIND = "bed"
LETTER = "R"
SOURCE = "45 CFR 164.514(b)(2)(i)(R)"
EXAMPLES = (
    "Ward 7B, bed 12",
    "bed 14 on Fern Ward",
    "Side room 3, Ward 12",
    "W7 bed 4",
    "room 3, Ward 7B",
    "B7 bed 12",
    "ICU bed 12",
    "bed 12 ICU",
    "Ward 7 bay 2 bed 4",
    "Station 3, Zimmer 12",
    "cama 12, planta 3",
    "transfer to ICU unit B bed 9",
    "critical care bed 17 pod C",
    "recovery bay 3, reopened",
    "bay 3 bed 2 next",
    "bed 2 in bay 3",
    "UCI cama 9",
    "réa lit 3",
    "ITS Bett 4",
    "admitted to bed A14",
    "seen in bed 12B",
    "Cama 233",
    "lit 214",
    "Bett 7/Fenster",
    "lit 2 côté porte",
    "Bed: 12",
    "Bett-Nr. 4",
    "Hab. 214-2",
    "Zi. 214/2",
    "Rm L5-07",
    "Rm 418-2",
    "room 418B",
    "Unit 4B rm 12",
    "Bett 4 Hr. Quenby, extubiert",
    "bed 6 Mrs Quenby for home",
    "Bett 7 K. Quenby nach TAA",
    "mr quenby in sdu 6 bleeding again",
    "still on HDU 4.",
    "Hab 305 cama 1",
    "St. 3b Zi 12",
    "Ch. 214 lit 1, pansement",
    "planta 5 control B cama 12",
    "cama 7 de UCI",
    "SSPI place 7",
    "réa chir lit 4",
    "box 3 SAUV",
    "chambre 12 côté fenêtre",
    "hab 312 puerta",
    "bed space 14 on ICU",
    "NICU cot 4",
    "box 12 de urgencias",
    "bed 14 ward 7",
    "2222 call 02:14 ward 12, adult",
    "pharmacist, ward 33",
    "auf Station 7 verlegt",
    "still on B3 ward",
    "moved to 7 South",
    "back on wd 9",
    "lives at home, rm 204, daughter",
    "room 714.",
    "Zimmer 312, Hüfte",
    "la de la 207 sangra",
    "hab 207 fiebre",
    "Station O3, Hüfte",
    "Hosp no: on file   Ward: 7B",
    "la dame du 312 saigne",
    "Ward: 7 EAST    Tel",
    "WARD: C4",
    "Disposition: 5 West, room 512.",
)
NEAR_MISSES = (
    "theatre 4",
    "in bed for 3 days",
    "room temperature 21",
    "bed 3 was empty",
    "a 12 bed ward",
    "Theatre no. 4 was cold",
    "the bed 12 cm too low",
    "ward round at 9",
    "CAMA 5: dieta",
    "Bett 4 E. coli in der Kultur",
    "Bed 4 Empty, bed 5 C. diff",
    "the nail bed D2, the tumour bed T3",
    "the prostate bed 660 cGy",
    "ICU bed 24/7",
    "to bed 2200, in bed 0830",
    "no bed x2, bed 180 x 90 cm",
    "on ICU 4 days, in ITU 2 more nights",
    "in ICU 3/7, on HDU 2 h",
    "bay 4, room 9",
    "lit 3 J2, boit",
    "bed 4 D2 lap chole, bed 5 T4 fracture",
    "box 4 of gloves, control A",
    "ICU 12 of 14 beds",
    "in ICU place 2 lines",
    "waited for an ED bed 4 hrs",
    "ward 24 hours later, ward 2 hourly obs",
    "moved to the ward 3 days after",
    "back on the ward 1400",
    "ward 4 beds short, ward 6 patients",
    "to ward 10/7 ago",
    "seen in 2 ward rounds, on 3 wards",
    "EBUS Station 7 und Station 4R",
    "room 400 ml, room 100 x 80",
    "no ICU bed\n4 add on",
    "la dame du 12 marche",
    "la pente de la 200 ml",
    "level 4, grade 4, ward level 1",
    "handover ward: 2 x falls risk, ward: 6 patients",
    "Ward: 6 patients, 2 nurses",
    "Ward: 10 mg given",
)

_NUMBER = r"\d{1,3}[A-Za-z]?"
_BED = rf"(?:[Ss]ide\s[Rr]oom|[Bb]ed|[Bb]ay|[Rr]oom|[Cc]ubicle|[Cc]ot|[Rr]m|SR)\s?{_NUMBER}"
_WARD = r"(?:[Uu]nit\s\d{1,2}[A-Z]|[Ww]ard\s(?:\d{1,3}[A-Za-z]?|[A-Z]\d{0,2})|W\d{1,2}[A-Za-z]?)"
_SHORT_WARD = r"[A-Z]\d{1,2}"
_PART = r"(?:[Pp]od|[Uu]nit|[Bb]ay|[Zz]one|[Ss]ide|[Aa]rea)\s(?:[A-H]|\d{1,2})"
_CARE = r"ICU|ITU|HDU|SDU|CCU|CICU|PICU|NICU|SCBU|PACU|ITS|IMC|UCI|UVI|USC"
_UNIT = (
    rf"(?:(?:{_CARE}|(?i:sdu|hdu|icu|itu|réa|critical\scare|intensive\scare|high\sdependency|recovery|resus|majors|reanimación|intensiv|urgencias|urgences|sspi|sauv|déchoc(?:age)?|réa\schir|usic?))(?:\s{_PART})?"
    r"|SAU|AMU|MAU|ED|A&E)"
)
_ANY = r"(?:[Bb]ed|BED|Bett|BETT|[Cc]ama|CAMA|[Ll]it|LIT)"
_LYING = rf"{_ANY}|[Bb]ed\s?space|[Bb]ay|[Cc]ot|[Ii]ncubator|[Cc]ubicle|[Bb]ox"
_ABROAD = (
    r"(?:(?:Stat(?:ion)?|St|Zi(?:mmer)?|[Hh]ab(?:itación)?|[Cc]h(?:ambre)?)\.?|Bett(?:platz)?|[Cc]ama|[Pp]lanta|[Ss]ala|[Ll]it|[Bb]ox)"
    r"\s\d{1,3}[A-Za-z]?"
)
_NAMED = r"(?:[A-Z][a-z]+\s){1,2}Ward"
_BOTH = re.compile(
    rf"(?<!\w)(?:{_WARD}(?:[,\s/-]{{1,3}}{_BED}){{1,2}}|(?:{_UNIT}|{_SHORT_WARD}),?\s(?:{_LYING})\s?\d{{1,2}}(?:,?\s{_PART})?|(?:{_LYING})\s?\d{{1,2}},?\s(?:(?:on\s|in\s|of\s|auf\s|de\s|en\s)?(?:{_UNIT}|{_PART})|(?:on|in)\s{_SHORT_WARD})"
    rf"|[Bb]ay\s(?:[A-H]|\d{{1,2}})[,\s/-]{{1,3}}[Bb]ed\s\d{{1,2}}|(?:SSPI|AWR|[Rr]éa)\s(?:place|poste|Platz)\s\d{{1,2}}|{_ABROAD}(?:[,\s/-]{{1,3}}(?:{_ABROAD}|control\s[A-H\d])){{1,2}}|{_BED}(?:,?\s|\s(?:on|of|in)\s(?:the\s)?){_WARD}|{_BED}(?:,\s|\s(?:on|of|in)\s){_NAMED})"
    rf"(?![\w%]|[.,/:]\d){NOT_MEASURED}"
)
_CODED = re.compile(
    rf"(?<!\w){_ANY}\s(?:(?![xX])[A-Za-z]\d{{1,3}}|\d{{1,2}}[A-HJ-Z]|\d{{3}}(?:-[A-Z\d])?)(?![\w%]|[.,:/]\d|\s?[x×]){NOT_MEASURED}(?!\s?c?Gy)"
)
"""By a code that tells the ward: `bed A14`, `Cama 233`."""
_PLACED = re.compile(
    rf"(?<!\w)(?:(?:{_ANY}|[Hh]ab\.?|[Cc]h(?:ambre|\.)?|Zi\.|Zimmer)\s\d{{1,3}}(?:\s?[/,-]\s?|\s)(?:\(|côté\s|an\sder\s|am\s)?(?:Fenster|Tür|Wand|Mitte|Gang|fenêtre|porte|ventana|puerta|window|door)(?:seite|platz)?"
    r"|(?:[Hh]ab(?:itación)?|HAB|Zi|Zimmer|[Cc]h(?:ambre)?)\.?\s\d{2,4}[-/](?:\d|[A-DFPVT])|(?:[Rr]m|RM|[Rr]oom|Raum|Zi\.|Zimmer)\s(?:[A-Z]?\d{1,2}-\d{2,3}|\d{3,4}(?:-\d|[A-DFPW])))(?![\w%]|[.,:/-]\d)"
)
"""By where it stands in its room: `Bett 7/Fenster`, `Hab. 214-2`; and a room by floor and number."""
_COUNTED = r"(?!\s?(?:beds?|patients?|pts?|nurses?|staff|rounds?|hourly|hrly|nights?|nightly|times|attenders|doctors?|visits?|more|other|of)\b)"
_WARD_ALONE = re.compile(
    rf"(?<!\w)(?P<bed>(?i:ward|wd)\s(?:\d{{1,2}}[A-Za-z]?|\d{{3}}))(?![\w%]|\s?[/:x×]|[.,-]\d){NOT_MEASURED}{_COUNTED}"
    rf"|(?<!\w)(?:auf|von|zu|zur|nach|der|die|Pflege)\s(?P<station>(?i:station)\s\d{{1,2}}[A-Za-z]?)(?![\w%]|[.,:/-]\d){NOT_MEASURED}"
)
_STATION = re.compile(
    r"(?<!\w)(?:Station|Stat\.|St\.)\s(?P<bed>(?!N\d)[A-Z]\d{1,2}[A-Z]?)(?![\w%-]|[.,:/]\d)"
)
"""A ward of a German hospital by letter and figure: `Station O3`."""
_WARD_BEHIND = re.compile(
    r"(?<!\w)(?:on|to|from|via|in|(?i:dispo(?:sition)?|loc(?:ation)?|unit|floor)\s?:)\s(?P<bed>(?:[A-Z]?\d{1,2}[A-Z]?\s(?i:ward)|\d{1,2}\s(?:North|South|East|West|Tower)))(?![\w-]|\s(?i:round|patients?|beds?|staff|nurses?))"
)
_ROOM = re.compile(
    rf"(?<!\w)(?:rm|room|zimmer|chambre|habitación|zi|hab|chb)\.?\s(?P<bed>\d{{3}})(?![\w%]|\s?[x×]|[.,:/-]\d){NOT_MEASURED}",
    re.IGNORECASE,
)
_LABELLED = re.compile(
    rf"(?<!\w){_ANY}(?:\s?:|[\s-]?(?:[Nn]o|[Nn]r|num|n[º°])\.?\s?:?)\s?(?P<bed>[A-Z]{{0,2}}{_NUMBER})(?![\w%]|[.,:/]\d){NOT_MEASURED}"
)
_WARD_LABELLED = re.compile(
    r"(?<!\w)(?:(?i:ward)|Station)(?:\s?:|\s[Nn]o\.?\s?:?|-Nr\.?:?)\s?"
    r"(?P<bed>[A-Z]?\d{1,3}[A-Za-z]?(?:\s(?i:north|south|east|west|tower))?)(?![\w%]|[.,:/-]\d|\s?[x×])"
    rf"{NOT_MEASURED}{_COUNTED}"
)
_IN_A_UNIT = re.compile(
    rf"(?<!\w)(?:in|on)\s(?:{_CARE}|(?i:sdu|hdu|icu|itu))\s\d{{1,2}}(?=\s?[,;)]|\s?\.(?:\s|$)|\s?$|\s[a-z]{{3,}}ing\b)",
    re.MULTILINE,
)
_BESIDE_SOMEBODY = re.compile(
    rf"(?<!\w)(?P<bed>{_ANY}\s\d{{1,2}})[:.,]?\s(?:-\s)?(?:(?i:mr|mrs|ms|miss|hr|herrn?|fr|frau|sr|sra|d|dña|mme|mlle)\.?\s[^\W\d_]{{2}}|[A-Z]\.\s?(?P<name>[A-ZÀ-Þ][^\W\d_]{{2,}}))"
)
_NEXT_LINE = re.compile(r"\n\s*\d")
"""A figure that opens the next line is of that line: `no ICU bed`, below it `4 add on`."""
_OF_ROOM = re.compile(
    r"(?<!\w)(?:(?:la|el|los)\sde\sla|(?:patiente?|dame|monsieur|malade|paciente|señora?|sra?)\s(?:de\sla|du|au)|(?:au|du)(?=\s\d{3}\s(?:appelle|sonne|saigne|va)))\s(?P<bed>\d{3})(?![\w%]|[.,:/-]\d)"
    rf"{NOT_MEASURED}",
    re.IGNORECASE,
)
"""Who lies in a room, told by it: `la de la 207`, `la dame du 12`."""
_TISSUES = word_set(
    "nail tumour tumor prostate prostatic gallbladder liver vascular capillary wound flap gland splenic thymic gastric surgical graft recipient parotid pancreatic thyroid"
)
"""What is a bed and no place to lie in."""
_TISSUE = 16
"""Characters before a bed in which it is told of what it is one."""


def find(text: str) -> Iterator[Span]:
    """Yield the bed, and the ward beside it."""
    for pattern in (_BOTH, _PLACED, _IN_A_UNIT):
        for found in pattern.finditer(text):
            if not _NEXT_LINE.search(found[0]):
                yield span(found, KIND, LETTER, "[bed]", 0.8)
    for found in _CODED.finditer(text):
        before = text[max(0, found.start() - _TISSUE) : found.start()].lower().split()
        if not before or before[-1] not in _TISSUES:
            yield span(found, KIND, LETTER, "[bed]", 0.8)
    yield from (span(found, KIND, LETTER, "[bed]", 0.8, "bed") for found in _LABELLED.finditer(text))
    for pattern in (_ROOM, _OF_ROOM, _STATION):
        yield from (span(found, KIND, LETTER, "[bed]", 0.8, "bed") for found in pattern.finditer(text))
    for pattern in (_WARD_BEHIND, _WARD_LABELLED):
        yield from (span(found, KIND, LETTER, "[place]", 0.8, "bed") for found in pattern.finditer(text))
    for found in _WARD_ALONE.finditer(text):
        yield span(found, KIND, LETTER, "[place]", 0.8, found.lastgroup or 0)
    for found in _BESIDE_SOMEBODY.finditer(text):
        if found["name"] is None or _a_name(found["name"]):
            yield span(found, KIND, LETTER, "[bed]", 0.8, "bed")


def _a_name(word: str) -> bool:
    """Whether a word behind an initial may be a surname: `K. Quenby`, not `E. Coli`."""
    plain, lists = fold(word), load()
    return lists.borne(plain) or not lists.known(plain)
