"""Initials of those on duty, where a note introduces them: `JQ -> PS`, `AL (F2)`, `cons RB, SpR MQ`.

Many initials are abbreviations too (`PS`, `AL`): one is somebody's only beside a grade or another's, and never by itself.
Where they stand again in the same document, `scrub.memory` looks.

Source: 45 CFR 164.514(b)(2)(i)(A), names; initials are a derivative of one (HHS guidance on de-identification,
26 November 2012, from memory). How staff are noted is common practice, no source.
https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.abbreviations import ABBREVIATIONS
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.words import fold
from mmbuilder.scrub.plan import Span

KIND = "initials"
LETTER = "A"
SOURCE = "45 CFR 164.514(b)(2)(i)(A)"
EXAMPLES = (
    "handover JQ -> PS",
    "h/o nights: PS → QW",
    "on: AL (F2), QL (CT1)",
    "handover, present: AL (F2) SL (CT1)",
    "night cons RQ, SpR MK, F1 PE",
    'sonographer "QJ" agreed',
    "the nurse (“QH”) counted",
    "reg QV and SHO CT",
)
NEAR_MISSES = (
    "rhythm AF -> SR",
    "handover CT -> MRI",
    "NASH (F2)",
    "AL (F2) fibrosis",
    "cons CT, reg US",
    "SHO CT",
    "PEA -> ROSC",
    'surgeon "CT" next',
    'the report said "QJ"',
    "HBV (F2) and HCV (F3)",
    "anaes GA, surg OT",
)

_TWO = r"[A-Z]{2,3}"
_GRADE = r"(?:FY[12]|F[12]|SHO|HO|SpR|StR|CT[1-3]|CST|ST[1-8]|PGY[\s-]?[1-7]|RN|ODP|CNS|HCA|(?i:reg|registrar|cons|consultant|fellow|intern))"
_OVER = re.compile(rf"(?<![\w-])(?P<one>{_TWO})\s?(?:->|→|>)\s?(?P<other>{_TWO})(?![\w-])")
_DUTY = re.compile(
    r"(?<!\w)(?:hand[\s-]?over|h/o|nights?|days|shift|rota|on\scall|present)(?!\w)", re.IGNORECASE
)
_BEHIND = re.compile(rf"(?<![\w/-])(?P<one>{_TWO})\s?\({_GRADE}\)")
_BEFORE = re.compile(
    rf"(?<![\w/-])(?:{_GRADE}|(?i:anaes|surg|scrub|nic|matron|coordinator))\s(?P<one>{_TWO})(?=\s?[,;.)&+/]|\s?$|\sand\s)"
)
_QUOTED = re.compile(r"(?<![\w-])(?P<role>[^\W\d_]{3,})\s?\(?\s?[“\"‘'](?P<one>[A-Z]{2,3})[”\"’']")
_OF_A_TRADE = ("grapher", "therapist", "ologist", "ician", "aedist", "ietist")
"""How the names of trades end."""


def find(text: str) -> Iterator[Span]:
    """Yield initials line by line: two of them at least, one no abbreviation unless the line is about a shift."""
    start = 0
    for line in text.splitlines(keepends=True):
        for pattern in (_BEHIND, _BEFORE):
            every = [found.span("one") for found in pattern.finditer(line)]
            said = {line[slice(*one)] for one in every}
            if len(said) > 1 and (_DUTY.search(line) or any(map(no_abbreviation, said))):
                yield from (_initials(start, *one) for one in every)
        if _DUTY.search(line):
            for found in _OVER.finditer(line):
                if no_abbreviation(found["one"]) or no_abbreviation(found["other"]):
                    yield from (_initials(start, *found.span(one)) for one in ("one", "other"))
        for found in _QUOTED.finditer(line):
            if (
                fold(found["role"]) in load().roles or found["role"].lower().endswith(_OF_A_TRADE)
            ) and no_abbreviation(found["one"]):
                yield _initials(start, *found.span("one"))
        start += len(line)


def _initials(by: int, start: int, end: int) -> Span:
    return Span(by + start, by + end, KIND, LETTER, "[name]", 0.86)


def no_abbreviation(letters: str) -> bool:
    """Whether letters in capitals are no abbreviation and no word."""
    return letters not in ABBREVIATIONS and not load().known(fold(letters))
