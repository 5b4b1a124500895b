"""Names behind the German Mr and Mrs, whatever else the name means: `Hr. Schön Zi. 7`, `Fr. Lang`, `Frau Winter`.

German writes every noun with a capital, so that half of its words may be names and half of its names are words; behind
these only a trade is none. `Fr.` is a Friday, too, and a size: there the word must be a name, or on no list.

Source: 45 CFR 164.514(b)(2)(i)(A), names; forms of address are common practice, no source.
https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.abbreviations import ABBREVIATIONS
from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.words import fold
from mmbuilder.scrub.plan import Span

KIND = "titled name"
LETTER = "A"
SOURCE = "45 CFR 164.514(b)(2)(i)(A)"
EXAMPLES = (
    "Hr. Klein ist groß",
    "Fr. Schön Zi. 7 unruhig",
    "AvD Hr. Vraxam gerufen",
    "Frau Winter hat Schmerzen",
    "Herrn Lang verlegt",
    "Hr. und Fr. Vraxam kommen",
)
NEAR_MISSES = (
    "Herr Doktor, Frau Kollegin, Herr Oberarzt",
    "size 14 Fr. Drainage, 12 Fr. Nelaton",
    "die Frau Blutete nicht",
    "Herr Professor und Frau Doktor",
    "HR 120, Fr 24",
)

_NAME = r"(?P<name>[A-ZÄÖÜÁÇÉŞŠŽ][^\W\d_A-Z][^\W\d_]*(?:-[A-ZÄÖÜÇŞ][^\W\d_]+)?)(?!\w)"
_SURE = re.compile(rf"(?<![\w.-])(?:Hr\.|Herrn?|Frau)\s{_NAME}")
_SHORT = re.compile(rf"(?<![\w.-])(?<!\d\s)Fr\.\s{_NAME}")
_ALSO = ("doktor", "professor", "kolleg", "ober", "chef", "stations", "assistenz", "prof", "pfarrer")
"""What opens a trade behind the address."""


def find(text: str) -> Iterator[Span]:
    """Yield the name; `Fr.` goes with it, or it would be read as a Friday."""
    for found in _SURE.finditer(text):
        if not _a_trade(found["name"]) and (_named(found["name"]) or not _does(found["name"])):
            yield span(found, KIND, LETTER, "[name]", 0.9, "name")
    for found in _SHORT.finditer(text):
        if _named(found["name"]) and not _a_trade(found["name"]):
            yield span(found, KIND, LETTER, "[name]", 0.87)


def _a_trade(word: str) -> bool:
    lists, plain = load(), fold(word)
    told = plain in lists.roles or plain in lists.titles or word.upper() in ABBREVIATIONS
    return told or plain.startswith(_ALSO)


def _named(word: str) -> bool:
    """Whether somebody bears the word, or nobody knows it."""
    lists, plain = load(), fold(word)
    if lists.borne(plain) or plain in lists.shared:
        return True
    return not (lists.known(plain) or plain in lists.foreign or lists.ended_abroad(plain))


def _does(word: str) -> bool:
    """Whether it is an ordinary word that a slip gave its capital."""
    return fold(word) in load().foreign and word.endswith(("t", "te", "en", "et"))
