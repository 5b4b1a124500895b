"""Names that a hospital gives to whom nobody knows yet: `Doe, Zulu 7`, `Unknown Falcon`, `Trauma Tango`, `unknown male 4471`.

They stand on the wristband and in every record of that stay, so they lead to it as a name does.

Source: 45 CFR 164.514(b)(2)(i)(A), names, and (R), any other unique identifying code; how aliases are made is common
practice, no source. https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.abbreviations import ABBREVIATIONS
from mmbuilder.scrub.detectors._span import NOT_MEASURED, span
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.words import fold
from mmbuilder.scrub.plan import Span

KIND = "listed name"
LETTER = "A"
SOURCE = "45 CFR 164.514(b)(2)(i)(A)"
EXAMPLES = (
    'pt "Doe, Zulu 7" intubated',
    "Doe, John to theatre",
    "booked as Unknown Falcon",
    "Trauma Tango, 30M, binder on",
    "unknown male 4471",
    "Unbekannt Bravo 2",
    "Jane Doe 12",
)
NEAR_MISSES = (
    "Unknown Allergies",
    "unknown male, 40s",
    "Trauma Team called",
    "Trauma CT done",
    "Unknown Aetiology 2",
    "unknown female 45 years",
    "trauma bravo",
    "Unknown Primary",
)

_SPELLING = r"Alpha|Alfa|Bravo|Charlie|Delta|Echo|Foxtrot|Golf|Hotel|India|Juliett?|Kilo|Lima|Mike|November|Oscar|Papa|Quebec|Romeo|Sierra|Tango|Uniform|Victor|Whisk[e]?y|X-?ray|Yankee|Zulu"
_DOE = re.compile(
    r"(?<!\w)(?:Doe,\s(?P<first>[A-Z][a-z]+)(?:\s\d{1,4})?|(?:John|Jane|Baby)\sDoe(?:\s\d{1,4})?)(?!\w)"
)
_SPELT = re.compile(
    rf"(?<!\w)(?:Trauma|Unknown|Unbekannt|Inconnu|Disaster|Stroke|Code)\s(?:{_SPELLING})(?:\s\d{{1,4}})?(?!\w)"
)
_CALLED = re.compile(
    r"(?<!\w)Unknown\s(?P<name>[A-Z][a-z]{3,})(?=\s?[,.;:)]|\s?$|\s(?:now|later|is|was|to|in)\b)",
    re.MULTILINE,
)
_NUMBERED = re.compile(
    rf"(?<!\w)(?i:unknown\s(?:male|female|man|woman|adult|child)|unidentified\s(?:male|female))\s(?P<name>\d{{3,6}})(?![\w%]|[.,:/-]\d){NOT_MEASURED}"
)


def find(text: str) -> Iterator[Span]:
    """Yield the alias, or its number."""
    for pattern in (_DOE, _SPELT):
        yield from (span(found, KIND, LETTER, "[name]", 0.86) for found in pattern.finditer(text))
    yield from (span(found, KIND, LETTER, "[name]", 0.8, "name") for found in _NUMBERED.finditer(text))
    for found in _CALLED.finditer(text):
        if _no_finding(found["name"]):
            yield span(found, KIND, LETTER, "[name]", 0.86)


def _no_finding(word: str) -> bool:
    """Whether a word tells nothing that may be unknown: an animal or a town, no cause."""
    plain = fold(word)
    return (
        load().called(plain) is None
        and plain.upper() not in ABBREVIATIONS
        and plain not in load().heads
        and not plain.endswith(("ology", "ies", "ary"))
    )
