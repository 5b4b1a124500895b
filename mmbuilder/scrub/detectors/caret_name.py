"""Names with their parts between carets, as headers of pictures and messages print them: `QUENBY^MOIRA^^DR`.

Source: DICOM PS3.5 (2024e) 6.2.1, value representation PN; HL7 Version 2.5, data type XPN (both from memory);
45 CFR 164.514(b)(2)(i)(A). https://dicom.nema.org/medical/dicom/current/output/html/part05.html
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.scrub.detectors._span import span
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.keep.words import fold
from mmbuilder.scrub.plan import Span

KIND = "name"
LETTER = "A"
SOURCE = "DICOM PS3.5, PN; HL7 Version 2.5, XPN (from memory)"
EXAMPLES = (
    "PatientName: QUENBY^MOIRA",
    "(0010,0010) PN [Quenby^Moira^J^Dr]",
    "operator VELLACOTT^T",
    "Patient's Name: YOUNG^MAY",
)
NEAR_MISSES = (
    "10^9/L and 10^-3",
    "CRP^C-reactive protein",
    "HEAD^NECK and CHEST^ROUTINE",
    "x^y",
    "power mm^H",
)

_PART = r"[^\W\d_a-zà-ÿ]['’.\w-]*"
_NAME = re.compile(
    rf"(?<![\w^|&~])(?P<name>{_PART}(?:\s{_PART})?\^{_PART}(?:\^(?:{_PART})?){{0,3}})(?![\w^|])"
)
_CUE = re.compile(r"(?:names?|PN|patient|physician|surgeon|operator|doctor)\W{0,6}$", re.IGNORECASE)


def find(text: str) -> Iterator[Span]:
    """Yield a name behind a word for one, else where a part of it is no ordinary word."""
    if "^" not in text:
        return
    for found in _NAME.finditer(text):
        cued = _CUE.search(text, max(0, found.start() - 20), found.start())
        if cued or _strange(found["name"]):
            yield span(found, KIND, LETTER, "[name]", 0.9, "name")


def _strange(name: str) -> bool:
    words = [word for word in re.split(r"[\W_]+", name) if len(word) > 1]
    return len(words) > 1 and not any(load().known(fold(word)) for word in words)
