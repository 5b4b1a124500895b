"""Names in Hindi-English notes, mostly in small letters: `quonlal ji`, `vraxhal sir ne kiya`, `quonsh ko bulaya`.

A form of address behind a word, or what in Hindi only a person does, makes a name of a word that is on no list, and of a name
that is no other word. Hindi words that are names too (`asha`, hope) count before a form of address alone.

Source: 45 CFR 164.514(b)(2)(i)(A), names of patients, relatives and staff; the grammar is common knowledge, no source.
https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.unlisted import unlisted
from mmbuilder.scrub.keep.words import fold
from mmbuilder.scrub.plan import Span
from mmbuilder.scrub.words import word_set

KIND = "name by role"
LETTER = "A"
SOURCE = "45 CFR 164.514(b)(2)(i)(A)"
EXAMPLES = (
    "bed wale quonlal ji ka bp low",
    "vraxhal sir ne operate kiya",
    "quonsh ke saath case kiya",
    "Quonsh ko bulaya tha",
    "quonmal sister blood lene gayi",
    "beta quonresh bahar ro raha hai",
    "quonjali mam ko bola",
    "quonsh ne fluid chadhaya",
)
NEAR_MISSES = (
    "consultant sir ko bola",
    "staff sister ne dekha",
    "patient ko bataya, drain ke saath bheja",
    "dopamine ke saath noradrenaline chalu",
    "surgeon ne clip lagaya, dono ne dekha",
    "relatives ko samjhaya",
    "bade sir aaye, unit ke sir",
    "report sister ko di",
    "mesh ke saath repair",
    "dear sir, yes sir",
    "gharwalon ko samjhaya, Bhaiya ne trolley laayi, Sister incharge ne likha",
    "kidney transplant ke saath",
)

_ONE = r"(?P<name>[^\W\d_]{3,})"
_ADDRESSED = re.compile(
    rf"(?<![\w'’-])(?:dr\.?\s)?{_ONE}\s(?:sir|mam|ma'?am|madam|ji|jee|saab|sahab|saheb|bhai|bhaiya|bhabhi|didi|anna|akka|uncle|aunty|sister|brother)"
    r"(?=\s?[,.;:?!)+&/]|\s?$|\s(?:ne|ko|ka|ki|ke|se|aur|and|ya|bhi|to|hi|wala|wale|wali|bole|boli|bol|kah|aa|gay|gaye|gayi|ka|nahi|on|par|pe|round|blood|said|told|came|is|was|has|w|w/|with|dekh|ro|lene|aake|call)\w*)",
    re.MULTILINE | re.IGNORECASE,
)
_ERGATIVE = re.compile(
    rf"(?<![\w'’-])(?:dr\.?\s)?{_ONE}\s(?:ne\s(?=[^\W\d_])|ke\s(?:saath|sath|paas|pass)(?!\w)|ko\s(?:bol|bula|bata|puch|call|phone|inform|batay|samjha)\w*|se\s(?:puch|baat|discuss|baath)\w*|aa\srah[aei]|bole(?!\w)|boli(?!\w))",
    re.IGNORECASE,
)
_KIN = re.compile(
    rf"(?<![\w'’-])(?:beta|beti|pati|patni|bhai|behen|bahu|damaad|mataji|pitaji|chacha|mama)\s{_ONE}(?=\s(?:bahar|ne|ko|ka|ki|ke|se|ro|aa|hai|bol|keh|gay)\w*|\s?[,.;)]|\s?$)",
    re.MULTILINE | re.IGNORECASE,
)
_MANY = ("wale", "wala", "wali", "walon", "waale", "waalon")
"""How words for those of a place or a kind end: `gharwalon`."""
_OPENING = word_set(
    "dear yes no ok okay thank thanks respected hello good morning evening night welcome incharge bhaiya bhaiyya bhai didi bhabhi uncle aunty anna akka beta beti mataji pitaji"
)
"""Words beside a form of address that name nobody: `dear sir`."""


def find(text: str) -> Iterator[Span]:
    """Yield the name; the form of address stays."""
    for found in _ADDRESSED.finditer(text):
        if _somebody(found["name"], addressed=True):
            yield span(found, KIND, LETTER, "[name]", 0.86, "name")
    for pattern in (_ERGATIVE, _KIN):
        for found in pattern.finditer(text):
            if _somebody(found["name"], addressed=False):
                yield span(found, KIND, LETTER, "[name]", 0.86, "name")


def _somebody(word: str, *, addressed: bool) -> bool:
    lists, plain = load(), fold(word)
    if plain.endswith(_MANY):
        return False
    if (
        plain in _OPENING
        or plain in lists.roles
        or plain in lists.titles
        or plain in lists.eponym_words - lists.given - lists.family
    ):
        return False
    if plain in lists.foreign and not addressed:
        return False
    if lists.plain_abroad(plain) or lists.known(plain):
        return addressed and plain in lists.given and lists.called(plain) is None
    return unlisted(word, lists) or lists.borne(plain)
