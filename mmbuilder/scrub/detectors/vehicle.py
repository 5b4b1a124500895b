"""Vehicle plates by cue, and vehicle identification numbers by form and check digit.

Source: 45 CFR 164.514(b)(2)(i)(L); 49 CFR 565.15 (17 signs without I, O and Q; check sign in place 9, worked by
weights modulo 11, from memory). https://www.ecfr.gov/current/title-49/section-565.15
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.plan import Span

KIND = "vehicle number"
LETTER = "L"
SOURCE = "45 CFR 164.514(b)(2)(i)(L); 49 CFR 565.15"
EXAMPLES = (
    "Christoph 129 landet 14:02",
    "Helimed HM33 diverted",
    "paramedic call sign Romeo 943.",
    "NEF 9/56-2 war zuerst da",
    "le SMUR Véga 943 le dépose",
    "decompressed by crew of EA542",
    "Registered keeper of LR19 KXB",
    "number plate ZZ55 KLM",
    "reg plate ZZ64 GDZ in the car park",
    "registration number of the car QX26 ZZT",
    "licence plate 8ZZZ999",
    "VIN 1M8GDM9AXKP042788",
    "Kennzeichen B-ZZ 1234",
    "matrícula 0000 ZZZ",
    "reg ZZ55 KLM",
    "rego ZZZ-99Z",
    "vehicle no. ZZ 01 ZZ 9999",
    "immatriculée ZZ-999-ZZ",
    "number plate was zz55 klm",
    "rego 1QZ 8KM, pelvis open book",
    "taxi plate zz 3317",
    "plate of amb zz19 hzr",
    "silver van plate 12ZZ 3456",
    "driving zq22 qnv all night",
    "Kfz QZ-XK 771 gone",
    "the QX-771-ZK left",
    "moto 7719 QZX, fractura",
    "hit by a scooter (qz71 hxk)",
    "and trailer QRK 4471 Q were",
    "reg on van QX 73 ZZK",
    "gaadi QX 07 Z 7719 ne mara",
    "gaadi no QX 12 ZB 3344",
    "Unfallwagen QX-KP 318, eingeklemmt",
    "Kennzeichen QX ZB 123",
    "her car QA 884-213 is in the bay",
    "vehicle QA 447-192 at scene",
    "plate QZR 448 KJ",
    "arrives via Medic 41 after a fall",
    "ute rego QX 41 QL",
    "plate 7QXL 221, red",
)
NEAR_MISSES = (
    "crew of 4, crew of B4 theatre",
    "SMUR 15 min later",
    "NEF 20 min away",
    "plate 3 holes",
    "a locking plate 4.5 mm",
    "registration in 2019",
    "the plate was bent",
    "car crash at 60 mph",
    "plates DCP 10 holes",
    "plate LC 12 HO",
    "vehicle PEG 400 ml",
    "plate LCP 35 mm",
    "plate T10 on the left",
    "hb98 plt and wcc12 crp",
    "pt46 yrs and op12 wks",
    "car crash, GCS 13 and CT 1430",
    "SN60 WF and MA60 AC lenses",
    "rtc, hr 120 bp 90",
    "Wagen mit RR 120",
    "Kennzeichen der Sepsis CRP 220",
)

_PLATE = (
    r"(?:[A-Z]{2}\d{2}\s?[A-Z]{3}|[A-Z]\d{1,3}\s?[A-Z]{3}|[A-Z]{3}\s?\d{1,3}[A-Z]|\d[A-Z]{3}\d{3}|[A-Z]{2}-?\d{3}-?[A-Z]{2}"
    r"|\d{4}\s?[A-Z]{3}|[A-ZÄÖÜ]{1,3}-[A-Z]{1,2}\s?\d{1,4}[EH]?|[A-Z]{2}\s?\d{2}\s?[A-Z]{1,2}\s?\d{4}|[A-Z]{3}[ -]?\d{3}[ -]?[A-Z]{2}|[A-Z]{2}\s\d{3}-\d{3}|[A-Z]{3}[ -]?\d{2,4}[A-Z]?"
    r"|\d{2,3}-[A-Z]{1,2}-\d{1,6}|[a-z]{2}\d{2}\s[a-z]{3}|\d[A-Z]{2}\s?\d[A-Z]{2}|\d{2}[A-Z]{1,2}\s?\d{3,4}|(?!in|of|no|on|at|to)[a-z]{2}\s\d{4}(?!\d))"
)
"""Plates of Britain, North America, France, Spain, Germany, India, Australia, Ireland, Nigeria and South Africa."""
_CUED = re.compile(
    r"(?<!\w)(?:(?:number|licen[cs]e|registration|reg)\.?\s?plates?|(?:vehicle|car|ambulance)\s(?:reg(?:istration)?|no|number)\.?|(?:number\s|licen[cs]e\s)?plates?|vehicle|rego?\.?(?:istration)?|VRN|VRM"
    r"|registration(?:\snumber)?\sof\sthe\s(?:car|van|vehicle|motorcycle)|(?:Kfz-)?Kennzeichen|matrícula|immatriculation|immatriculée?|plaque|keeper\sof)"
    rf"(?:\s(?:is|was|no\.?|number|#)|\sof\s(?:the\s|his\s|her\s)?(?:[a-z]+\s)?(?:car|van|amb|ambulance|taxi|lorry|bike))?[.\s:#]{{1,2}}(?-i:({_PLATE}|(?:(?<=[Rr]ego )|(?<=[Rr]eg ))[A-Z]{{2}}\s\d{{2}}\s[A-Z]{{2}}|\d[A-Z]{{3}}\s\d{{3}}))(?!\w|[.,]\d)(?!\s(?:hole|mm|cm|mg|ml|screw))",
    re.IGNORECASE,
)
_NEAR_ONE = (
    r"(?:car|van|lorry|truck|vehicle|taxi|cab|minicab|bus|minibus|coach|ambulance|amb|motor(?:bike|cycle)|bike|moped|scooter|tractor|trailer|caravan|4x4|suv|driving|drives|drove|rider|rta|rtc"
    r"|Kfz|Pkw|Lkw|PKW|LKW|Auto|[^\W\d_]{0,12}Wagen|Motorrad|Roller|RTW|NEF|[^\W\d_]{0,12}Fahrzeug|voiture|camion|moto|véhicule|scooter|coche|furgoneta|camión|turismo|vehículo|motocicleta|gaa?di(?:\sno)?|gaari|rickshaw)"
)
_BY_CAR = re.compile(
    rf"(?<!\w)(?i:{_NEAR_ONE})\W{{1,3}}(?:[^\W\d_]{{1,12}}\W{{1,2}}){{0,3}}?({_PLATE}|[A-ZÄÖÜ]{{1,3}}-[A-Z]{{1,2}}\s?\d{{1,4}}|[A-Z]{{2,4}}[ -]\d{{2,4}}(?:[ -][A-Z]{{1,3}}|-\d{{2,4}})?)(?!\w|[.,]\d)(?!\s(?:hole|mm|cm|mg|ml|screw))"
)
_GERMAN = re.compile(
    r"(?<!\w)(?:Kfz-)?Kennzeichen[\s:]{1,2}([A-ZÄÖÜ]{1,3}[ -][A-Z]{1,2}[ -]?\d{1,4}[EH]?)(?!\w|[.,]\d)"
)
"""A plate with spaces, right after its word."""
_BY_FORM = re.compile(
    r"(?<![\w./-])(?:(?P<area>[A-Z]{2})\d\d\s(?P<end>[A-Z]{3})|(?P<small>[a-z]{2})\d\d\s(?P<last>[a-z]{3})"
    r"|[A-Z]{2}-\d{3}-[A-Z]{2}|(?P<state>[A-Z]{2})[ -]?\d{2}[ -](?P<series>[A-Z]{1,2})[ -]\d{4})(?![\w'’]|[./-]\w)"
)
"""Plates of Britain, France and India that stand alone: letters that are no word and no measure on either side."""
_CALL_SIGN = re.compile(
    r"(?<!\w)(?:(?=Christoph\s\d)|Helimed\s|(?:call[\s-]?sign|indicatif|SMUR)\s(?=(?:[A-ZÉ][^\W\d_]+\s[A-Z]{0,3}|[A-Z]{1,3})-?\d{2})|crew\sof\s(?=[A-Z]{2}\d)|(?:NEF|RTW|KTW)\s(?=\d{1,2}[/-]\d))"
    r"((?:[A-ZÉ][^\W\d_]+\s)?[A-Z]{0,3}-?\d{1,4}(?:[/-]\d{1,3}){0,2})(?![\w%]|[.,]\d)"
)
"""Ambulances and helicopters, as the radio calls them: one is on one duty."""
_UNIT = re.compile(
    r"(?<!\w)(?:via|by|per|from|with|crew)\s(?:EMS\s)?((?:Medic|Engine|Rescue|Squad|Ladder|Ambulance|Air\s?Care)\s\d{1,3})(?![\w%]|[.,]\d)"
)
"""A crew, as services in America are called: `via Medic 41`."""
_VIN = re.compile(r"(?<!\w)(?=[A-Z0-9]{0,16}\d)[A-HJ-NPR-Z0-9]{17}(?!\w)")
_VALUES = {**{str(digit): digit for digit in range(10)}, **dict(zip("ABCDEFGH", range(1, 9), strict=True)),
           **dict(zip("JKLMN", range(1, 6), strict=True)), "P": 7, "R": 9, **dict(zip("STUVWXYZ", range(2, 10), strict=True))}  # fmt: skip
_WEIGHTS = (8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2)


def find(text: str) -> Iterator[Span]:
    """Yield plates after their word, and numbers of 17 signs whose check sign is right or whose word stands before."""
    yield from (span(found, KIND, LETTER, "[vehicle number]", 0.9, 1) for found in _CUED.finditer(text))
    yield from (span(found, KIND, LETTER, "[vehicle number]", 0.9, 1) for found in _GERMAN.finditer(text))
    yield from (span(found, KIND, LETTER, "[vehicle number]", 0.8, 1) for found in _CALL_SIGN.finditer(text))
    yield from (span(found, KIND, LETTER, "[vehicle number]", 0.8, 1) for found in _UNIT.finditer(text))
    for found in _BY_CAR.finditer(text):
        if not _letters_of_the_clinic(found[1]):
            yield span(found, KIND, LETTER, "[vehicle number]", 0.85, 1)
    for found in _BY_FORM.finditer(text):
        parts = [part for part in found.group("area", "small", "end", "last", "state", "series") if part]
        if not any(_of_the_clinic(part) for part in parts):
            yield span(found, KIND, LETTER, "[vehicle number]", 0.7)
    for found in _VIN.finditer(text):
        if checks(found[0]) or text[max(0, found.start() - 12) : found.start()].upper().rstrip(": ").endswith(
            "VIN"
        ):
            yield span(found, KIND, LETTER, "[vehicle number]", 0.9)


def _letters_of_the_clinic(plate: str) -> bool:
    """Whether letters and figures with a space between them are an abbreviation and its value: `CT 128`."""
    found = re.match(r"([^\W\d_]{2,4})[ -]\d", plate)
    return found is not None and _of_the_clinic(found[1])


def _of_the_clinic(letters: str) -> bool:
    from mmbuilder.scrub.detectors.homely_place import known_letters

    return known_letters(letters.upper())


def checks(number: str) -> bool:
    """Whether the check sign of a vehicle identification number is right."""
    total = sum(_VALUES[sign] * weight for sign, weight in zip(number, _WEIGHTS, strict=True))
    return number[8] == "0123456789X"[total % 11]
