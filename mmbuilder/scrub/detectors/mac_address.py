"""Hardware addresses of network devices: they single out one machine.

Source: IEEE 802-2014 clause 8 (48-bit identifiers, hexadecimal pairs).
https://standards.ieee.org/ieee/802/5726/
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.plan import Span

KIND = "network address"
LETTER = "M"
SOURCE = "IEEE 802-2014 clause 8"
EXAMPLES = (
    "recorder 00:00:5E:00:53:AF lost its link",
    "id 00-00-5e-00-53-01",
    "0000.5e00.5301 on the switch",
    "MAC 00005E0053AF",
)
NEAR_MISSES = ("at 10:12:30 and 10:14:45", "doses 10-20-30-40-50", "1234.5 and 678.9")

_PAIRS = re.compile(r"(?<![\w:-])[0-9A-F]{2}([:-])(?:[0-9A-F]{2}\1){4}[0-9A-F]{2}(?![\w:-])", re.IGNORECASE)
_PLAIN = re.compile(r"(?<!\w)mac(?:\s(?:address|addr|is))?\.?[\s:=]{1,3}([0-9a-f]{12})(?!\w)", re.IGNORECASE)
_DOTS = re.compile(r"(?<![\w.])[0-9a-f]{4}\.[0-9a-f]{4}\.[0-9a-f]{4}(?![\w]|\.\w)", re.IGNORECASE)


def find(text: str) -> Iterator[Span]:
    """Yield every hardware address."""
    for pattern in (_PAIRS, _DOTS):
        yield from (span(found, KIND, LETTER, "[network address]", 0.9) for found in pattern.finditer(text))
    yield from (span(found, KIND, LETTER, "[network address]", 0.9, 1) for found in _PLAIN.finditer(text))
