"""National numbers of persons: NHS, CHI, NHI, social security, Aadhaar and others.

A word before the number is enough. A form that nothing clinical has (3-3-4 figures, nine
figures or more in one run) is enough too. The check digit only raises confidence: a mistyped
number is still somebody's.

Source: NHS Data Dictionary, NHS number (modulus 11); Verhoeff 1969 for Aadhaar; SSA for the SSN form;
check digits by python-stdnum. https://www.datadictionary.nhs.uk/attributes/nhs_number.html
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from importlib import import_module

from mmbuilder.scrub.detectors._cued import cued
from mmbuilder.scrub.detectors._span import NOT_MEASURED, span
from mmbuilder.scrub.detectors._view import view
from mmbuilder.scrub.plan import Span

KIND = "national number"
LETTER = "G"
SOURCE = "NHS Data Dictionary (NHS number, modulus 11); Verhoeff 1969; 20 CFR 422 (SSN)"
EXAMPLES = (
    "NHS number 999 000 0018",
    "NHS no. 9990000017 (mistyped)",
    "999 000 0026",
    "9990000034",
    "CHI 9999999999",
    "NHI ZZZ0016",
    "SSN 000-12-3456",
    "987-65-4320",
    "Aadhaar 2345 6789 0124",
    "Medicare number 1234 56789 1",
    "NINO QQ 12 34 56 C",
    "personal number 811228-9874",
    "passport no. 123456789",
    "999/000/0018",
    "999 0000018",
    "999-000 0018",
    "000 12 3456",
    "qq123456c",
    "NHS number (999 000 0018)",
    "999\n000 0018",
    "NHS number\n999 000\n0018",
    "９９９ ０００ ００１８",
    "2 95 10 99 126 111 93",
    "65 170839 J 003",
    "756.1234.5678.97",
    "PHN 9990 000 018",
    "PAN ZZZPZ9999Z",
    "last four of SSN 3456",
    "ABHA 99-9999-0000-0018",
)
NEAR_MISSES = (
    "platelets 150, 140 and 120",
    "1000000 CFU per ml",
    "readings at 1015 1030 1045",
    "NHS trust guideline 2019",
    "CHI square 3.84",
    "pressures 120-80-60",
    "grew 10000000 organisms",
    "TFN 3 and SIN 4",
    "CPR 1430-1445 by the arrest team",
    "NHS 2019-2020 plan",
    "pressures 120 80 1400",
    "given 120 12 1430",
)

_MODULES = {
    "nhs": "gb.nhs", "chi": "gb.nhs", "h&c": "gb.nhs", "ssn": "us.ssn", "social security": "us.ssn",
    "aadhaar": "in_.aadhaar", "aadhar": "in_.aadhaar", "pps": "ie.pps", "ppsn": "ie.pps", "sin": "ca.sin",
    "bsn": "nl.bsn", "dni": "es.dni", "nie": "es.nie", "codice fiscale": "it.codicefiscale", "cpf": "br.cpf",
    "cpr": "dk.cpr", "hetu": "fi.hetu", "fødselsnummer": "no.fodselsnummer", "tfn": "au.tfn", "rrn": "kr.rrn",
    "nir": "fr.nir", "personnummer": "se.personnummer", "pan": "in_.pan", "ird": "nz.ird",
    "pesel": "pl.pesel",
}  # fmt: skip
"""Which check belongs to which word."""

_LONG_ONES = r"NHS|CHI|H&C|SSN|social\ssecurity|aadhaa?r|BSN|CPF|HETU|fødselsnummer|personnummer|PESEL|RRN"
_SHORT_ONES = (
    r"NHI|PPSN|NINO|DNI|NRIC|SVNR|SV-?Nr\.?|AMKA|NUSS|AHV-?Nr\.?|AVS|codice\sfiscale|Emirates\sID|TFN"
)
_OTHERS = (
    r"IHI|PPS|NI|NIE|CPR|NIR|IRD|SIN|FIN|PAN|Medicare|Medicaid|national(?:\s(?:health|insurance|identity))?"
    r"|identity|personal|passport|insurance|tax|visa"
)
_CUED = (
    cued(_LONG_ONES, least=9),  # "NHS 2019-2020" is a plan, not a number
    cued(_LONG_ONES, least=9, loose=True),
    cued(_SHORT_ONES, f"{_LONG_ONES}|{_SHORT_ONES}|{_OTHERS}", least=6),
)
_NINO = r"(?<!\w)[A-CEGHJ-PQR-TW-Z][A-CEGHJ-NPQR-TW-Z]\s?\d{2}\s?\d{2}\s?\d{2}\s?[A-D](?!\w)"
_FORMS = (
    (re.compile(r"(?<![\w.,/-])\d{3}([ -])\d{3}\1\d{4}(?![\w/-]|[.,]\d)"), "gb.nhs"),
    (re.compile(r"(?<![\w.,/-])\d{3}-\d{2}-\d{4}(?![\w/-]|[.,]\d)"), "us.ssn"),
    (re.compile(r"(?<![\w.,/-])[2-9]\d{3}([ -])\d{4}\1\d{4}(?![\w/-]|[.,]\d| \d)"), "in_.aadhaar"),
    (re.compile(r"(?<![\w.,/-])9\d\d/\d{3}/\d{4}(?![\w/-]|[.,]\d)"), "gb.nhs"),
    (
        re.compile(r"(?<![\w.,/-])\d{3}(?:[ -]\d{7}|-\d{3} \d{4}|(?<=9\d\d) \d{3}-\d{4})(?![\w/-]|[.,]\d)"),
        "gb.nhs",
    ),
    (re.compile(r"(?<![\w.,/-])0\d\d \d\d \d{4}(?![\w/-]|[.,]\d| \d)"), "us.ssn"),
    (
        re.compile(
            r"(?<![\w.,/-])[12] \d\d (?:0[1-9]|1[0-2]) \d[\dAB] \d{3} \d{3}(?: \d\d)?(?![\w/-]|[.,]\d)"
        ),
        "fr.nir",
    ),
    (re.compile(r"(?<![\w.,/-])\d\d ?[0-3]\d[01]\d\d\d ?[A-Z] ?\d{3}(?![\w/-]|[.,]\d)"), ""),
    (
        re.compile(
            r"(?<![\w.,/-])(?:9\d{3} \d{3} \d{3}|\d{4}-\d{3}-\d{3}(?:-[A-Z]{2})?)(?![\w/-]|[.,]\d| \d)"
        ),
        "",
    ),
    (re.compile(r"(?<!\w)[A-Z]{3}[ABCFGHJLPT][A-Z]\d{4}[A-Z](?!\w)"), "in_.pan"),
    (re.compile(r"(?<![\w.,/-])756\.\d{4}\.\d{4}\.\d\d(?![\w/-]|[.,]\d)"), "ch.ssn"),
    (re.compile(r"(?<![\w.,/-])\d\d-\d{4}-\d{4}-\d{4}(?![\w/-]|[.,]\d)"), ""),
    (re.compile(_NINO), ""),
    (re.compile(_NINO.replace(r"\s?", ""), re.IGNORECASE), ""),
)
_LONG = re.compile(
    rf"(?<![\w.,])(?<!\(01\))(?!01\d{{14}}(?:\[|1[01357]|21))(?!\d0{{5}})\d{{9,20}}(?![\w]|[.,]\d){NOT_MEASURED}"
)

_LAST = re.compile(
    r"(?:last\s(?:four|4)(?:\s(?:digits|figures))?(?:\s(?:of|from))?|ending(?:\sin)?)\s(?:the\s|his\s|her\s)?"
    r"(?:SSN|social|NHS|MRN|aadhaa?r|card|number)?[\s:]{0,2}(?<!\d)(\d{4})(?!\w|[.,:]\d)",
    re.IGNORECASE,
)


def find(text: str) -> Iterator[Span]:
    """Yield numbers by their word, by their form, and any run of nine figures or more."""
    text = view(text).replace("\n", " ").replace("\r", " ")  # a number may be broken over two lines
    for pattern in _CUED:
        for found in pattern.finditer(text):
            module = _module(text[found.start() : found.start(1)])
            yield span(
                found, KIND, LETTER, "[national number]", 0.99 if _checks(found[1], module) else 0.9, 1
            )
    for pattern, module in _FORMS:
        for found in pattern.finditer(text):
            yield span(found, KIND, LETTER, "[national number]", 0.95 if _checks(found[0], module) else 0.6)
    yield from (span(found, KIND, LETTER, "[national number]", 0.7, 1) for found in _LAST.finditer(text))
    for found in _LONG.finditer(text):
        yield span(found, KIND, LETTER, "[national number]", 0.9 if _checks(found[0], "gb.nhs") else 0.5)


def _module(cue: str) -> str:
    low = cue.casefold()
    return next((module for word, module in _MODULES.items() if word in low), "")


def _checks(number: str, module: str) -> bool:
    """Whether the check digit is right; False where there is none to check."""
    return bool(module) and bool(import_module(f"stdnum.{module}").is_valid(number))
