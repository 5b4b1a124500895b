"""The name somebody is called by, in brackets behind their name: `Mrs Quillorne (Bessie)`, `Vashtern (Jr)`.

Source: 45 CFR 164.514(b)(2)(i)(A), names. https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.abbreviations import ABBREVIATIONS
from mmbuilder.scrub.detectors._person import NAME
from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.words import fold
from mmbuilder.scrub.plan import Span

KIND = "name by role"
LETTER = "A"
SOURCE = "45 CFR 164.514(b)(2)(i)(A)"
EXAMPLES = (
    "together with Mrs Quillorne (Betti).",
    "awake FOI by Dr Vashtern (Kim)",
    "Mr Quillorne “Tommo” Vashtern",
    "Frau Quillorne (Heidi)",
)
NEAR_MISSES = (
    "the surgeon (Consultant)",
    "Dr (on call)",
    "Mr (Theatre 4)",
)

_TITLED = re.compile(
    rf"(?<!\w)(?:Dr|Mrs?|Ms|Miss|Mx|Prof|Sister|Sr|Nurse|Fr|Frau|Herrn?|Hr|Sra?|Srta|Dra|Mme|M)\.?\s{NAME}\s"
    r"[(“\"‘](?P<name>[^\W\d_a-zß-öø-ÿ][^\W\d_A-ZÀ-ÖØ-Þ]+)[)”\"’]"
)


def find(text: str) -> Iterator[Span]:
    """Yield what stands in brackets behind a titled name, if it is a given name or on no list."""
    lists = load()
    for found in _TITLED.finditer(text):
        plain = fold(found["name"])
        word = plain in lists.roles or plain in lists.heads or plain in lists.eponym_words
        unlisted = not (lists.known(plain) or lists.plain_abroad(plain) or found["name"] in ABBREVIATIONS)
        if not word and (unlisted or plain in lists.given):
            yield span(found, KIND, LETTER, "[name]", 0.8, "name")
