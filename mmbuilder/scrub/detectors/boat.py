"""Names of boats that somebody lives or works on: `narrowboat 'merry lark'`.

Source: 45 CFR 164.514(b)(2)(i)(L), vehicle identifiers; (B), where somebody lives.
https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.plan import Span

KIND = "vehicle number"
LETTER = "L"
SOURCE = "45 CFR 164.514(b)(2)(i)(L), (B)"
EXAMPLES = (
    "lives on narrowboat 'quenby lark'",
    'works on the trawler "Quenby Lass" out of here',
    "off the MV Quenby Star with a crush injury",
)
NEAR_MISSES = (
    "boat shaped abdomen",
    "the ferry was late",
    "MV repair and MV gradient",
    "scaphoid, 'boat' shaped",
    "MV Ring 28",
)

_QUOTED = re.compile(
    r"(?<!\w)(?:narrow\s?boat|house\s?boat|boat|yacht|trawler|barge|ferry|ship|dinghy|lifeboat|tanker)\s(?:called\s|named\s|is\s)?([\"“'‘][^\"”’'\n]{2,30}[\"”’'])",
    re.IGNORECASE,
)
_SHIP = re.compile(
    r"(?<!\w)(?:(?:off|on|from|aboard|by)\s(?:the\s)?(?:MV|HMS|SS|RMS|RFA|FV|MFV|USS)|aboard|crew\sof)\s((?:the\s)?[A-Z][a-z]+(?:\s[A-Z][a-z]+){0,2})(?!\w)"
)


def find(text: str) -> Iterator[Span]:
    """Yield the name."""
    for pattern in (_QUOTED, _SHIP):
        yield from (span(found, KIND, LETTER, "[vehicle number]", 0.8, 1) for found in pattern.finditer(text))
