"""The name somebody is called by, in brackets behind their name: `Mrs Quillorne (Bessie)`, `Vashtern (Jr)`.

Source: 45 CFR 164.514(b)(2)(i)(A), names. https://www.ecfr.gov/current/title-45/section-164.514
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._called import may_be_called
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
    'Bryn "Tommo" Vashtern, 66',
    "Winnie 'Bea' Quillorne came",
    "3) 'Teddy' Quillorne abscess",
)
NEAR_MISSES = (
    "the surgeon (Consultant)",
    "Dr (on call)",
    "Mr (Theatre 4)",
    'Form "Surgical" Consent',
    'Drain "Robinson" Left',
)

_TITLED = re.compile(
    rf"(?<!\w)(?:Dr|Mrs?|Ms|Miss|Mx|Prof|Sister|Sr|Nurse|Fr|Frau|Herrn?|Hr|Sra?|Srta|Dra|Mme|M)\.?\s{NAME}\s"
    r"[(“\"‘](?P<name>[^\W\d_a-zß-öø-ÿ][^\W\d_A-ZÀ-ÖØ-Þ]+)[)”\"’]"
)
_BETWEEN = re.compile(
    r"(?<![\w.'’-])(?P<name>(?P<first>[^\W\d_a-zß-öø-ÿ][^\W\d_A-ZÀ-ÖØ-Þ]+)\s[“\"‘'](?P<nick>[^\W\d_a-zß-öø-ÿ][^\W\d_A-ZÀ-ÖØ-Þ]+)[”\"’']\s"
    r"(?P<last>[^\W\d_a-zß-öø-ÿ][^\W\d_]+(?:['’-][^\W\d_]+)?))(?![\w-])"
)
"""What somebody is called, between the given name and the family name."""
_FIRST = re.compile(
    r"(?:^|(?<=[\s(/]))(?P<name>[“\"‘'](?P<nick>[^\W\d_a-zß-öø-ÿ][^\W\d_A-ZÀ-ÖØ-Þ]+)[”\"’']\s(?P<last>[^\W\d_a-zß-öø-ÿ][^\W\d_A-ZÀ-ÖØ-Þ]+))(?![\w-])"
)


def find(text: str) -> Iterator[Span]:
    """Yield what stands in brackets behind a titled name, if somebody may be called so and it is no term: `Whipple`."""
    for found in _TITLED.finditer(text):
        if may_be_called(found["name"]) and not _more_a_word(fold(found["name"])):
            yield span(found, KIND, LETTER, "[name]", 0.8, "name")
    for found in _FIRST.finditer(text):
        if fold(found["nick"]) in load().given and may_be_called(found["last"]):
            yield span(found, KIND, LETTER, "[name]", 0.86, "name")
    for found in _BETWEEN.finditer(text):
        if fold(found["first"]) in load().given and may_be_called(found["last"]):
            yield span(found, KIND, LETTER, "[name]", 0.86, "name")


def _more_a_word(plain: str) -> bool:
    """Whether brackets hold what somebody does rather than a name: `Theatre`."""
    lists = load()
    return plain in lists.eponym_words or (plain in lists.word_names and plain not in lists.given)
