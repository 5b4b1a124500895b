r"""Element strings of GS1 (UDI): a string with lot (10), serial (21) or a date (11), (13), (15), (17) goes; the model (01) alone may stay.

Source: GS1 General Specifications, application identifiers 01, 10, 11, 13, 15, 17, 21, 240, 241 (from memory);
check digit of the (01) number modulo 10. https://www.gs1.org/standards/barcodes/application-identifiers
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.plan import Span

KIND = "device number"
LETTER = "M"
SOURCE = "GS1 General Specifications, application identifiers (from memory)"
EXAMPLES = (
    "(01)06291041500213(17)280131(10)LOT77(21)SER991",
    "(21) 21094477013 on the box",
    "]C1010629104150021317280131" + "10LJ20931",
    "0106291041500213172801311" + "0LJ20931",
)
NEAR_MISSES = (
    "(01) model alone",
    "(10) patients",
    "ref (21) of the list",
    "(01)06291041500213",
    "grade (17)",
)

_PART = re.compile(r"\((1[01357]|21|2[45]\d|37\d\d|91)\)\s?([A-Za-z0-9][A-Za-z0-9/._-]{3,19})(?![A-Za-z0-9])")
_MODEL = re.compile(r"\(01\)\s?\d{14}")
_CHAIN = re.compile(
    r"\(01\)\s?\d{14}(?:\s?\((?:1[01357]|21|2[45]\d|37\d\d|91)\)\s?[A-Za-z0-9][A-Za-z0-9/._-]{0,19})+(?![A-Za-z0-9])"
)
"""The whole string, where lot, serial or a date stands in it: it is scanned and looked up as one."""
_RAW = re.compile(
    r"(?<![A-Za-z0-9])(?:\](?:C1|d2|Q3))?01(\d{14})((?:1[01357]|21)[A-Za-z0-9/._\x1d-]{4,60})(?![A-Za-z0-9])"
)


def find(text: str) -> Iterator[Span]:
    """Yield the values of the elements that single one device out."""
    chained = _MODEL.search(text) is not None
    for found in _CHAIN.finditer(text):
        yield Span(*found.span(), KIND, LETTER, "[device number]", 0.95)
    for found in _PART.finditer(text):
        if chained or any(sign.isdigit() for sign in found[2]):
            yield Span(*found.span(2), KIND, LETTER, "[device number]", 0.95)
    for found in _RAW.finditer(text):
        if _checks(found[1]):
            yield Span(*found.span(2), KIND, LETTER, "[device number]", 0.95)


def _checks(number: str) -> bool:
    """Whether a number of 14 figures has the right check digit: from the right x1, x3, x1 ... to a whole ten."""
    return (
        sum(int(digit) * (1 if place % 2 == 0 else 3) for place, digit in enumerate(reversed(number))) % 10
        == 0
    )
