"""The parts of a severity grade in a line of the note: its scale and grade as they were given, and of what.

Nothing is graded here: a grade with a question mark behind it, or one of two, is none.
"""

from __future__ import annotations

import re

from mmbuilder.page.parts._known import Known
from mmbuilder.page.parts._parted import Parted
from mmbuilder.safe.terms import Scale

NAME = "outcome/grades/complication"

_GRADE = re.compile(
    r"[\s,;:(\[–—-]*\b(?:CD|Clavien(?:[\s-]+Dindo)?)(?:\s+(?:grade|class))?[\s:=]*"
    r"(?P<grade>III[ab]|IV[ab]|II|I|V)\b[)\]]?[\s,;:.–—-]*(?:(?:for|of)\s+(?:the\s+)?)?",
    re.IGNORECASE,
)
_PRINTED = {"i": "I", "ii": "II", "iiia": "IIIa", "iiib": "IIIb", "iva": "IVa", "ivb": "IVb", "v": "V"}


def parted(words: str, known: Known) -> Parted:
    """Take a grade apart; what is left of the words is the complication."""
    found = [*_GRADE.finditer(words)]
    if len(found) != 1:
        return Parted(words)
    [one] = found
    rest = " ".join(filter(None, (words[: one.start()].strip(), words[one.end() :].strip())))
    grade = _PRINTED[one["grade"].lower()]
    return Parted(rest.strip(" ,;:."), {"scale": Scale.CLAVIEN_DINDO.value, "grade": grade})
