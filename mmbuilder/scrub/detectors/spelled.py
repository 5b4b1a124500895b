"""Names and numbers spelled out, as in dictated letters: `that's E M E K A`, `number R 6 1 9 9 4 2`, `G-W-E-N double L`.

Source: 45 CFR 164.514(b)(2)(i)(A), names, (R), numbers; that dictated names are spelled is common practice, no source.
https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.plan import Span

KIND = "spelled name"
LETTER = "A"
SOURCE = "45 CFR 164.514(b)(2)(i)(A)"
EXAMPLES = (
    "Mister Quenby, that's Q U E N B Y",
    "patient Orla, O R L A, surname",
    "referred by Gwenllian, G-W-E-N double L I A N",
    "hospital number R 6 1 9 9 4 2, comma",
    "spelled k o f i",
    "surname spelt B-A-double R-I-E",
)
NEAR_MISSES = (
    "vitamins A D E K",
    "A B C D E approach",
    "leads I II III",
    "grades 1 2 3 4 5 6",
    "T N M",
    "A-B-C-D",
    "hepatitis A B C",
    "class A B C D E",
    "scores 6 1 9 9 4 2",
    "A-A-O-x-3",
    "1 2 3 4 5 6 of the steps",
)

_LETTER = r"(?:double[\s-])?[A-Za-z](?![\w'’])"
_ROW = re.compile(rf"(?<![\w'’.-])(?P<row>{_LETTER}(?:[\s-]{_LETTER}){{2,}})(?![\w-])")
_CUE = re.compile(
    r"(?:that['’]?s|that\sis|spelled|spelt|spelling|surname|forename|first\sname|name(?:\sis)?)[\s,:]{1,3}$",
    re.IGNORECASE,
)
_WORD_BEFORE = re.compile(r"([^\W\d_]{3,})(?:,|\.|:|\s-)?\s(?:that['’]?s\s|that\sis\s)?$")
_FIGURES = re.compile(
    r"(?<!\w)(?i:number|no|mrn|nhs|id|hospital\snumber|dob|phone|mobile)(?:\sis)?[\s,:]{1,3}(?P<row>(?:[A-Z]\s)?\d(?:\s\d){4,}(?:\s[A-Z])?)(?!\s?[\w.]\w)"
)
_ROW_LEAST = 4


def find(text: str) -> Iterator[Span]:
    """Yield rows of letters after a cue, or that spell the word before them; figures after the word for a number."""
    for found in _ROW.finditer(text):
        letters = re.findall(r"double|[A-Za-z](?![\w'’])", found["row"])
        cue = _CUE.search(text, max(0, found.start() - 16), found.start())
        word = _WORD_BEFORE.search(text, max(0, found.start() - 40), found.start())
        spells = word is not None and word[1][:3].lower() == "".join(letters)[:3].lower()
        if (cue or spells) and len(letters) >= (_ROW_LEAST if cue else 3):
            yield Span(*found.span("row"), KIND, LETTER, "[name]", 0.8)
    for found in _FIGURES.finditer(text):
        yield Span(*found.span("row"), KIND, LETTER, "[record number]", 0.85)
