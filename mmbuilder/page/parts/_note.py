"""A pasted note as lines, each with the times that literally stand in it; nothing in it is guessed."""

from __future__ import annotations

import hashlib
import json
import re
import threading
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from functools import cached_property
from itertools import groupby
from pathlib import Path

from pydantic_core import PydanticCustomError

from mmbuilder import atomic
from mmbuilder.case import told_time
from mmbuilder.case.when import parse_when
from mmbuilder.errors import FileRefused
from mmbuilder.page.form.targets import offered
from mmbuilder.page.parts._headed import (
    Headed,
    entries_within,
    headed,
    things,
    without_bullet,
    without_marks,
)
from mmbuilder.page.parts._stated import joined, opens_decision

FILE = "note.json"
MOST = 100_000
"""Characters of a note."""

MOST_LINES = 1000
LOCK = threading.Lock()
"""Around reading, comparing and writing the note."""

_QUOTES = frozenset('"“”‘’')
_AROUND = 4
"""Words on each side of a time that may belong to it: `day 2 after 13:00 and before 14:30`."""


class State(StrEnum):
    """What became of a line."""

    LEFT = "left"
    PULLED = "pulled"
    ASIDE = "set aside"


@dataclass(frozen=True)
class Line:
    """One line or sentence of the note.

    Attributes:
        number: its place, from 1.
        text: as it was pasted.
        key: names it by its words, so that its mark survives an edit elsewhere.
        said: its words without the opening, number or bullet that only says where it belongs.
        under: the line that says where it belongs: that which it is a sentence of, or a heading above.
        heading: whether it is nothing but a heading.
        follows: whether it stands behind another sentence on its line.
    """

    number: int
    text: str
    key: str
    said: str
    under: str
    heading: bool = False
    follows: bool = False


@dataclass(frozen=True)
class Mark:
    """What was done with a line.

    Attributes:
        what: the words that it became, and those that took their place when they were edited.
        where: what the form calls the place where they were put; empty for an event.
    """

    state: State
    what: tuple[str, ...] = ()
    where: str = ""


@dataclass(frozen=True)
class Note:
    """A pasted note.

    Attributes:
        text: as it was pasted.
        called: what kind of note it is, such as "operation note": the source of what is pulled.
        marks: by the key of a line.
    """

    text: str = ""
    called: str = ""
    marks: dict[str, Mark] = field(default_factory=dict)

    @cached_property
    def lines(self) -> tuple[Line, ...]:
        """Its lines and sentences, in order."""
        return tuple(_lines(self.text))

    def mark(self, line: Line) -> Mark:
        """What was done with a line."""
        return self.marks.get(line.key, Mark(State.LEFT))

    def state(self, line: Line) -> State:
        """What became of a line."""
        return self.mark(line).state

    def marked(self, line: Line, mark: Mark) -> Note:
        """Return the note with a line marked; marks of lines that are gone are dropped."""
        return self.all_marked({line.key: mark})

    def all_marked(self, marks: Mapping[str, Mark]) -> Note:
        """Return the note with lines marked, by their keys; marks of lines that are gone are dropped."""
        alive = {line.key for line in self.lines}
        kept = {key: old for key, old in self.marks.items() if key in alive}
        return replace(self, marks={**kept, **marks})


# Kept beside the case


def load(folder: Path) -> Note:
    """Return the note that was kept; an empty one where there is none."""
    try:
        told = json.loads((folder / FILE).read_bytes())
        marks = {
            key: Mark(State(state), (what,) if isinstance(what, str) else tuple(what), where)
            for key, (state, what, where) in told["marks"].items()
        }
        return Note(told["text"], told["called"], marks)
    except FileNotFoundError:
        return Note()
    except (OSError, ValueError, KeyError, TypeError):
        raise FileRefused("the kept note cannot be read; use 'Forget everything' to begin anew") from None


def save(folder: Path, note: Note) -> None:
    """Keep a note; an empty one is taken away."""
    if not note.text.strip():
        (folder / FILE).unlink(missing_ok=True)
        return
    folder.mkdir(exist_ok=True)
    marks = {key: (mark.state.value, mark.what, mark.where) for key, mark in note.marks.items()}
    told = {"text": note.text, "called": note.called, "marks": marks}
    atomic.write(folder / FILE, json.dumps(told, ensure_ascii=False).encode())


def state_of(folder: Path) -> str:
    """Return a hash of the note as it is kept, so that one tab cannot overwrite another's."""
    path = folder / FILE
    return hashlib.sha256(path.read_bytes() if path.is_file() else b"").hexdigest()[:16]


# Lines and sentences

_END = re.compile(r"(?<=[.!?])[\"'”’)]?\s+(?=[\"'“‘(]?(?:[A-Z0-9]|[Dd]ay\s?\d))")
_HEADED = re.compile(r"\W*[A-Za-z][\w' /&-]{0,24}:\s")
"""A line of several things under a word: `Why: not weighed. pad looked dry`."""
_END_HEADED = re.compile(r"(?<=[.!?])[\"'”’)]?\s+(?=[\"'“‘(]?\w)|\s+[/;]\s+(?=at\s+\d)")
_NO_END = re.compile(
    r"(?:^|[\s(])(?:[A-Z]|dr|mr|mrs|ms|mx|prof|st|sr|jr|approx|ca|c|est|e\.g|i\.e|vs|no|nos|fig|pt|pts|hx|dx"
    r"|rx|tx|a\.m|p\.m|min|mins|hrs?|secs?|temp|sat|abdo|inj|tab|cons|reg|resp|prev|prob|poss|w|incl|excl)\.$",
    re.IGNORECASE,
)
"""A full stop that ends a short form, not a sentence (common practice, no source)."""


def pieces(text: str) -> Iterator[str]:
    """Yield the lines of a text, and of a line of several sentences each one."""
    for line in text.splitlines():
        last = 0
        for end in (_END_HEADED if _HEADED.match(line) else _END).finditer(line):
            if not _NO_END.search(line[last : end.start()]):
                yield from _some(line[last : end.start()])
                last = end.end()
        yield from _some(line[last:])


def _some(piece: str) -> Iterator[str]:
    if any(sign.isalnum() for sign in piece):
        yield piece.strip()


_Piece = tuple[str, Headed, int]
"""Of a line: its words, and how many stand before it on the line."""


def _of_line(line: Headed) -> Iterator[_Piece]:
    """Yield the sentences or things of a line; one with an opening of its own begins what is under it."""
    under, place = line.under, 0
    entries = entries_within(line.text) if offered(line.under) and not line.listed else [line.text]
    whole = line.listed or len(entries) > 1
    each = _some(line.text) if line.listed else entries if whole else joined(pieces(line.text))
    if offered(under) is None:
        each = (one for sentence in each for one in _at_their_times(sentence))
    for sentence in each:
        opens = _HEADED.match(sentence) or opens_decision(sentence)
        under = sentence if place and opens and offered(sentence) else under
        target = offered(under)
        several = target is not None and target.lists and not whole
        sentences = target is not None and target.lists == "sentences"
        for one in things(sentence, sentences=sentences) if several else (sentence,):
            yield one, replace(line, under=under), place
            place += 1


def _lines(text: str) -> Iterator[Line]:
    met: dict[str, int] = {}
    number = 0
    each = (piece for line in headed(text) for piece in _of_line(line))
    for under, group in groupby(each, key=lambda piece: piece[1].under):
        target, parted = offered(under), [*group]
        bare = [target.rest(piece) if target else without_bullet(piece) for piece, *_ in parted]
        for said, (piece, line, place) in zip(without_marks(bare) if target else bare, parted, strict=True):
            met[piece] = met.get(piece, 0) + 1
            name = f"{met[piece]} {piece}".encode("utf-8", "surrogatepass")
            key, number = hashlib.sha256(name).hexdigest()[:16], number + 1
            heading = line.heading or (target is not None and target.heads(piece))
            yield Line(number, piece, key, said, under, heading, place > 0)


# Times

_INTO = re.compile(
    r"\b(?:video|recording|film|clip|tape|file|part)(?:\s\d{1,2})?[,:]?\s+(?:at\s+)?~?\d{1,3}:\d\d(?::\d\d)?",
    re.IGNORECASE,
)
"""Time into a recording."""

_NOT_ON = (
    r"(?!(?!ish\b)[\w/%]|[.,:]\d|\s\d{3})"
    r"(?!\s?(?:[kmcµn]?(?:g|l|m|mol|Pa)|cc|units?|iu|mm|cm|mmhg|ml|kg|days?|minutes?|min|hours?|times|x)\b)"
)
"""What stands behind a time is no more of its figures, and no unit."""

_JOINED = re.compile(
    rf"(?<![\w.,/:+−–#£$€-])(?<!\d\s)(?P<all>(?!(?:19|20)\d\d)(?:[01]\d|2[0-3])[0-5]\d){_NOT_ON}",
    re.IGNORECASE,
)
"""`0930`, `1041`: never a year, a volume or a dose."""

_DOTTED = re.compile(
    r"(?:^\W*(?:(?:about|approx\.?|around|ca\.?|c\.|circa)\s)?"
    r"|\b(?:about|approx\.?|around|ca\.|circa|at|by|until|till|since|before|after|from|to)\s|~\s?|(?<![\w.,/:+−–#£$€-])(?=\d\d))"
    rf"(?P<all>(?:[01]?\d|2[0-3])[.:][0-5]\d){_NOT_ON}",
    re.IGNORECASE,
)
"""`9.50` or `9:50` where a note says when, `10.37` anywhere: never an amount."""

_LETTERED = re.compile(rf"^\W*(?-i:[A-Z])(?P<all>(?:[01]\d|2[0-3])[:.]?[0-5]\d){_NOT_ON}", re.IGNORECASE)
"""`T0846 …`: right behind the letter of its clock, which leads a line."""
_AT = rf"(?!(?:19|20)\d\d)~?(?:[01]\d|2[0-3])[:.]?[0-5]\d{_NOT_ON}"
_TIMED = re.compile(rf"{_AT}\s+[^\W\d].*", re.IGNORECASE)
_NEXT_TIMED = re.compile(rf"\s*[;,]\s+(?=(?:and\s|then\s)?{_AT}\s+[^\W\d])", re.IGNORECASE)


def _at_their_times(sentence: str) -> Iterator[str]:
    """Yield what happened at each time that leads a part of a sentence: `1031 she came; 1040 he came`."""
    yield from _NEXT_TIMED.split(sentence) if _TIMED.match(sentence) else [sentence]


_HOURS = re.compile(
    r"(?:^\W*|~\s?|\b(?:at|by|around|about|until|till|from|since)\s)(?P<all>(?:[01]?\d|2[0-3])[.:][0-5]\dh(?:rs?)?)(?!\w)",
    re.IGNORECASE,
)
"""`09.48h`: with the letter of an hour, where a note says when; `took 01.45h` is a length."""
_DATED = re.compile(
    rf"^\W*(?:(?:on|the)\s)*\d{{1,2}}(?:/\d{{1,2}}|st|nd|rd|th),?\s+(?P<all>(?:[01]\d|2[0-3])[0-5]\d|(?:[01]?\d|2[0-3])[:.][0-5]\d){_NOT_ON}",
    re.IGNORECASE,
)
"""`15/11 0610`, `15th 9.20`: behind the day that leads a line."""

_NUMBER_OF = re.compile(
    r"\b(?:bed|bay|room|theatre|ward|bleep|pager|ext(?:ension)?"
    r"|(?<!by )(?<!via )(?<!over )(?<!on the )(?<!over the )(?:tel|phone)"
    r"|no|nr|numbers?|code|case|lot|batch|ref|page"
    r"|model|version|id|hosp|nhs|mrn|datix|serial|pin|size|on|born"
    r"|ebl|loss|lost|urine|uop?|fluids?|volumes?|total|crystalloids?|saline|tv|mv|weight|wt|height|dose|rate"
    r"|ph|hb|wcc|wbc|crp|inr|k|na|lactate|be|glucose|bm|creat(?:inine)?|urea|po2|pco2|pao2|paco2|temp|bmi)[\s.:#=]*$",
    re.IGNORECASE,
)
"""Before figures that name a thing or tell an amount; those of `by phone 1006` tell when (common practice, no
source)."""


def times(text: str, *, dial: bool = False) -> tuple[str, ...]:
    """Return each time that stands in a line, word for word and as far as it reaches.

    Args:
        text: the line.
        dial: whether hours with a dot tell places on a clock face, as those of an eye do.
    """
    anchors = [(told.start, told.end) for told in told_time.find(text, dial=dial)]
    anchors += [match.span() for match in _INTO.finditer(text)]
    bare = [one for shape in (_JOINED, _HOURS, _DATED, _LETTERED) for one in shape.finditer(text)]
    bare += [] if dial else [*_DOTTED.finditer(text)]
    anchors += [match.span("all") for match in bare if not _NUMBER_OF.search(text, 0, match.start("all"))]
    found: list[tuple[int, int]] = []
    for start, end in sorted(anchors):
        if found and start < found[-1][1]:
            continue
        if reach := _reach(text, start, end):
            found.append(reach)
    return tuple(dict.fromkeys(text[start:end] for start, end in found))


def _reach(text: str, start: int, end: int) -> tuple[int, int] | None:
    """Return the longest stretch around an anchor that is read as one time."""
    words = [match.span() for match in re.finditer(r"[^\s,;]+", text)]
    first = sum(stop <= start for _, stop in words)
    last = sum(begin < end for begin, _ in words) - 1
    windows = (
        _trimmed(text, words[left][0], words[right][1])
        for left in range(max(0, first - _AROUND), first + 1)
        for right in range(last, min(len(words), last + _AROUND + 1))
    )
    rates = {match.end() for match in _RATE.finditer(text)}
    not_of_it = rates | {match.end() for match in _NO_HALF.finditer(text)}
    readable = [window for window in windows if window[1] not in not_of_it and _reads(text[slice(*window)])]
    return max(readable, key=lambda window: window[1] - window[0], default=None)


def _trimmed(text: str, start: int, end: int) -> tuple[int, int]:
    """Leave out brackets and stops at the ends, and an `at` or the letter of a clock in front."""
    while start < end and (text[start] in "([@' " or text[start] in _QUOTES):
        start += 1
    while end > start and (text[end - 1] in ".,;:)]'!?" or text[end - 1] in _QUOTES):
        end -= 1
    at = re.compile(r"(?:at|AT|At)\s+|[A-Z](?=\d\d[:.]?\d\d)").match(text, start, end)
    return (at.end() if at else start), end


_RATE = re.compile(r"(?<=\s)hr(?=[\s:=]*\d)", re.IGNORECASE)
"""`0257 HR 108`: a heart rate, where `0930 hr` is an hour."""
_NO_HALF = re.compile(
    r"\d{4}\s(?:[PA]M)(?=\s(?:portals?|bundles?|corner|approach|compartment|capsule|papillary|window)\b)"
    r"|(?<!\d)(?:0\d|1[3-9]|2[0-3])[0-5]\d\s?(?:[Pp]\.?[Mm]|AM)\b"
)
"""`0921 PM portal`, `1410 PM`: a time of 24 hours has no half of the day; the letters are other words."""
_TWO = re.compile(r"\band\b", re.IGNORECASE)
_CLIP = re.compile(r"\d\s+clip", re.IGNORECASE)
"""`10:45 clip on`: a clip that is put on, where `clip 2 0:45` is a recording."""
_ONE = re.compile(r"(?:between|after|before|from|not|no)\b", re.IGNORECASE)


def _reads(words: str) -> bool:
    if set(words) & _QUOTES or _CLIP.search(words) or (_TWO.search(words) and not _ONE.match(words)):
        return False  # "at 14:49 and 14:57" are two times; "between 14:49 and 14:57" is one
    try:
        parse_when(words)
    except PydanticCustomError:
        return False
    return True
