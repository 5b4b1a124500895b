"""Medicare card numbers of Australia: ten figures, the first 2 to 6, and a figure for the person.

Source: Services Australia; check by weights 1 3 7 9 1 3 7 9 modulo 10 in place nine (from memory; it only raises
confidence). https://www.servicesaustralia.gov.au/medicare-card
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.plan import Span

KIND = "national number"
LETTER = "G"
SOURCE = "Services Australia (check from memory)"
EXAMPLES = (
    "Medicare number 2123 45670 1",
    "Medicare card: 2123456701/2",
    "2123 45670 1 on file",
    "Medicare 2123 45670 1 ref 2",
)
NEAR_MISSES = ("Medicare rebate 2019", "2000 ml and 3", "Medicare item 42702")

_CUED = re.compile(
    r"(?<!\w)Medicare(?:\s(?:card|no\.?|number|:|#)){0,2}[\s:#]{1,3}([2-6]\d{3}\s?\d{5}\s?\d(?:(?:\s(?:ref|irn)\.?\s|[\s/-])\d)?)(?!\w)",
    re.IGNORECASE,
)
_FORM = re.compile(r"(?<![\w.,/-])[2-6]\d{3} \d{5} \d(?:[/-]\d)?(?![\w.,/-]\d|\w)")


def find(text: str) -> Iterator[Span]:
    """Yield numbers after their word, and spaced ones whose check digit is right."""
    yield from (span(found, KIND, LETTER, "[national number]", 0.95, 1) for found in _CUED.finditer(text))
    yield from (
        span(found, KIND, LETTER, "[national number]", 0.85)
        for found in _FORM.finditer(text)
        if checks(found[0])
    )


def checks(number: str) -> bool:
    """Whether the ninth figure is the check of the first eight."""
    digits = [int(sign) for sign in number if sign.isdigit()]
    return (
        sum(digit * weight for digit, weight in zip(digits, (1, 3, 7, 9, 1, 3, 7, 9), strict=False)) % 10
        == digits[8]
    )
