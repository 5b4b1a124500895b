"""Internet addresses, version 4 and 6.

Source: RFC 791 and RFC 4291 (text forms); addresses for documentation RFC 5737 and RFC 3849.
https://www.rfc-editor.org/rfc/rfc4291
"""

from __future__ import annotations

import ipaddress
import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.detectors._view import view
from mmbuilder.scrub.plan import Span

KIND = "network address"
LETTER = "O"
SOURCE = "RFC 791; RFC 4291 section 2.2"
EXAMPLES = (
    "The console at 192.0.2.44 logged it",
    "sent to 2001:db8::8a2e:370:7334 at night",
    "198.51.100.7/24.",
    "192. 0. 2. 44",
    "192․0․2․44",
)
NEAR_MISSES = (
    "converted to open at 01:12:30 on the video",
    "levels 1.2.3 of the protocol",
    "10.5.300.999",
    "T+00:12:30",
    "ratio 1:1 and 1:10,000",
    "10.0.1.2 level",
    "software version 10.0.1.2",
    "section 2.1.3.4 of the guideline",
    "firmware 3.2.1.10",
)

_V4 = re.compile(r"(?<![\w.])\d{1,3}(?:\.\d{1,3}){3}(?![\w]|\.\d)(?:/\d{1,2}(?!\d)|:\d{2,5}(?!\d))?")
_SPACED = re.compile(r"(?<![\w.])[12]\d\d(?:\.\s\d{1,3}){3}(?![\w]|\.\d)")
_NUMBERED_BEFORE = re.compile(
    r"(?<!\w)(?:version|ver|v|release|build|software|firmware|section|chapter|level|step|rule|item|table|figure|clause)\.?\s*$",
    re.IGNORECASE,
)
_NUMBERED_AFTER = re.compile(
    r"\s(?:level|version|release|build|section|chapter|firmware|software)\b", re.IGNORECASE
)
_V6 = re.compile(r"(?<![\w:.])(?=[0-9a-fA-F:]{0,39}:)[0-9a-fA-F]{0,4}(?::[0-9a-fA-F]{0,4}){2,7}(?![\w:])")


def find(text: str) -> Iterator[Span]:
    """Yield every address that could be one: four numbers up to 255, or a v6 form."""
    text = view(text)
    for pattern in (_V4, _SPACED, _V6):
        for found in pattern.finditer(text):
            if _is_address(
                re.sub(r"(?<=\d):\d+$| ", "", found[0]) if pattern is not _V6 else found[0]
            ) and not _numbered(text, found):
                yield span(found, KIND, LETTER, "[network address]", 0.9)


def _numbered(text: str, found: re.Match[str]) -> bool:
    """Whether words beside it say that it numbers a version or a section."""
    before = _NUMBERED_BEFORE.search(text, max(0, found.start() - 12), found.start())
    return before is not None or _NUMBERED_AFTER.match(text, found.end()) is not None


def _is_address(text: str) -> bool:
    try:
        parsed = ipaddress.ip_address(text.split("/")[0])
    except ValueError:
        return False
    return parsed.version == 4 or len(text) >= 6
