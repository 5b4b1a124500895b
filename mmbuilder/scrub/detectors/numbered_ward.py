"""Wards that bear a name and a number: `moved to Quenbark 2`, `NOF in Banksia 2`.

A plant, a bird or a person beside a figure is a ward where a preposition stands before it and the sentence goes on as if it
were a place. What is numbered anywhere (`in Theatre 4`, `on Tier 2`) stays, and so does an eponym with its grade.

Source: 45 CFR 164.514(b)(2)(i)(B), geographic subdivisions; how wards are called is common practice, no source.
https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.abbreviations import ABBREVIATIONS
from mmbuilder.scrub.detectors._span import NOT_MEASURED, span
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.words import fold
from mmbuilder.scrub.plan import Span
from mmbuilder.scrub.words import word_set

KIND = "place"
LETTER = "B"
SOURCE = "45 CFR 164.514(b)(2)(i)(B)"
EXAMPLES = (
    "that NOF in Banksia 2 — she bled",
    "moved to Kestrel 2 from resus",
    "Mrs Quorne in Waratah 4 - PE on CTPA",
    "still on Jacaranda 3, drain out",
)
NEAR_MISSES = (
    "in Theatre 4, on Day 3, to Level 2",
    "from Clavien 3, on Hinchey 3.",
    "in Cohort 2, on Tier 4 with others",
    "in Figure 2, from Chapter 3.",
    "to Recovery 2 for an hour",
    "on Augmentin 3 times",
    "to Bay 4, from Pod 2",
    "on Zerbaxa 3 g for a week",
)

_NAMED = re.compile(
    r"(?<!\w)(?:in|on|to|from|off)\s(?P<name>(?P<word>[^\W\d_a-zß-öø-ÿ][^\W\d_A-ZÀ-ÖØ-Þ]{3,})\s\d{1,2}[A-C]?)"
    r"(?=\s?[,;:)]|\s[-–—]|\.(?:\s|$)|\s?$|\s(?:with|for|from|since|re|who|was|is|and|after|at|yesterday|today|tonight|overnight|please|bed|bleeding|has|had)(?!\w))"
    rf"{NOT_MEASURED}",
    re.MULTILINE,
)
_NUMBERED_ANYWHERE = word_set(
    """
    figure cohort tier bay scenario chapter module lesson factor complement channel robot bus platform gate edition version article annex clause
    office python windows desk pod corridor tower wing pathway query answer priority category plasma protocol guideline appendix schedule
    """
)


def find(text: str) -> Iterator[Span]:
    """Yield the name of the ward with its number."""
    for found in _NAMED.finditer(text):
        if _a_ward(fold(found["word"])):
            yield span(found, KIND, LETTER, "[place]", 0.75, "name")


def _a_ward(plain: str) -> bool:
    """Whether a word is none of the clinic, and nothing that is numbered."""
    lists = load()
    if plain in _NUMBERED_ANYWHERE or plain in lists.months or plain.upper() in ABBREVIATIONS:
        return False
    told = (
        plain in lists.heads or plain in lists.roles or plain in lists.titles or plain in lists.eponym_words
    )
    return not told and lists.called(plain) is None and not lists.plain_abroad(plain)
