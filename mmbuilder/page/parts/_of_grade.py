"""The parts of a severity grade in a line of the note: its scale and grade as they were given, and of what.

Nothing is graded here: a grade with a question mark beside it, or one of two, is none, and its doubt is told.
"""

from __future__ import annotations

import re

from mmbuilder.page.parts._known import Known
from mmbuilder.page.parts._parted import Parted
from mmbuilder.safe.terms import Scale

NAME = "outcome/grades/complication"

_ROMAN = r"III[ab]|IV[ab]|II|I|V"
_FIGURE = r"[34][ab]|[125]"
_GRADE = re.compile(
    r"[\s,;:(\[–—-]*(?P<before>\?|\b(?:prob(?:ably)?|maybe|perhaps|possibl[ey])\b)?\s*"
    rf"\b(?:CD(?:\s+(?:grade|class))?[\s:=]*(?P<cd>\??\s?(?:{_ROMAN}))"
    rf"|Clavien(?:[\s-]+Dindo)?(?:\s+(?:grade|class))?[\s:=]*(?P<clavien>\??\s?(?:{_ROMAN}|{_FIGURE}))"
    r"|Class-?\s?Intra(?:\s+(?:grade|class))?[\s:=]*(?P<intra>\??\s?(?:IV|V|I{1,3}|[0-5])))(?!\w|\.\d)[)\]]?"
    r"(?P<behind>\s?\(?\?\)?|\s?/\s?\w+\b|\s(?:or|vs?|to)\s(?:\w+ )?(?:[IV]{1,3}|\d)[ab]?\b"
    r"|\W*\b(?:not sure|unsure|tbc)\b)?"
    r"[\s,;:.–—-]*(?:(?:for|of)\s+(?:the\s+)?)?",
    re.IGNORECASE,
)
_TIMED = re.compile(r"\W*~?\d{1,2}[:.]?\d\d\b")
_OF_NOTHING = re.compile(
    r"(?:intra-?op\w*|post-?op\w*|overall|severity|graded?|scored?|is|was|so|i'd say|=|\W)+", re.IGNORECASE
)
"""Words beside a grade that name no complication."""
_FIGURES = {"1": "I", "2": "II", "3": "III", "4": "IV", "5": "V"}


def tells(words: str) -> bool:
    """Whether a line gives a grade, sure or not; one that a time leads is an event."""
    return _TIMED.match(words) is None and _GRADE.search(words) is not None


def parted(words: str, known: Known) -> Parted:
    """Take a grade apart; what is left of the words is the complication."""
    found = [*_GRADE.finditer(words)]
    if not found:
        return Parted(words)
    one, scales = found[0], {_scale(each) for each in found}
    scale = {"scale": scales.pop().value} if len(scales) == 1 else {}
    if len(found) > 1:
        return Parted(words, scale, {"grade": "two are told: put in one here"}, sure=False)
    rest = " ".join(filter(None, (words[: one.start()].strip(), words[one.end() :].strip())))
    thought = _DOUBT.search(rest)
    rest = _closed(_DOUBT.sub("", rest).strip(" ,;:."))
    of = "" if _OF_NOTHING.fullmatch(rest) else rest
    grade = one["cd"] or one["clavien"] or one["intra"]
    if one["before"] or one["behind"] or "?" in grade or thought:
        told = _printed(grade.strip("? "))
        return Parted(of, scale, {"grade": f"{told} is in doubt there: say it once you are sure"}, sure=False)
    return Parted(of, {**scale, "grade": _printed(grade.strip())})


_DOUBT = re.compile(
    rf"\bI think\b|[(\[][^()\[\]]{{0,80}}?\b(?:{_ROMAN})\b[^()\[\]]*(?:[)\]]|$)", re.IGNORECASE
)
"""`I think`, `(IVa for the ITU?? ask)`: another grade, in brackets."""


def _closed(words: str) -> str:
    """Words without the brackets around all of them, and without one that has no other."""
    inner = words[1:-1] if words[:1] == "(" and words[-1:] == ")" else ""
    if inner and not set("()") & set(inner):
        return inner.strip()
    return words if words.count("(") == words.count(")") else words.strip("() ")


def _scale(found: re.Match[str]) -> Scale:
    return Scale.CLASSINTRA if found["intra"] else Scale.CLAVIEN_DINDO


def _printed(grade: str) -> str:
    """A grade as its scale prints it: `3B` is IIIb."""
    number, part = (grade[:-1], grade[-1].lower()) if grade[-1] in "abAB" else (grade, "")
    return _FIGURES.get(number, number.upper()) + part
