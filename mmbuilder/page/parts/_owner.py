"""Who is to do an action, as a line of the note has it: told by role, for a name leaves and a role stays."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from mmbuilder.page.parts._headed import NOBODY
from mmbuilder.page.parts._known import Known
from mmbuilder.page.parts._listed import kind_told


@dataclass(frozen=True)
class Owner:
    """Who owns an action.

    Attributes:
        start, end: where it stands in the words, with the signs around it.
        role: of everybody who is named there; empty where one is not known.
        unknown: the names for which there is no role.
    """

    start: int
    end: int
    role: str
    unknown: str


_SAID = (
    re.compile(r"[\s,;(-]*\bowners?\s*[:=-]?\s+(?P<who>[^,;()]{1,60}?)\s*(?=[,;)]|\.?$)\)?", re.IGNORECASE),
    re.compile(
        r"[\s,;(-]*(?P<who>\b[^,;()]{2,40}?)\s+(?:owns?|owner|to own|(?:to )?leads?|responsible)\b[\s)]*"
        r"(?=[,;]|\.?\s*$)",
        re.IGNORECASE,
    ),
)
_TITLE = r"(?:(?:Dr|Mr|Mrs|Ms|Miss|Mx|Prof|Sr)\.?\s)?"
_PERSON = rf"\s*\(\s*{_TITLE}[A-Z][\w'’-]+(?:\s[A-Z][\w'’-]+){{0,2}}\s*\)"
_BY_ROLE = re.compile(
    rf"(?:[\s,;(-]*\b(?i:owners?\s*[:=-]?)\s+|[,;]\s*|\s[-–—]\s+)(?P<who>[^,;()]{{3,40}}?){_PERSON}"
)
"""`- theatre manager (Ann Fell)`: the role is who owns it, and the name behind it goes."""
_END = r"\s*(?=[,;()]|\s[-–—]\s|\.?$)"
_HELD = re.compile(rf"(?:(?P<open>[(,;])\s*|\s[-–—]\s+)(?P<who>[^(),;\s][^(),;]*?){_END}")
_FIRST = re.compile(r"(?P<who>[^,;()]{2,40}?)\s+(?:to|will|must)\s+(?=[a-z]{2})")
_LEADS = re.compile(r"(?P<who>[^,;():]{2,40}?)(?::|\s[-–—])\s+(?=\S)")
_OFTEN = re.compile(
    r"\s+(?:every \w+|each \w+|daily|weekly|fortnightly|monthly|quarterly|yearly|annually)\.?$"
)


def owner_in(words: str, known: Known) -> Owner | None:
    """Return who is to do it; what is said outright comes first, then what stands last, then who leads.

    Of several, those whose role is known are told, and for the others it is asked. Somebody without a known
    role counts only where nobody has one: `Mr X to bring it to governance (Mrs Y)`.
    """
    asked: Owner | None = None
    for found in _BY_ROLE.finditer(words):
        by_role = _role(found["who"], known)
        if by_role and by_role[0]:
            return Owner(found.start(), found.end(), by_role[0], "")
    for start, end, who in _places(words):
        people = _people(who)
        told = [_role(one, known) for one in people]
        if any(one and one[0] for one in told):  # beside a role, a word with a capital is a name
            told = [
                one or (("", name) if _NAME.fullmatch(name) else None)
                for one, name in zip(told, people, strict=True)
            ]
        if told and None not in told:
            roles = [one[0] for one in told if one]
            unknown = [one[1] for one in told if one and not one[0]]
            owner = Owner(start, end, " and ".join(dict.fromkeys(filter(None, roles))), ", ".join(unknown))
            if owner.role:
                return owner
            asked = asked or owner
    return asked


def _places(words: str) -> Iterator[tuple[int, int, str]]:
    for shape in _SAID:
        for found in shape.finditer(words):
            yield from _shorter(found.start(), found.end(), found["who"], found.start("who"))
    for found in [*_HELD.finditer(words)][::-1]:
        often = _OFTEN.search(found["who"])
        end = found.start("who") + (often.start() if often else len(found["who"]))
        start, close = found.start(), end
        if found["open"] == "(" and words[end : end + 1] == ")":
            close = end + 1
        elif found["open"] == "(":  # others stand in the brackets too
            start += 1
        yield start, close, words[found.start("who") : end]
    for shape in (_FIRST, _LEADS):
        if first := shape.match(words):
            yield first.start(), first.end(), first["who"]


def _shorter(start: int, end: int, who: str, at: int) -> Iterator[tuple[int, int, str]]:
    """The words before `owner`, fewer and fewer of them from the left: `ticket 55, Fen owner`."""
    yield start, end, who
    for gap in re.finditer(r"\s+", who):
        yield at + gap.start(), end, who[gap.end() :]


def _people(who: str) -> list[str]:
    return [one.strip() for one in re.split(r"\s*(?:[+/&]|\band\b|\bwith\b|,)\s*", who) if one.strip()]


_ME = frozenset({"me", "i", "myself"})
_TITLED = re.compile(
    r"(?:dr|mr|mrs|ms|miss|mx|prof|professor|sr|sister|nurse|matron)\b\.?\s+[A-Z][\w'’-]+", re.IGNORECASE
)
_NAME = re.compile(r"[A-Z][a-z'’-]+")
_A_ROLE = re.compile(
    r"(?:[a-z-]+ ){0,3}(?:leads?|leader|team|director|committee|department|board|pharmacy|physics|estates"
    r"|procurement|governance|informatics|microbiology|radiology|sterile services|management)",
    re.IGNORECASE,
)
_VERB = re.compile(
    r"(?:tell|ask|call|inform|remind|train|teach|get|email|give|let|show|send|buy|no|the|a|an|for|to|with|in)\b",
    re.IGNORECASE,
)


_ROLE_AND_NAME = re.compile(
    rf"(?P<role>[a-z][a-z-]*(?: [a-z][a-z-]*){{0,2}}) {_TITLE}[A-Z][\w'’-]+(?: [A-Z][\w'’-]+){{0,2}}"
)
"""`theatre manager Ann Fell`: the role is who owns it."""


def _role(one: str, known: Known) -> tuple[str, str] | None:
    """Return the role of one person and how they were named; None if the words are no person."""
    if NOBODY.fullmatch(one):
        return "", one
    role = known.role_of(one)
    named = None if role else _ROLE_AND_NAME.fullmatch(one)  # listed without a role that says one, too
    if named and kind_told(named["role"]).startswith("people:"):
        return named["role"], one
    if one.casefold() in _ME:
        return known.presenter, one
    if role is not None:
        return role, one
    if _TITLED.fullmatch(one):
        return "", one
    plain = len(one.split()) <= 4 and not _VERB.match(one) and not re.search(r"\d", one)
    return (one, one) if plain and (_A_ROLE.fullmatch(one) or kind_told(one).startswith("people:")) else None
