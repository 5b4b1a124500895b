"""Hospitals, firms and saints in hurried notes: `kingsmead infirmary`, `st aldhelms`, `hartwell foundry`, `Kestrel Imaging`.

The word that tells what it is may follow any word; so the word before it must be on no list at all.

Source: 45 CFR 164.514(b)(2)(i)(B), geography smaller than a state; (b)(2)(i), employers; the words are
common practice. https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.acting import unlisted
from mmbuilder.scrub.keep.words import fold
from mmbuilder.scrub.plan import Span

KIND = "place"
LETTER = "B"
SOURCE = "45 CFR 164.514(b)(2)(i)(B)"
EXAMPLES = (
    "pt came from kingsmarrow infirmary",
    "transferred from st aldhelvins overnight",
    "works at harrowmell foundry",
    "reported by Kestrelby Imaging",
    "st brennocs itu had no bed",
    "QUENBYFORD GENERAL HOSPITAL",
    "lives near wexmoorby",
)
NEAR_MISSES = (
    "the general hospital was full",
    "diffusion weighted imaging",
    "Cardiac Imaging was normal",
    "private clinic and day hospital",
    "st elevation in lead II",
    "magnetic resonance imaging",
    "works at night in a foundry",
    "FIELD HOSPITAL AND DAY WARD",
    "lives near family",
)

_KIND_OF_PLACE = (
    r"(?:(?:general|district|university|royal|memorial|community|cottage|teaching|eye|children'?s|primary|secondary|high|medical|health|nursing|care"
    r"|surgical|city|county|private)\s){0,3}"
    r"(?:hospital|hosp|primary|infants|juniors|tech|tyres|hauliers|builders|solicitors|infirmary|hospice|clinic|ward|surgery|cent(?:re|er)|trust|school|college|academy|university|home|imaging|diagnostics"
    r"|laborator(?:y|ies)|labs|pharmacy|ambulance|foundry|brewery|bakery|quarry|mill|mills|farm|dairy|colliery|shipyard|garage|motors|haulage"
    r"|logistics|engineering|textiles|ltd|limited|plc|church|prison|barracks|airport|docks?|police|council)"
)
_HEADED = re.compile(
    rf"(?<![\w.'’-])(?P<name>(?P<own>[^\W\d_]{{4,}})(?:\s[^\W\d_]{{4,}})?\s{_KIND_OF_PLACE})(?!\w)",
    re.IGNORECASE,
)
_SAINT = re.compile(r"(?<![\w.'’-])(?P<name>[Ss][Tt]\.?\s(?P<own>[^\W\d_]{4,}(?:['’][Ss])?))(?!\w)")
_CUED = re.compile(
    r"(?<!\w)(?i:lives?\s(?:in|near|at)|living\sin|born\sin|moved\sto|transferred\s(?:from|to)|t/f\s(?:from|to)|tfr?\s(?:from|to)"
    r"|works?\s(?:for|at|in)|employed\s(?:by|at)|retired\sfrom|back\sto|sent\sto|from)\s(?P<name>(?P<own>[^\W\d_A-Z]{5,}))(?!\w)"
)


def find(text: str) -> Iterator[Span]:
    """Yield the name of the place with the word that tells its kind."""
    from mmbuilder.scrub.keep.lists import load

    lists = load()
    for pattern, confidence in ((_HEADED, 0.8), (_SAINT, 0.75), (_CUED, 0.6)):
        for found in pattern.finditer(text):
            if unlisted(found["own"], lists) or (pattern is _SAINT and _a_saint(found["own"], lists.given)):
                yield Span(*found.span("name"), KIND, LETTER, "[place]", confidence)


def _a_saint(word: str, given: frozenset[str]) -> bool:
    plain = fold(word)
    return plain in given or plain.removesuffix("s") in given
