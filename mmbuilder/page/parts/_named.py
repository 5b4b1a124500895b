"""Names, places and numbers on their way to the private list: from a list that is pasted, or from the note.

The note is searched on this computer, in the process that searches the case; what was found is kept in
memory, beside the note it was found in.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from mmbuilder import atomic
from mmbuilder.errors import FileRefused
from mmbuilder.page.ahead import Made
from mmbuilder.page.desk import Desk
from mmbuilder.page.parts import _note as kept
from mmbuilder.page.parts._listed import OTHER, RECORD, kind_told, kinds_told
from mmbuilder.page.parts._note import Note
from mmbuilder.page.parts._role_beside import role_beside
from mmbuilder.scrub.fold import folded, words_of
from mmbuilder.scrub.plan import Layer, Span

APART = "two-people.json"
"""Beside the note: pairs of entries that the author said are two people."""
_AROUND = 40
"""Characters of a line that are shown on each side of a name."""


@dataclass(frozen=True)
class Proposal:
    """Words that seem to name somebody or something, where they stand first.

    Attributes:
        kind: what they seem to be, as the private list has it.
        before, after: the line around them.
        told: whether a word says what they are.
    """

    words: str
    kind: str
    before: str
    after: str
    told: bool = False

    @property
    def around(self) -> tuple[str, str]:
        """The few words on each side that tell what it is: a whole line would be read again at each name."""
        before, after = self.before[-_AROUND:], self.after[:_AROUND]
        if before != self.before:
            before = "… " + before.partition(" ")[2]
        if after != self.after:
            after = after.rpartition(" ")[0] + " …"
        return before, after

    @property
    def named(self) -> bool:
        """Whether it is a name, of somebody or of a place; else it is a number or the like."""
        return _list(self.kind) in ("people", "places")


# A list that is pasted

_MOST_LINES = 500
_PARTED = re.compile(r"\s*(?:[,;:\t]|\s[-–—]\s)\s*")


def read_list(text: str) -> tuple[list[tuple[str, str]], list[str]]:
    """Return words and kind of each line of `name, role`, and what is wrong with other lines."""
    read, wrong = [], []
    lines = [line.strip() for line in text.splitlines()]
    if len(lines) > _MOST_LINES:
        raise FileRefused(f"this list has more than {_MOST_LINES} lines; paste it in parts")
    for number, line in enumerate(lines, 1):
        cuts = [*_PARTED.finditer(line)]
        words, role = (line[: cuts[-1].start()], line[cuts[-1].end() :]) if cuts else (line, "")
        if words and (kind := kind_told(role)):
            read.append((words, kind))
        elif line:
            lacks = "has no role behind a comma" if not role else "has a role that is not known"
            wrong.append(f"line {number} {lacks}")
    return read, wrong


# Names in the note


def proposals(case: Desk, note: Note) -> Made[tuple[Proposal, ...]]:
    """Return what the kept note seems to name; begin the search if nobody has. It never waits."""
    if not note.text.strip():
        return Made(())
    # Of the words alone: marks on lines begin no new search.
    state = hashlib.sha256(note.text.encode("utf-8", "surrogatepass")).hexdigest()
    return case.ahead.begun("names of the note", state, lambda: case.worker.do(in_note, case.aside))


def in_note(aside: Path) -> tuple[Proposal, ...]:
    """Find names, places and numbers in the kept note."""
    from mmbuilder.case.identifiers import Declared
    from mmbuilder.scrub.declared import Index
    from mmbuilder.scrub.propose import in_texts

    lines = [line.text for line in kept.load(aside).lines]
    found = in_texts(lines, Index(Declared()))
    made = [
        _proposal(line, start, end, span.letter, span.stand_in)
        for line, spans in zip(lines, found, strict=True)
        for span in spans
        if span.letter in _LETTERS and _names_somebody(line, span)
        for start, end in _each_person(line, span)
    ]
    made = [_owner_told(one, made) for one in made if not _abbreviates(one, made)]
    initials = {one.words: one for one in reversed([*_initials(lines, made)])}
    return (*_fullest([*made, *_relatives(lines), *_rooms(lines)]), *initials.values())


_CAPITALS = re.compile(r"[A-Z]{2,5}")


def _abbreviates(one: Proposal, others: Sequence[Proposal]) -> bool:
    """Whether capitals are short for a thing: initials of nobody who is named, no role or title before them.

    Common practice, no source. What the search makes of them in the case is asked under "Words".
    """
    from mmbuilder.scrub.variants import announced

    line, behind = f"{one.before}{one.words}{one.after}", one.before.split()[-1:]
    beside = f"{one.before}{one.after}"
    shouted = line == line.upper() and any(map(str.isalpha, beside))
    if not _CAPITALS.fullmatch(one.words) or _list(one.kind) != "people" or shouted:
        return False
    if announced(" ".join([*behind, one.words])) or kinds_told("".join(behind)):
        return False
    named = (re.findall(r"[^\W\d_]+", other.words) for other in others if other is not one)
    return not any("".join(piece[0] for piece in pieces) == one.words for pieces in named)


def _owner_told(one: Proposal, others: Sequence[Proposal]) -> Proposal:
    """A word that is somebody's name with an s behind it is theirs, and no place: `on Gazs phone`."""
    own = (other for other in others if _list(other.kind) == "people" and f"{other.words}s" == one.words)
    whose = next(own, None) if " " not in one.words else None
    return replace(one, kind=whose.kind, told=whose.told) if whose else one


_AND = re.compile(r"\s*(?:&|\+|,|\band)\s*(?=(?:Mr|Mrs|Ms|Miss|Mx|Dr|Prof|Sr|Sister)\b)")


def _each_person(line: str, span: Span) -> Iterator[tuple[int, int]]:
    """Yield where each person of a finding stands: a title behind `&` begins another."""
    start = span.start
    for found in _AND.finditer(line, span.start, span.end) if span.letter == "A" else ():
        yield start, found.start()
        start = found.end()
    yield start, span.end


_RELATIVE = re.compile(
    r"\b(?:husband|wife|partner|son|daughter|mother|father|mum|dad|brother|niece|nephew|carer|friend)\s+"
    r"(?P<name>[A-Z][a-z]{2,})\b"
)
"""`husband Reg`: what may be a word is a name there (common practice, no source)."""


def _relatives(lines: Sequence[str]) -> Iterator[Proposal]:
    for line in lines:
        for found in _RELATIVE.finditer(line):
            start, end = found.span("name")
            yield Proposal(found["name"], "people: relative", line[:start], line[end:])


_ROOM = re.compile(
    r"\b(?:(?P<ward>[Ww]ard\s\d{1,2}[A-Z]?)|(?P<theatre>(?:[Tt]heatre|(?<=\bin\s)Th)\s\d{1,2}))(?![\w:.]?\d|\w)"
)
"""`Ward 9B`, `Theatre 6`, `next door in Th 5` (common practice, no source)."""


def _rooms(lines: Sequence[str]) -> Iterator[Proposal]:
    for line in lines:
        for found in _ROOM.finditer(line):
            kind = f"places: {found.lastgroup}"
            yield Proposal(found[0], kind, line[: found.start()], line[found.end() :], told=True)


_DOUBLE = re.compile(r"\b([^\W\d_])[^\W\d_]+-([^\W\d_])[^\W\d_]+")


def _initials(lines: Sequence[str], people: Sequence[Proposal]) -> Iterator[Proposal]:
    """Yield initials of double names that stand in the note: O-P of somebody Okonjo-Price."""
    kinds: dict[str, str] = {}
    for one in people:
        for found in _DOUBLE.finditer(one.words) if _list(one.kind) == "people" else ():
            kinds.setdefault(f"{found[1]}-{found[2]}", one.kind)
    for line in lines:
        for found in re.finditer(r"(?<![\w-])[A-Z]-[A-Z](?![\w-])", line):
            if kind := kinds.get(found[0]):
                yield Proposal(found[0], kind, line[: found.start()], line[found.end() :])


_LETTERS = {
    **{"A": "people: colleague", "B": "places: place", "D": "numbers: phone number"},
    **{"E": "numbers: phone number", "F": OTHER, "G": "numbers: national number", "N": OTHER},
    **{"H": RECORD, "M": "numbers: serial number", "R": "numbers: number"},
}
"""What a finding is if no word beside it tells more; dates and ages are no names."""
_AUTHOR = "people: surgeon"
_SHORTEST = 2
"""Letters of the longest piece of what can be looked for."""
_THE = re.compile(r"[Tt]he\s+")
_NEAR = 24
"""Characters on each side in which a word tells what somebody is (common practice, no source)."""


def _names_somebody(line: str, span: Span) -> bool:
    """Whether a finding is worth an entry of the private list.

    Words in small letters that the search is in doubt of are asked about under "Words", if they come into
    the case; figures that the clinic writes so are no number of anybody, with words of the clinic round them
    or found by the words beside them alone.
    """
    from mmbuilder.scrub.detectors._quantity import clinical
    from mmbuilder.scrub.judged import ASK as IN_DOUBT
    from mmbuilder.scrub.keep.lists import load
    from mmbuilder.scrub.keep.words import fold as plain

    said = line[span.start : span.end]
    if span.letter == "A" and (_OF_FILES.fullmatch(said) or _of_compound(line, span)):
        return False
    if span.letter == "A":
        return IN_DOUBT not in span.reason or said != said.lower()
    if span.letter != "R":
        return True
    pieces = _PIECE.findall(said)
    figures = [piece for piece in pieces if any(map(str.isdigit, piece))]
    if not all(clinical(one) or sum(map(str.isdigit, one)) < _LEAST_FIGURES for one in figures):
        return True
    words = [plain(piece) for piece in pieces if piece not in figures]
    of_the_clinic = bool(words) and all(len(word) > 1 and load().called(word) for word in words)
    return not of_the_clinic and span.layer is not Layer.MODEL


_OF_FILES = re.compile(r"csv|xlsx?|pdf|docx?|pptx?|jpe?g|png|tiff?|gif|mp4|avi|mov|dicom|dcm", re.IGNORECASE)
"""Kinds of files, which a note names beside a device (common practice, no source)."""
_COMPOUND = re.compile(r":(?!SpR|StR)[A-Z]{2,}(?![\w])")


def _of_compound(line: str, span: Span) -> bool:
    """Whether one or two letters are joined by a colon to capitals: `Er:YAG`."""
    return span.end - span.start <= 2 and _COMPOUND.match(line, span.end) is not None


_PIECE = re.compile(r"[^\W_]+(?:[-/.:][^\W_]+)*")
_LEAST_FIGURES = 4
"""Figures that a number of somebody has at least (common practice, no source)."""
_OF_ANOTHER = re.compile(r"[,;.]")
"""Between a role and a name behind it: the role is rather somebody else's."""
_OWNED = ("'s ", "’s ")
"""Behind a name: what follows is somebody else's."""


_RANK = re.compile(r"(?<=[a-z])\s+(?:(?:ST|CT|FY|IMT|R)\s?\d?|SpR|StR)$")
"""A rank of training behind a name is no part of it: `P Lindqvist ST5` (common practice, no source)."""


def _proposal(line: str, start: int, end: int, letter: str, stand_in: str) -> Proposal:
    from mmbuilder.scrub.variants import announced

    if letter == "B" and _somebody(line, start, end):
        letter = "A"
    elif letter == "A" and not announced(line[start:end]) and _TH_OF.match(line, end):
        letter = "B"
    the = _THE.match(line, start, end)
    whole, start = start, start + announced(line[start:end]) if letter == "A" else the.end() if the else start
    saint = letter == "B" and _SAINT.match(line, start)
    end = start + len(re.sub(r"[.,;:]*$" if saint else r"(?:['’]s)?[.,;:]*$", "", line[start:end]))
    if letter == "A":
        end = start + len(_RANK.sub("", line[start:end]))
        told = role_beside(line, whole, end) or _by_title(f"{line[whole:start]} {stand_in}", "people")
    elif letter == "B" and (before := _before_theatre(line, start, end)):
        end, told = before, "places: hospital"
    else:
        end = start + len(_OF_MEETING.sub("", line[start:end])) if letter == "B" else end
        told = _nearest(line, whole, end, _LETTERS[letter])
        told = told or (RECORD if letter in _OF_A_PATIENT and _HEAD.search(line) else "")
        told = told or _by_title(stand_in, _list(_LETTERS[letter]))
    return Proposal(line[start:end], told or _LETTERS[letter], line[:start], line[end:], told=bool(told))


_SAINT = re.compile(r"(?:St|Saint)\b")
"""`St X's`: the end of the name is no owner's."""
_OF_MEETING = re.compile(r"(?<=\w)\s+(?:MDT|MDM)$")
"""A meeting behind the name of a hospital is no part of it."""
_TH_OF = re.compile(r"(?P<rest>(?:\s+[A-Z][\w'’-]+){0,2}),?\s+(?:(?i:th|thtr|theatres?)|OT|OR)\.?\s*\d")
"""Behind the name of a hospital: what else of it, and the number of a theatre in it, `Th 4`."""
_OF_A_PATIENT = frozenset("GR")
"""A number that no word tells more of is of the record, in the line that tells who the patient is."""
_HEAD = re.compile(r"\b(?:dob|d\.o\.b|pt|patient|\d{1,3}\s?(?:y/?o?\s?)?[MF])\b")


def _before_theatre(line: str, start: int, end: int) -> int:
    """Where the name of a hospital ends that its theatre follows; 0 where none does."""
    if any(kind in ("places: ward", "places: town") for kind in _told_within(line, start, end)):
        return 0
    ends = [end, *(gap.start() for gap in re.finditer(r"\s+", line[start:end]) if gap.start())]
    found = (_TH_OF.match(line, end if at == end else start + at) for at in ends)
    return next((one.end("rest") for one in found if one), 0)


def _told_within(line: str, start: int, end: int) -> Iterator[str]:
    """The kinds that words of a range tell."""
    return (kind for begin, stop, kind in kinds_told(line) if begin < end and stop > start)


def _somebody(line: str, start: int, end: int) -> bool:
    """Whether words that look like a place name somebody: the author, or whom a role touches."""
    if any(_list(kind) == "places" for kind in _told_within(line, start, end)) or _TH_OF.match(line, end):
        return False
    return bool(role_beside(line, start, end))


def _nearest(line: str, whole: int, end: int, usual: str) -> str:
    """What the word nearest to a place or number tells of it; empty where none does."""
    to = end if line.startswith(_OWNED, end) else len(line)
    near = [
        (
            max(whole - stop, begin - end) + _NEAR * bool(_OF_ANOTHER.search(line, stop, whole)),
            _around(line[stop:whole]) or kind,
        )
        for begin, stop, kind in kinds_told(line[:to])
        if _list(kind) == _list(usual) and max(whole - stop, begin - end) <= _NEAR
    ]
    return min(near)[1] if near else ""


def _around(between: str) -> str:
    """What a place is that a word for a part of it stands before: `the unit at X`, `clinic at 11 in X`."""
    joined = between.split()
    return {"at": "places: hospital", "in": "places: town"}.get(joined[-1] if joined else "", "")


def _by_title(words: str, of: str) -> str:
    return next((kind for *_, kind in kinds_told(words) if _list(kind) == of), "")


def _fullest(made: Sequence[Proposal]) -> Iterator[Proposal]:
    """Yield each once, in the order of the note; a part of a name that stands in full is found with it."""
    seen: set[str] = set()
    stands = [(_list(one.kind), one.words) for one in made]
    for one in made:
        alone = len(max(_pieces(one.words), key=len, default="")) < _SHORTEST  # Mr B
        if not alone and folded(one.words) not in seen and not _within(one, stands):
            seen.add(folded(one.words))
            twins = [other for other in made if folded(other.words) == folded(one.words)]
            telling = (twin.kind for twin in twins if twin.told)
            of_place = one.kind == _LETTERS["A"] and _part(one.words, "places", stands)
            yield replace(one, kind=next(telling, _LETTERS["B"] if of_place else one.kind))


def _within(one: Proposal, others: Iterable[tuple[str, str]]) -> bool:
    """Whether a finding is found with another of its list: a part of a name, a form of a place."""
    from mmbuilder.scrub.variants import place

    if _list(one.kind) != "places":
        return _part(one.words, _list(one.kind), others)
    said = words_of(one.words)
    whole = [words for name, words in others if name == "places" and folded(words) != folded(one.words)]
    return any(said == form.words for words in whole for form in place(words))


def _part(words: str, name: str, others: Iterable[tuple[str, str]]) -> bool:
    """Whether words are a part of those of another on a list."""
    pieces = _pieces(words)
    return any(name == other and pieces < _pieces(longer) for other, longer in others)


def _list(kind: str) -> str:
    return kind.partition(": ")[0]


def _pieces(words: str) -> set[str]:
    return set(words_of(words))


def unlisted(
    found: Iterable[Proposal], listed: Sequence[tuple[str, str]], staying: Iterable[str]
) -> list[Proposal]:
    """Return those that are neither on the private list nor decided to stay."""
    known = {folded(words) for words in (*(words for _, words in listed), *staying)}
    return [one for one in found if folded(one.words) not in known and not _within(one, listed)]


# Who are two people


def apart(case: Desk) -> list[str]:
    """Return the pairs of entries that the author said are two people."""
    try:
        told = json.loads((case.aside / APART).read_bytes())
    except FileNotFoundError:
        return []
    except (OSError, ValueError):
        raise FileRefused("what was said of names cannot be read; use 'Forget everything'") from None
    return [str(one) for one in told]


def keep_apart(case: Desk, pair: str) -> None:
    """Keep it in mind that a pair of entries is two people."""
    case.aside.mkdir(exist_ok=True)
    told = json.dumps([*apart(case), pair], ensure_ascii=False)
    atomic.write(case.aside / APART, told.encode())
