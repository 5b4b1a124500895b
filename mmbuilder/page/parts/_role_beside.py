"""What the words right beside a name of the note say that somebody is: `(cons anaes)`, `SpR`, `me`, `71M`.

A role counts where it touches the name, or leads its clause: of `X called the anaesthetist` X is none. The
words are common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.page.parts._listed import ASK, kind_told, kinds_told

_NEAR = 24
"""Characters on each side in which a word tells what somebody is."""
_FILLING = (
    r"(?:the|our|a|an|my|his|her|is|was|as|of|by|on[- ]?call|duty|locum|senior|junior|second|2nd"
    r"|lead|op|grade|from|at|cons|consultant|doctor)"
)
_BEHIND = re.compile(rf"\s*,?\s*[(\[=:–-]?\s*(?:{_FILLING}\s+)*", re.IGNORECASE)
"""Between a name and a role behind it; in `Mr X, me assisting` the role is the author's."""
_BEFORE = re.compile(rf"\s*[)\]:=–-]?\s*[(\[]?(?:(?:{_FILLING}|me|i|myself)\s+)*[(\[]?", re.IGNORECASE)
"""Between a role and a name behind it."""
_STOPS = re.compile(r"[,;.:()\[\]\"“”'’?!]")
"""Between a role and a name further on: it is rather somebody else's."""
_ROLES = re.compile(r"[\s/&+-]+")
_NEXT_NAME = re.compile(r"\s*:?\s*(?:(?:Dr|Mr|Mrs|Ms|Miss|Mx|Prof|Sr|Sister)\.?\s+)?[A-Z][a-z]")
"""Behind a role: it belongs to who comes next."""
_OURS = re.compile(r"(?:^|[^\w'’])(?:me|i|myself)\s*(?:(?:was|am)\s+)?[(,:=–-]?\s*$", re.IGNORECASE)
"""Before a name: the author's own."""
_AUTHOR = "people: surgeon"
_RANKED = re.compile(r",?\s*\(?(?:(?:ST|CT|FY|IMT|R)\s?\d|SpR|StR)\b")
_TRAINEE = "people: trainee"
_PATIENT = re.compile(
    r"[\s,(]*(?:\d{1,3}\s?(?:y/?o?\s?|yrs?\s?)?[MF]\b|(?:dob|d\.o\.b|(?:hosp(?:ital)?|unit|pt|patient|chart)\s(?:no|number|num|id)|mrn|nhs|chi)\b"
    r"|[A-Z]{1,3}\d{5,}\b|\d{6,}\b)"
)
"""Right behind a name: an age with its sex, a birth, a number of the hospital are a patient's."""
_SISTER = re.compile(
    r"\b(?:his|her|their|pt(?:['’]?s)?|patient(?:['’]?s)?)\s(?:(?:twin|half|older|elder|younger|big|little)[\s-])?sister\b[\s,:(-]*",
    re.IGNORECASE,
)
"""Whose sister somebody is: kin, where a sister by herself is a nurse."""
_KIN = "people: relative"
_VAGUE = "people: colleague"
_OFFICE = re.compile(
    r"patient\s(?:safety|experience|flow|services|liaison|advice|transport|access)\b", re.IGNORECASE
)
"""An office that is named for patients: who works there is none."""


def role_beside(line: str, whole: int, end: int) -> str:
    """Return what somebody is by the words beside the name; empty where none says it.

    Args:
        line: the line.
        whole: where the name begins, with its title.
        end: where it ends.
    """
    if _PATIENT.match(line, end):
        return "people: patient"
    if any(whole <= found.end() < end for found in _SISTER.finditer(line, 0, end)):  # as a title, too
        return _KIN
    ranked = _RANKED.match(line, end)
    if ranked and not _NEXT_NAME.match(line, ranked.end()):
        return _TRAINEE
    told = [*_touching(line, whole, end)]
    telling = [kind for kind in told if kind != _VAGUE] or told
    if telling:
        return telling[0]
    return _AUTHOR if _OURS.search(line[:whole]) else _leading(line, whole)


def _touching(line: str, whole: int, end: int) -> Iterator[str]:
    """Yield the kinds of the roles that touch a name: those before it, then those behind it."""
    runs = [*_runs(line)]
    for start, stop, kind in runs:
        if stop <= whole and _BEFORE.fullmatch(line, stop, whole) and not _of_another(line, start):
            yield _titled(line, whole, line[start:stop]) or kind
    for start, stop, kind in runs:
        if start >= end and _BEHIND.fullmatch(line, end, start):
            inside = "(" in line[end:start] or "[" in line[end:start]
            if inside or not _NEXT_NAME.match(line, stop):
                yield _titled(line, whole, line[start:stop]) or kind


_CONSULTANT = re.compile(r"cons(?:ultant)?", re.IGNORECASE)
_NO_DOCTOR = re.compile(r"(?:Mr|Mrs|Miss|Ms|Mx)\b")


def _titled(line: str, whole: int, role: str) -> str:
    """What a consultant is who is no doctor by title: a surgeon (custom of the clinic here, no source)."""
    return _AUTHOR if _CONSULTANT.fullmatch(role) and _NO_DOCTOR.match(line, whole) else ""


def _of_another(line: str, start: int) -> bool:
    """Whether a role stands in the bracket of somebody before it: `X (cons), me Y`."""
    return line.count("(", 0, start) > line.count(")", 0, start)


def _runs(line: str) -> Iterator[tuple[int, int, str]]:
    """Yield start, end and kind of each run of words that tell a role: `cons anaes`."""
    told = (one for one in kinds_told(line) if one[2].startswith("people:"))
    words = [one for one in told if not (_a_name(line, one[0]) or _OFFICE.match(line, one[0]))]
    group: list[tuple[int, int, str]] = []
    for one in words:
        if group and not _ROLES.fullmatch(line, group[-1][1], one[0]):
            yield _run(line, group)
            group = []
        group.append(one)
    if group:
        yield _run(line, group)


def _run(line: str, group: list[tuple[int, int, str]]) -> tuple[int, int, str]:
    start, stop = group[0][0], group[-1][1]
    return start, stop, _sure(line, start, stop, kind_told(line[start:stop]))


def _a_name(line: str, start: int) -> bool:
    """Whether `Reg` is rather a name: with a capital, and neither a colon nor a title behind it."""
    return re.match(r"Reg\b(?!\s*:|\s+(?:Dr|Mr|Mrs|Ms|Miss)\b)", line[start:]) is not None


def _sure(line: str, start: int, end: int, kind: str) -> str:
    """What a word tells; `PT` among small letters may be a patient or a physiotherapist: it is asked."""
    return ASK if line[start:end] == "PT" and line != line.upper() else kind


def _leading(line: str, whole: int) -> str:
    """The role that stands before a name in its clause, if it is near."""
    for _, stop, kind in [*_runs(line)][::-1]:
        if stop <= whole and whole - stop <= _NEAR:
            between = line[stop:whole]
            return "" if _STOPS.search(between) or re.search(r"[A-Z]", between) else kind
    return ""
