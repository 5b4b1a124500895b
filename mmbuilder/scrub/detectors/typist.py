"""Initials of who dictated, typed, checked or signed a letter: `KMO/jlt`, `Diktat St/mw`, `frappe ND`, `minutes JDS`.

Source: 45 CFR 164.514(b)(2)(i)(A), names: initials are a derivative of one (HHS guidance on de-identification,
26 November 2012, from memory); how letters end is common practice, no source.
https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.abbreviations import ABBREVIATIONS
from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.words import fold
from mmbuilder.scrub.plan import Span

KIND = "name by role"
LETTER = "A"
SOURCE = "45 CFR 164.514(b)(2)(i)(A)"
EXAMPLES = (
    "job 4471   KQO/jlt",
    "Diktat Sq/mw",
    "dictated not read nq:pv",
    "JOB ID: 12345  T: kqw",
    "frappe QD",
    "Dicté le 18/06 - frappe ND",
    "minutes JDS",
    "checked by QF / bank nurse",
    "firmada LGB",
    "typed by qrs",
    "Dictated by KQW, typed by ms, 12/11",
    "Kürzel kr/44",
    "End of letter. KQ/mh",
    "Bises, QL   poste 4412",
    "Regards\nDQ",
    "Thanks, Q-L",
    "Bises, AL   poste 12",
    "D: today  T: tomorrow  HQ/mw  Job 4471",
    "Sincerely, W. Quillorne MD / tqm",
    "observations countersigned EQ; rate 16",
)
NEAR_MISSES = (
    "typed and screened",
    "ratio P/F:",
    "transcribed to theatre",
    "checked by me, counted by us",
    "checked by ms ward",
    "minutes CPR then ROSC",
    "BP/HR",
    "verified by USS today",
    "checked by ECG at once",
    "5 minutes",
    "minutes of CPR",
    "10 minutes IV",
    "pH/gas",
    "T: 38",
    "N/A and n/v",
    "Thanks, GP",
    "cheers, ICU",
    "best CT",
    "the MD / the nurse",
    "co-signed by CT trainee",
)

_INITIALS = r"(?:[A-ZÀ-Þ][a-zß-ÿ]?[A-ZÀ-Þ]{1,3}|[A-ZÀ-Þ]{1,3}[a-z]?[/:][a-z]{2,4}|[a-z]{2,3}[/:](?:[a-z]{2,3}|\d{2}))(?![\w/])"
_CUED = re.compile(
    r"(?<!\w)(?:(?i:dict(?:ated)?(?:\sby|\s(?:but\s)?not\sread)?|diktat(?:zeichen)?|kürzel|dictée?|frappe|typed(?:\sby)?|typist"
    r"|transcribed(?:\sby)?|scribed?(?:\sby)?|(?<!\d\s)minutes(?:\s(?:taken\s)?by)?|(?:counter|co-?)signed(?:\sby)?|checked\sby|verified\sby|firmad[oa](?:\spor)?))[\s:.–-]{1,3}"
    rf"(?P<name>{_INITIALS}|(?<=by\s)(?!(?:me|us|my|an?|it|no|so|the|her|his|all|our|two|one|both)\b)[a-z]{{2,3}}(?=$|[.,;]|\s?/|\s\d))",
    re.MULTILINE,
)
_PAIR = re.compile(r"(?:^|\s{2}|(?<=[.,]\s))(?P<name>[A-Z]{2,4}[/:][a-z]{2,4})(?=\.?$|\s{2})", re.MULTILINE)
"""By itself at the end of a line, or between gaps: who dictated in capitals, who typed in small letters."""
_SIGNED = re.compile(
    r"(?<!\w)(?:bises|bisous|amitiés|cordialement|(?:kind\s|best\s|warm\s)?regards|best\swishes|bw|cheers|thanks|ta|yours(?:\s(?:sincerely|faithfully))?|lg|vg|mfg|gruß|grüße|saludos|un\sabrazo|slán)"
    r"\s?(?:,\s?|[-–]\s?|\n)\s?(?P<name>(?-i:[A-Z]{1,2}-?[A-Z]{1,2}|[A-Z]))(?=\s{2}|\s?$|\.)",
    re.MULTILINE | re.IGNORECASE,
)
_BEHIND_A_DEGREE = re.compile(
    r"(?<!\w)(?:MD|DO|MBBS|FRCS|FACS|PhD|PA-C|NP)\s?/\s?(?P<name>[a-z]{2,4})(?=\.?\s*$)", re.MULTILINE
)
"""Who typed, behind who signed: `W. Quillorne MD / tqm`."""
_TYPED = re.compile(r"(?i:job|dict|trans)[^\n]*\sT:\s(?P<name>[a-z]{2,4})$", re.MULTILINE)


_TWO = 2
_NO_SENDERS = frozenset(
    [
        "GP",
        "ED",
        "CT",
        "ER",
        "IT",
        "MD",
        "OR",
        "PA",
        "ID",
        "GI",
        "US",
        "MR",
        "RT",
        "HR",
        "BP",
        "PE",
        "IR",
        "CC",
        "IV",
    ]
)
"""Two letters behind a greeting that are no sender: `Thanks, GP`."""


def find(text: str) -> Iterator[Span]:
    """Yield initials that are no abbreviation of the clinic and no word."""
    for pattern in (_CUED, _PAIR, _TYPED, _SIGNED, _BEHIND_A_DEGREE):
        for found in pattern.finditer(text):
            letters = re.findall(r"[^\W\d_]+", found["name"])
            closing = pattern is _SIGNED and len(found["name"]) == _TWO and found["name"] not in _NO_SENDERS
            if closing or not any(map(_of_the_clinic, letters)):
                yield span(found, KIND, LETTER, "[name]", 0.8, "name")


def _of_the_clinic(said: str) -> bool:
    return said in ABBREVIATIONS or (len(said) > 2 and load().known(fold(said)))
