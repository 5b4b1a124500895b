"""Hospitals as they are called in speech, behind where one is, goes or is treated: `sent to Harriet's`, `ECMO at the Quellmarsh`.

Source: 45 CFR 164.514(b)(2)(i)(B), geography smaller than a state; how hospitals are called is common practice, no
source. https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.abbreviations import ABBREVIATIONS
from mmbuilder.scrub.detectors._of_place import CAP, GOING, clinical, followed_by_no_noun, of_any_house
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.unlisted import unlisted
from mmbuilder.scrub.keep.words import fold
from mmbuilder.scrub.plan import Span

KIND = "place"
LETTER = "B"
SOURCE = "45 CFR 164.514(b)(2)(i)(B)"
EXAMPLES = (
    "Referred to Harriet's.",
    "discussed at Harriet's and declined",
    "taken to Oxenbrooke's by air",
    "ECMO at the Quellmarsh in 2019",
    "Transferred to the Overwick for ECMO",
    "surgery at the Velkonar, notes requested",
    "sent to the Royal.",
    "readmit Quen's 6 October",
    "to Quenfield Children's at night",
    "admitted to the Osbert overnight",
    "back from the General with films",
    "discussed at Murphy's and at the Overwick",
    "Taken to Murphy's by air.",
    "seen on the urology ward at the Princess Quenba this week",
    "cooled at the QX, then home",
    "flown to the Royal Quenby",
)
NEAR_MISSES = (
    "Port at Palmer's and at the umbilicus",
    "pain at McBurney's",
    "Main Children's, readmitted with Crohn's",
    "washed with Hartmann's",
    "connected to the Novasure",
    "returned to the Ward",
    "sent to the Lab.",
    "taken to the Operating Theatre",
    "CT in the Emergency Department",
    "moved to the General Ward",
    "referred to the Coroner.",
    "seen in Crohn's and colitis",
    "surgery in Crohn's.",
    "back to Hartmann's at 100 ml an hour",
    "operated on for Crohn's, seen at home",
    "sent to Women's.",
    "sent to the MDT.",
    "referred to the Haematologist and the GP",
    "asked at the Royal College of Surgeons",
    "stitched at the OGJ, clamp at the IVC",
)

_NAMED = rf"(?:(?P<the>[Tt]he)\s)?(?P<name>(?P<own>{CAP}?)(?P<of>['’]s)?)(?![\w'’])(?!\s?[A-Z&])"
_CALLED = re.compile(rf"{GOING}\s{_NAMED}")
_NEXT = re.compile(rf"(?:,\s|\s(?:and|or)\s)(?:to|at|from)\s{_NAMED}")
_SENT = re.compile(
    r"(?i:discussed|presented|transferred|sent|referred|flown|repatriated|admitted|taken)\s(?i:to|from|at)"
)
"""Behind these no eponym is meant: `taken to Murphy's`, but `back to Hartmann's`, `seen in Crohn's`."""
_KINDS = frozenset(
    {"royal", "general", "infirmary", "victoria", "western", "northern", "southern", "eastern"}
)
"""What many hospitals are called, without their town."""


_CROWNED = re.compile(
    rf"(?<!\w)(?:at|to|from|in|via)\s[Tt]he\s(?P<name>(?:Royal|Princess|Prince|Queen|King|Duke|Duchess)\s(?!College|Society|Air|Navy)(?:of\s)?{CAP}(?:\s(?:Hospital|Infirmary))?)(?!\w)"
)
"""Hospitals called after people with a crown, and nothing else is in a note."""
_OF_CHILDREN = re.compile(
    rf"(?<!\w)(?P<name>(?P<own>{CAP})\s(?:Children|Women|Mothers?)['’]?s)(?!\w)(?!\s(?:[Hh]ospital|[Ww]ard))"
)
_READMITTED = re.compile(
    r"(?<!\w)(?:re-?admit(?:s|ted)?|readm|tfr|t/f|back\sat|bed\sat)\s(?:to\s|at\s)?(?P<name>(?P<own>[A-Z][a-z]{2,})['’]s)(?!\w)(?=\s?[,.;)]|\s?$|\s\d|\s(?:on|with|for|for|last|via|under)\b)",
    re.MULTILINE,
)
"""Behind being taken in again no eponym is meant: `readmit King's 6 Oct`."""
_TWO_LETTERS = re.compile(
    r"(?<!\w)(?:at|from|to)\s(?:the|The)\s(?P<name>[A-Z]{2})(?=[,;.)]|\s(?:and|for|by|on|with)\b|$)",
    re.MULTILINE,
)


def find(text: str) -> Iterator[Span]:
    """Yield a name with a possessive, or one behind `the`, where nothing follows that it could belong to."""
    for first in _CALLED.finditer(text):
        found: re.Match[str] | None = first
        while found and _is_one(text, found):
            yield Span(*found.span("name"), KIND, LETTER, "[place]", 0.86)
            found = _NEXT.match(text, found.end())
    for pattern in (_OF_CHILDREN, _READMITTED):
        for one in pattern.finditer(text):
            if not of_any_house(one["own"]) and not clinical(one["own"]):
                yield Span(*one.span("name"), KIND, LETTER, "[place]", 0.86)
    for crowned in _CROWNED.finditer(text):
        yield Span(*crowned.span("name"), KIND, LETTER, "[place]", 0.86)
    for short in _TWO_LETTERS.finditer(text):
        if (
            short["name"] not in ABBREVIATIONS
            and not load().known(fold(short["name"]))
            and not text.isupper()
        ):
            yield Span(*short.span("name"), KIND, LETTER, "[place]", 0.8)


def _is_one(text: str, found: re.Match[str]) -> bool:
    if not followed_by_no_noun(text, found.end()):
        return False
    if found["of"]:
        return _bearer(found["own"]) and (not _eponym(found["own"]) or bool(_SENT.match(found[0])))
    return bool(found["the"]) and (fold(found["own"]) in _KINDS or _a_name(found["own"]))


def _bearer(own: str) -> bool:
    """Whether a hospital can belong to what bears the possessive: no day, no ward, no clinical word."""
    return not (of_any_house(own) or own.isupper() or fold(own) in load().months) and (
        _eponym(own) or not clinical(own)
    )


def _eponym(own: str) -> bool:
    return fold(own) in load().eponym_words


def _a_name(own: str) -> bool:
    """Whether a word is a name that is no eponym, or on no list."""
    plain, lists = fold(own), load()
    if of_any_house(own) or own.isupper() or clinical(own) or _eponym(own):
        return False
    return plain in lists.given or plain in lists.family or unlisted(own, lists)
