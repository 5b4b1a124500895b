"""National Provider Identifiers of the United States: ten figures, the first 1 or 2, check digit by Luhn with 80840.

Source: 69 FR 3434 (23 January 2004); 45 CFR 162.406. Worked example 1234567893.
https://www.ecfr.gov/current/title-45/section-162.406
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.plan import Span

KIND = "licence number"
LETTER = "K"
SOURCE = "45 CFR 162.406; 69 FR 3434"
EXAMPLES = ("NPI 1234567893", "provider 1558598797 billed", "NPI# 1234567890 (mistyped)")
NEAR_MISSES = ("NPI form", "1000000 units", "provider 3 of 4")

_CUED = re.compile(r"(?<!\w)NPI(?:\s?(?:no\.?|number|#|:))?\s{0,2}([12]\d{9})(?!\w)", re.IGNORECASE)
_FORM = re.compile(r"(?<![\w.,/+-])[12]\d{9}(?![\w/-]|[.,]\d)")


def find(text: str) -> Iterator[Span]:
    """Yield numbers after their word, and those by form whose check digit is right."""
    for found in _CUED.finditer(text):
        yield span(found, KIND, LETTER, "[licence number]", 0.97 if checks(found[1]) else 0.9, 1)
    yield from (
        span(found, KIND, LETTER, "[licence number]", 0.92)
        for found in _FORM.finditer(text)
        if checks(found[0])
    )


def checks(number: str) -> bool:
    """Whether the check digit is right."""
    digits = [int(digit) for digit in f"80840{number}"][::-1]
    doubled = (digit if place % 2 == 0 else sum(divmod(2 * digit, 10)) for place, digit in enumerate(digits))
    return sum(doubled) % 10 == 0
