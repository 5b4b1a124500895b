"""Numbers of blood and tissue donations (ISBT 128): a letter, facility, year, sequence, flags and check sign.

Source: ISBT 128 Standard, donation identification number (form from memory); a blood unit leads to its donor
and its recipient: 45 CFR 164.514(b)(2)(i)(R). https://www.isbt128.org
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.plan import Span

KIND = "donation number"
LETTER = "R"
SOURCE = "ISBT 128 Standard (form from memory)"
EXAMPLES = (
    "donation number G0123 21 123456 7",
    "unit G012321123456 was given",
    "=G012321123456",
    "unit G0123 25 663 559 2 W",
)
NEAR_MISSES = ("G 12 needle", "unit 3 of red cells", "T10 21 mm")

_FORM = re.compile(
    r"(?<![A-Za-z0-9])=?[A-NP-Z][A-NP-Z0-9]\d{3}\s?\d{2}\s?\d{3}\s?\d{3}(?:\s?\d{1,2})?(?:\s?[A-Z0-9*](?!\w))?(?![\w.]\d|\w)"
)


def find(text: str) -> Iterator[Span]:
    """Yield every number of the form."""
    yield from (span(found, KIND, LETTER, "[donation number]", 0.9) for found in _FORM.finditer(text))
