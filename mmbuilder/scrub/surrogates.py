"""What stands in for a person, place, number or date: one for each, the same everywhere.

Every stand-in comes from the closed lists here, so that it can name nobody, and a saved
plan that holds any other words is refused (`is_stand_in`).
"""

from __future__ import annotations

import re
from bisect import bisect_left
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cache

from mmbuilder import labels
from mmbuilder.case.identifiers import Declared, NumberKind, PersonRole, PlaceKind
from mmbuilder.scrub.words import TITLES

OVER_89 = "90 or older"
"""45 CFR 164.514(b)(2)(i)(C): ages over 89 may be put into one category of age 90 or older."""

MEETING = ("the day of this meeting", "day of this meeting")
"""What is told of a date that is the meeting's; without the article after one of the author's."""

_KINDS_OF_NUMBER = {
    NumberKind.RECORD: "H",
    NumberKind.NATIONAL: "G",
    NumberKind.ACCESSION: "R",
    NumberKind.INCIDENT: "R",
    NumberKind.PHONE: "D",
    NumberKind.SERIAL: "M",
    NumberKind.LOT: "M",
    NumberKind.OTHER: "R",
}


@dataclass(frozen=True)
class Subject:
    """A person, place or thing that was declared.

    Attributes:
        group: its number; one for each, from 1.
        kind: what the report counts it as.
        letter: identifier class.
        stand_in: what is written instead.
        role: the word for it without an article or a letter.
    """

    group: int
    kind: str
    letter: str
    stand_in: str
    role: str


@dataclass(frozen=True)
class Subjects:
    """Everything declared, in the order of `Declared`."""

    people: tuple[Subject, ...]
    places: tuple[Subject, ...]
    numbers: tuple[Subject, ...]
    other: tuple[Subject, ...]


def subjects(declared: Declared) -> Subjects:
    """Number everything declared and give each its stand-in."""
    people = people_words([person.role.value for person in declared.people])
    places = place_words([place.kind for place in declared.places])
    first = 1
    made: list[list[Subject]] = []
    rows: tuple[list[tuple[str, str, str, str]], ...] = (
        [
            ("declared name", "A", word, person.role.value)
            for word, person in zip(people, declared.people, strict=True)
        ],
        [
            ("declared place", "B", word, place.kind.value)
            for word, place in zip(places, declared.places, strict=True)
        ],
        [
            (f"declared {number.kind.value}", _KINDS_OF_NUMBER[number.kind], f"[{number.kind.value}]", "")
            for number in declared.numbers
        ],
        [("declared words", "R", "[removed]", "") for _ in declared.other],
    )
    for row in rows:
        made.append([Subject(first + place, *entry) for place, entry in enumerate(row)])
        first += len(row)
    return Subjects(*map(tuple, made))


def people_words(roles: Sequence[str]) -> list[str]:
    """`the surgeon` where a role has one bearer; `surgeon A`, `surgeon B` where it has several."""
    return _lettered(roles, lambda role: f"the {role}", lambda role, letter: f"{role} {letter}")


def place_words(kinds: Sequence[PlaceKind]) -> list[str]:
    """`Hospital A`, `Hospital B`, `Town A` ..."""
    named = [kind.value.capitalize() for kind in kinds]
    return _lettered(named, lambda kind: f"{kind} A", lambda kind, letter: f"{kind} {letter}")


def _lettered(
    words: Sequence[str], single: Callable[[str], str], several: Callable[[str, str], str]
) -> list[str]:
    count, seen = Counter(words), Counter[str]()
    made = []
    for word in words:
        made.append(single(word) if count[word] == 1 else several(word, _letter(seen[word])))
        seen[word] += 1
    return made


def _letter(place: int) -> str:
    """A, B, ... Z, A2, B2 ..."""
    turn, letter = divmod(place, 26)
    return chr(ord("A") + letter) + (str(turn + 1) if turn else "")


def day_words(days: int) -> str:
    """`Day 3`, `Day −12`."""
    return f"Day {days}".replace("-", "−")


def from_meeting(days: int) -> str:
    """`8 weeks after this meeting`, `3 days before this meeting`."""
    if days == 0:
        return MEETING[0]
    return f"{_length(abs(days))} {'after' if days > 0 else 'before'} this meeting"


def _length(days: int) -> str:
    count, unit = (days // 7, "week") if days % 7 == 0 else (days, "day")
    return f"{count} {unit}" if count == 1 else f"{count} {unit}s"


# --- fitting the words into the sentence -------------------------------------------------------

_SENTENCE = re.compile(r"(?:^|[.!?]\s+|[•]\s*)[\"'“‘(\[]*$")
_DETERMINER = re.compile(
    r"(?<!\w)(?:the|a|an|this|that|our|my|his|her|their|your|another|one)\s+$", re.IGNORECASE
)
_TITLE_BEFORE = re.compile(rf"(?<!\w)(?:(?:{TITLES}|Herrn?|Frau)\s+)+(?:(?:[A-Z]\.?\s*)){{0,3}}$")


@dataclass(frozen=True)
class Fitted:
    """Where the replacement starts and ends, and its words."""

    start: int
    end: int
    words: str


def fit(raw: str, start: int, end: int, words: str, role: str = "") -> Fitted:
    """Fit a stand-in to its sentence: title swallowed, no second article, capital, possessive.

    Behind a profession it stands in brackets, and a genitive goes to the profession:
    `the retina consultant (colleague A)`, `the registrar's (colleague A) note`.

    Args:
        raw: the whole text.
        start: offset of the first character that is replaced.
        end: offset after the last one.
        words: the stand-in.
        role: the word for the person's role, so that "the surgeon Mr X" is not told twice.
    """
    start = _swallow(raw, start, _TITLE_BEFORE)
    if role:
        start, end = _told_once(raw, start, end, role)
    rank = _RANK.search(raw, max(0, start - 40), start) is not None
    noun = rank and _A_ROLE.match(raw, start) is not None
    if words.startswith("the ") and (noun or _DETERMINER.search(raw, max(0, start - 12), start)):
        words = words.removeprefix("the ")
    if raw[end : end + 2] in ("'S", "’S") and not raw[end + 2 : end + 3].isalnum():
        end, words = end + 2, f"{words}{raw[end]}s"
    if end < len(raw) and raw[end] in "'’" and raw[end - 1] in "sS" and not _then_s(raw, end):
        end, words = end + 1, words + raw[end] + "s"
    if _SENTENCE.search(raw, max(0, start - 20), start):
        words = words[:1].upper() + words[1:]
    fitted = _bracketed(raw, start, end, words) if rank and not noun else Fitted(start, end, words)
    return replace(fitted, words=_apart(raw, fitted))


_GLUED_BEFORE, _GLUED_BEHIND = re.compile(r"[^\W\d_ʼ]$"), re.compile(r"[^\W\d_ʼ]{2}")


def _apart(raw: str, fitted: Fitted) -> str:
    """The words, with a space to letters that stood glued to the name: `OpNote the surgeon Final`; an ending stays."""
    before = _GLUED_BEFORE.search(raw, max(0, fitted.start - 1), fitted.start) and fitted.words[:1].isalpha()
    after = _GLUED_BEHIND.match(raw, fitted.end) and fitted.words[-1:].isalpha()
    return f"{' ' * bool(before)}{fitted.words}{' ' * bool(after)}"


def _bracketed(raw: str, start: int, end: int, words: str) -> Fitted:
    """Put somebody who is told behind a profession in brackets, behind the genitive if there is one."""
    if whose := _WHOSE_ENDS.search(words):  # it was taken in with the name
        bare, genitive = words[: whose.start()], whose[0]
    elif whose := _WHOSE_ENDS.match(raw, end):
        bare, genitive, end = words, whose[0], end + len(whose[0])
    else:
        bare, genitive = words, ""
    if not _PERSON.fullmatch(bare) or (not genitive and raw[end : end + 1] in ("'", "’")):
        return Fitted(start, end - len(genitive) if bare == words else end, words)
    if genitive:
        return Fitted(len(raw[:start].rstrip()), end, f"{genitive} ({bare})")
    return Fitted(start, end, f"({bare})")


def _then_s(raw: str, end: int) -> bool:
    return end + 1 < len(raw) and raw[end + 1].isalnum()


def _swallow(raw: str, start: int, before: re.Pattern[str]) -> int:
    found = before.search(raw, max(0, start - 60), start)
    return found.start() if found else start


_ROLE_TOLD = {
    "patient": r"patient|Patient(?:in|en)?",
    "relative": r"relative|(?:grand|step)?(?:son|daughter|mother|father)|wife|husband|partner|brother|sister"
    r"|mum|dad|aunt|uncle|niece|nephew|cousin|Angehörigen?|Sohn|Tochter|Mutter|Vater|Ehemann|Ehefrau|Mann"
    r"|Bruder|Schwester|Partnerin|Tante|Onkel|Nichte|Neffe|Enkelin|Enkel",
    "surgeon": r"surgeon|Chirurg(?:in|en)?|Operateurin|Operateur",
    "assistant": r"assistant|Assistentin|Assistent(?:en)?",
    "anaesthetist": r"ana?esthetist|Anästhesistin|Anästhesist(?:en)?",
    "trainee": r"trainee",
    "nurse": r"nurse|Pflegefachperson|Pflegekraft|Krankenschwester|Pfleger(?:in)?",
    "midwife": r"midwife|Hebamme",
    "technician": r"technician|Technikerin|Techniker",
    "colleague": r"colleague|Kollegin|Kollegen?",
}
"""Words that tell a role beside a name, in the languages we write."""

_A_ROLE = re.compile(rf"(?:{'|'.join(_ROLE_TOLD.values())})(?!\w)", re.IGNORECASE)

_RANK = re.compile(
    r"(?<!\w)(?:consultant|registrar|fellow|resident|intern|specialist|practitioner|trainee|locum|physician|doctor|GP"
    r"|surgeon|an[a]?esthetist|nurse|sister|matron|midwife|technician|perfusionist|radiographer|pharmacist|paramedic"
    r"|\w+ologist|\w+therapist|senior|junior|lead"
    r"|(?:Ober|Chef|Fach|Assistenz)(?:arzt|ärztin)|Ärztin|Arzt)\s+$",
    re.IGNORECASE,
)
"""A profession or grade right before a name, which says more of the person than the stand-in does."""

_WHOSE_ENDS = re.compile(r"['’]s(?!\w)")

_WHOSE = (
    r"(?:the|an?|our|my|his|her|their|der|die|den|dem|des|eine[mnrs]?|ein|unsere[mnrs]?|unser"
    r"|seine[mnrs]?|sein|ihre[mnrs]?|ihr)\s+"
)


def role_told(raw: str, start: int, role: str) -> bool:
    """Whether the author tells a role before a name: `the daughter, Ms X`."""
    return _role_before(raw, _swallow(raw, start, _TITLE_BEFORE), role) is not None


def _role_before(raw: str, start: int, role: str) -> re.Match[str] | None:
    before = re.compile(rf"(?<!\w)(?:{_WHOSE})?(?:{_words_of(role)})(,?)\s+$", re.IGNORECASE)
    return before.search(raw, max(0, start - 60), start)


def _words_of(role: str) -> str:
    return _ROLE_TOLD.get(role, re.escape(role))


def _told_once(raw: str, start: int, end: int, role: str) -> tuple[int, int]:
    """Take in the role where the author tells it beside the name: a stand-in tells it already.

    `the surgeon, Mr X, came`; `with X, her son.` What goes on after the words is left alone.
    """
    if found := _role_before(raw, start, role):
        closing = found[1] and raw[end : end + 2] == ", "
        return found.start(), end + bool(closing)
    if role != "relative":
        return start, end
    after = re.compile(
        rf",\s+{_WHOSE}(?:{_words_of(role)})(?:(?=\s*(?:[.;:!?)]|$))|,?(?=\s(?:there|present|beside|dabei)\b)|(?=,))",
        re.IGNORECASE,
    )
    found = after.match(raw, end)
    return start, found.end() if found else end


# --- what a saved plan may hold ----------------------------------------------------------------

ROLES = tuple(sorted({role.value for role in PersonRole} | {"doctor"}))
PLACES = tuple(sorted(kind.value for kind in PlaceKind))
BRACKETS = tuple(
    [
        "record number",
        "national number",
        "accession number",
        "incident number",
        "phone number",
        "serial number",
        "lot number",
        "number",
        "removed",
        "e-mail address",
        "web address",
        "network address",
        "date",
        "day of the week",
        "postal code",
        "name",
        "user name",
        "account number",
        "licence number",
        "number plate",
        "place",
        "address",
        "employer",
        "bed",
        "health plan number",
        "fax number",
        "vehicle number",
        "device number",
        "donation number",
        "run number",
        "age",
        "time",
        "year",
    ]
)
"""Words of the stand-ins: of a person, of a place, and in brackets of anything else."""

_ROLES, _PLACES, _BRACKETS = map("|".join, (ROLES, PLACES, BRACKETS))
YEARS = ("the same year", "the year before", "the year after")
"""What a report for outside says of a year beside that of Day 0."""
MONTHS = ("the same month", "the month before")
"""What is told of a month that something lasted since: that of Day 0, and the one before it."""
_MOMENT = r"T[+−](?:\d{1,2}:\d\d(?::\d\d)?|\d{1,4} h(?: \d\d)?)"
"""What is told in place of a time of day."""
_OUTSIDE = (
    r" ?in (?:his|her|their) \d0s| ?under 10| ?aged 10 to 19|(?:an? )?\d0(?:-? to |-? bis |-)\d9"
    r"|about \d{1,4} years (?:before|after)|for about \d{1,2} (?:months|years)|" + "|".join((*YEARS, *MONTHS))
)
"""What a report for outside says in place of an exact age and of a year, and every use of a month."""
_LENGTH = r"\d{1,5} (?:day|days|week|weeks)"
_SOMEBODY = rf"(?:the )?(?:{_ROLES})|(?:{_ROLES}) [A-Z]\d*"
_PERSON = re.compile(_SOMEBODY, re.IGNORECASE)
_WORD = re.compile(
    rf"(?:{_SOMEBODY}|(?:['’]s )?\((?:{_SOMEBODY})\)|(?:{_PLACES}) [A-Z]\d*"
    rf"|\[(?:{_BRACKETS})(?: [A-Z]\d*)?\]|\[ZIP \d{{3}}xx\]|Day −?\d{{1,6}}|{re.escape(OVER_89)}(?:, (?:fe)?male)?|(?:the )?day of this meeting"
    rf"|{_LENGTH} (?:after|before) this meeting|within {_LENGTH} of this meeting|{_MOMENT}|{_OUTSIDE})(?:['’]s)?",
    re.IGNORECASE,
)
_NOT_A_NAME = r"(?![\w-])(?!['’ʼ](?!s\b))(?!\s+(?!Day\s[−\d])(?:\d|(?-i:[^\W\d_a-z])))"
"""After the letter of a stand-in: no `O'Drellan`, no surname, no number."""

_NOT_A_DATE = (
    r"(?![\w/])(?!\s*[./:,-]\s*\d)(?!(?:\s+of)?[\s-]+"
    r"(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\b)"
)


def _said(words: Sequence[str]) -> str:
    """Words in every language we write."""
    said = set[str]()
    for language in labels.languages():
        with labels.speaking(language):
            said |= {labels.say(one) for one in words}
    return "|".join(map(re.escape, sorted(said, key=lambda one: (-len(one), one))))


@cache
def _protected() -> re.Pattern[str]:
    bearers = _said((*ROLES, *PLACES))
    no_initial = (
        rf"(?!\.\s*(?!(?:{bearers}) (?-i:[A-Z])\b)[^\W\d_])"  # a dot, unless another stand-in follows it
    )
    brackets = _said([f"[{words}]" for words in BRACKETS])
    days = _said(("Day {day}",)).replace(re.escape("{day}"), r"−?\d{1,6}")
    return re.compile(
        rf"{brackets}|\[(?:{_BRACKETS}) [A-Z]\d*\]|\[ZIP \d{{3}}xx\]"
        rf"|\b(?:{bearers}) (?-i:[A-Z])\d{{0,2}}{no_initial}{_NOT_A_NAME}|\b(?:{days}){_NOT_A_DATE}"
        rf"|{_said((OVER_89,))}",
        re.IGNORECASE,
    )


def is_stand_in(words: str) -> bool:
    """Whether the words are one of our stand-ins."""
    return _WORD.fullmatch(words) is not None


def protected(raw: str) -> list[tuple[int, int]]:
    """Return where stand-ins of an earlier scrubbing are, in any language we write.

    What lies wholly in one is not found again, unless it was declared. A case is raw, so nothing in
    it is taken for a stand-in (`propose`).
    """
    # What we write holds its letter to its word, lest a line ends between them.
    return [found.span() for found in _protected().finditer(raw.replace("\N{NO-BREAK SPACE}", " "))]


def overlaps(start: int, end: int, spans: Sequence[tuple[int, int]]) -> bool:
    """Whether a stretch shares a character with any of `spans`, which are in order and apart."""
    place = bisect_left(spans, (start, end))
    return any(start < last and first < end for first, last in spans[max(0, place - 1) : place + 1])
