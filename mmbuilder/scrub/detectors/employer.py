"""Employers and brands of a work place, behind the work: `works for BMW`, `manager at Argos`, `a retired Rolls-Royce clerk`.

Source: 45 CFR 164.514(b)(2)(i), the identifiers of the individual or of relatives, employers, or household members; the
cues are common practice, no source. https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.abbreviations import ABBREVIATIONS
from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.words import fold
from mmbuilder.scrub.plan import Span

KIND = "place"
LETTER = "B"
SOURCE = "45 CFR 164.514(b)(2)(i), employers"
EXAMPLES = (
    "works for QXW in the paint shop",
    "a manager at Zorgos",
    "her son drives for Quennway Freight",
    "retired Vrex-Holm clerk",
    "ex-Royal Navy diver",
    "banks at Zenthor",
    "arbeitet bei QVW am Band",
    "trabaja en Quenmart",
    "travaille chez Quenfour",
    "brought in by QR24",
    "employeur Nettoyage Quazur a appelé",
    "Arbeitgeber (Schwarzwald Präzision GmbH, AU bis Freitag)",
    "employer: Harvest Fresh Foods",
    "a retired signalman for Network Rail at",
    "retired British Gas fitter",
    "former flight attendant with Quen Air",
)
NEAR_MISSES = (
    "works in IT",
    "works at night",
    "back at work at Day 60",
    "works for the council",
    "worked at ICU level",
    "the manager at Recovery",
    "works with Surgeons",
    "retired Police officer",
    "ex-smoker, ex-IVDU",
    "trabaja en casa",
    "nurse at Theatre 4",
    "brought in by ED",
    "retired GP, retired A&E nurse",
    "brought in by T4",
    "employer informed, employer: NHS",
    "Arbeitgeber Frau",
    "retired teacher with Parkinson disease",
    "former smoker with Barrett oesophagus",
    "a lorry driver with Fuchs' endothelial dystrophy",
    "a teacher with Addison's on steroids",
    "retired carpenter for Revision",
    "employeur Monsieur",
)

_CAP = r"[^\W\d_a-zß-öø-ÿ][\w&’'-]*[^\W_]"
_NAME = rf"(?P<name>{_CAP}(?:\s(?:&\s)?{_CAP}){{0,2}})(?!\w)"
_TRADE = r"(?:manager|clerk|engineer|driver|cashier|director|accountant|technician|electrician|mechanic|pilot|steward|fitter|labourer|operative|supervisor|secretary|receptionist|cleaner|chef|cook|barista|salesman|rep|apprentice|trainee|worker|employee|executive|foreman|guard)"
_WORK = (
    rf"(?:(?:works?|worked|working|drives|drove|delivers|job|employed|shifts)\s(?:for|with|at|by)|{_TRADE}\s(?:at|for|with)|banks\s(?:at|with)"
    r"|arbeitet(?:e)?\s(?:bei|für)|angestellt\sbei|trabaja(?:ba)?\s(?:en|para)|travaille\s(?:chez|pour)|employée?\schez|ouvrier\schez)"
)
_AT = re.compile(rf"(?<!\w)(?i:{_WORK})\s{_NAME}")
_OF = re.compile(rf"(?<!\w)(?i:retired|former|ex-?)\s{_NAME}(?=\s(?i:{_TRADE})(?!\w))")
_RETIRED = re.compile(
    rf"(?<!\w)(?i:retired|former|ex-?)\s(?:[a-z]+\s)?(?P<work>[a-z]+(?:man|woman|men|er|or|ist|ant|smith))\s(?P<link>for|at|with)\s(?P<name>{_CAP}(?:\s(?:&\s)?{_CAP}){{1,2}})(?!\w)"
)
"""Two words with capitals behind a work that is over are a firm, whatever words they are."""
_EX = re.compile(rf"(?<!\w)[Ee]x-(?P<name>{_CAP}\s{_CAP})(?!\w)")
_CREW = re.compile(r"(?<!\w)brought\s(?:in\s)?by\s(?P<name>[A-Z]{2,3}\d{1,3})(?![\w.,]\d|\w)")


_SAID = re.compile(
    r"(?<!\w)(?i:employer|employeur|arbeitgeber(?:in)?|empleador|empresa)\s?[:(]?\s?"
    rf"(?P<name>{_CAP}(?:\s(?:&\s|et\s|und\s|y\s)?{_CAP}){{1,3}})(?!\w)"
)
"""Whatever words with capitals make it, two or more behind this are its name."""


def find(text: str) -> Iterator[Span]:
    """Yield each employer."""
    for found in _SAID.finditer(text):
        if not {fold(word) for word in re.findall(r"[^\W\d_]+", found["name"])} & (
            load().titles | load().roles
        ):
            yield span(found, KIND, LETTER, "[place]", 0.86, "name")
    for found in _RETIRED.finditer(text):
        first = fold(re.findall(r"[^\W\d_]+", found["name"])[0])
        if (
            not found["work"].startswith("smok")
            and first not in load().eponym_words | load().titles | load().roles
        ):
            yield span(found, KIND, LETTER, "[place]", 0.86, "name")
    for found in _OF.finditer(text):
        words = [fold(word) for word in re.findall(r"[^\W\d_]+", found["name"])]
        if len(words) > 1 and not set(words) & (
            load().roles | load().titles | load().eponym_words | load().heads
        ):
            yield span(found, KIND, LETTER, "[place]", 0.78, "name")
    for pattern in (_AT, _OF, _EX):
        for found in pattern.finditer(text):
            elsewhere = _COUNTED.match(text, found.start("name")) or _an_illness(text, found)
            if not elsewhere and _a_brand(found["name"]):
                yield span(found, KIND, LETTER, "[place]", 0.78, "name")
    yield from (span(found, KIND, LETTER, "[place]", 0.78, "name") for found in _CREW.finditer(text))


def _an_illness(text: str, found: re.Match[str]) -> bool:
    """Whether an eponym stands behind "with": `a driver with Fuchs' dystrophy`."""
    first = fold(re.findall(r"[^\W\d_]+", found["name"])[0])
    return text.endswith("with ", 0, found.start("name")) and first in load().eponym_words


_COUNTED = re.compile(r"(?:Day|Week|Month|Tag|Woche|Monat)\s[−-]?\d")
"""`Back at work at Day 60`: when, and not where."""


def _a_brand(said: str) -> bool:
    """Whether it could be a brand: no title, role, day or month opens it, and some word of it is on no list or a name."""
    words = re.findall(r"[^\W\d_]+", said)
    plain, lists = [fold(word) for word in words], load()
    first = plain[0]
    if said in ABBREVIATIONS or first in lists.titles or first in lists.roles or first in lists.months:
        return False
    if words[0].isupper() and len(words) == 1:
        return said not in ABBREVIATIONS and not lists.known(first)
    return any(
        not (lists.known(word) or lists.plain_abroad(word)) or word in lists.word_names for word in plain
    )
