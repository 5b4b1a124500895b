"""Clocks that a note compares: how far one is from another, and moments at which it reads two.

The words are common practice, no source; what they say is proposed, for the author to check.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

_TIME = r"(?P<{}>\d{{1,2}}[:.]\d\d(?:[:.]\d\d)?|[012]\d[0-5]\d)(?![\d:])"
_DEVICES = (
    r"clock|monitor|chart|recorder|record|machine|computer|system|printout|tower|stack|pump|board|screen"
)
_NAME = rf"(?!(?:later|then|and|at|but|so|when|while|first|again|now)\b)[a-z][\w-]*(?: (?:{_DEVICES}|time))?"
_CLOCK = (
    rf"(?:the )?(?P<{{0}}>{_NAME})(?P<{{0}}_says> (?:said|says|read|reads|showed|shows|was|is))?"
    r"(?: at)?\s?[=:]? ?"
)
_MOMENT = re.compile(
    rf"\b(?P<when>when )?{_CLOCK.format('one')}{_TIME.format('first')}"
    r"(?P<same>,? (?:when|while|and) |\s?[=,(/]\s?| vs\.? | )"
    rf"{_CLOCK.format('other')}{_TIME.format('second')}",
    re.IGNORECASE,
)
"""`recorder said 14:22 when theatre clock 14:20`, `when wall said 0948 box said 0941`."""
_TIMES_FIRST = re.compile(
    rf"(?<![\d:.]){_TIME.format('first')} (?:(?:on|by|per) )?(?:the )?(?P<one>{_NAME})"
    rf"(?:\s?=\s?| (?:was|is|equals|means) ){_TIME.format('second')} (?:(?:on|by|per) )?(?:the )?"
    rf"(?P<other>{_NAME})\b",
    re.IGNORECASE,
)
"""`10:47 on the monitor = 10:41 on the wall clock`."""
_JOINS = frozenset({"when", "while", "="})
_JOINS_CLOCKS = frozenset({"(", "/", "vs", "vs."})
"""Joins that may stand between other things, too: one of the two has to be called as a clock is."""
_ROOM = r"wall|theatre|room"
_A_CLOCK = re.compile(
    rf"\b(?:{_ROOM}|{_DEVICES}|ctg|ecg|ventilator|bypass|box|c-arm|scope|defib\w*|printer|phone|watch|anaes\w*)\b",
    re.IGNORECASE,
)
"""What has a clock; a list that is 20 min behind has none."""
_PLAIN = frozenset({"clock", "time", "the", "of"})


@dataclass(frozen=True)
class Moment:
    """One moment on two clocks, as a note tells it.

    Attributes:
        words: of the note.
        readings: what each of the two clocks showed, by its name.
    """

    words: str
    readings: tuple[tuple[str, str], tuple[str, str]]

    def on(self, reference: str, clock: str = "") -> tuple[str, str, str] | None:
        """Return the name of the clock beside the reference, what it showed, and what the reference said.

        Args:
            reference: name of the clock that all times are told by.
            clock: the clock that is asked about; any where empty.

        Returns:
            None where not exactly one of the two is the reference, or the other is not the one asked about.
        """
        first, second = self.readings
        ours = [same(name, reference) for name, _ in self.readings]
        if ours[0] == ours[1]:
            return None
        (name, reads), (_, said) = (second, first) if ours[0] else (first, second)
        return (name, reads, said) if not clock or same(name, clock) else None


def moments(text: str) -> Iterator[Moment]:
    """Yield the moments at which a note reads two clocks."""
    found = [one for one in _MOMENT.finditer(text) if _joined(one)] + [*_TIMES_FIRST.finditer(text)]
    for one in sorted(found, key=re.Match.start):
        if one["one"].lower() != one["other"].lower():
            yield Moment(one[0], ((one["one"], one["first"]), (one["other"], one["second"])))


def _joined(found: re.Match[str]) -> bool:
    by = found["same"].strip(" ,").lower()
    clocks = _A_CLOCK.search(found["one"]) or _A_CLOCK.search(found["other"])
    return bool(found["when"] or by in _JOINS or (by in _JOINS_CLOCKS and clocks))


def same(name: str, other: str) -> bool:
    """Whether two names may be of one clock: one has the words of the other."""
    first, second = _told(name), _told(other)
    return bool(first and second) and (first <= second or second <= first)


def _told(name: str) -> frozenset[str]:
    return frozenset(_words(name)) - _PLAIN


def _words(name: str) -> Iterable[str]:
    return re.findall(r"[\w-]+", name.lower())


# How far one clock is from another


@dataclass(frozen=True)
class Compared:
    """What a note says of two clocks; empty where it does not say it, or says two things.

    Attributes:
        reference: the clock that its times are told by.
        other: one that it compares with that.
        offset: what is added to the readings of the other.
    """

    reference: str = ""
    other: str = ""
    offset: str = ""


_NOT_A_NAME = (
    r"(?!(?:the|an?|this|that|which|its|my|our|their|each|both|by|and|but|also|so|fast|slow|right|wrong|other|one"
    r"|same|two|no|any|nb|note|ps|btw|fyi|remember|beware|careful|clock|time|rest"
    r"|is|are|was|were|be)\b)"
)
_OTHER = (
    rf"(?P<other>{_NOT_A_NAME}[a-z]+ "
    r"(?:machine|chart|record|recorder|computer|system|printout|tower|stack|pump|screen)"
    rf"|{_NOT_A_NAME}[a-z]+(?:-[a-z]+)?)(?P<noun> clock| time)?s?"
)
_IS = r"(?: (?:was|is|runs?|ran|reads?|about))*"
_COUNT = r"(?P<count>\d{1,3})\s?(?:min(?:ute)?s?|['’])"
_HOW = r"(?P<how>fast|ahead|slow|behind)\b"
_AGAINST = (
    r"(?:\s*(?:,|vs\.?|versus|than|against|to|of|by)?\s*(?:the )?"
    r"(?:(?P<clock>[a-z]+(?: [a-z]+)?)(?: clock| time)"
    rf"|(?P<device>[a-z]+ (?:monitor|chart|record|machine))|(?P<room>{_ROOM}|ward))\b)?"
)
_SHIFTED = (
    re.compile(rf"\b{_OTHER}{_IS}[ :=]+{_COUNT} {_HOW}{_AGAINST}", re.IGNORECASE),
    re.compile(rf"\b{_OTHER}{_IS}[ :=]+{_HOW}{_AGAINST} ?(?:by )?{_COUNT}", re.IGNORECASE),
)
"""`monitor clock 4 min fast vs theatre clock`, `monitor ahead of the wall by 6 min`."""
_SUM = re.compile(
    rf"\b(?P<one>{_NOT_A_NAME}{_NAME})\s?=\s?(?:the )?(?P<other>{_NOT_A_NAME}{_NAME})"
    rf"\s?(?P<sign>[+−–-])\s?{_COUNT}",
    re.IGNORECASE,
)
"""`monitor = wall + 6 min`."""
_ADDED = re.compile(
    r"\b(?P<do>add|take|subtract|deduct|minus)\s(?:off\s)?(?P<count>\d{1,3})\s?min(?:ute)?s?\s(?:to|off|from|for)\s"
    rf"(?:the\s|all\s|every\s)*{_OTHER}",
    re.IGNORECASE,
)
"""`add 4 min to the monitor times`, `take 6 min off the monitor`."""
_RIGHT = re.compile(
    rf"\b(?P<name>{_NOT_A_NAME}[a-z]+)(?: clock| time)? (?:is|was) (?:the )?"
    r"(?:right|correct|true|accurate|reference)\b",
    re.IGNORECASE,
)
_BY = re.compile(
    r"\btimes?(?: (?:here|below|above|all|in this(?: note)?))*"
    r" (?:(?:are|is|by|per|from|off|on|as|told|given) )+(?:the )?"
    rf"(?P<name>{_NOT_A_NAME}[a-z]+)(?: (?P<noun>clock|time))?\b",
    re.IGNORECASE,
)
"""`times here are wall unless I say monitor`."""
_CALLED = re.compile(rf"\b{_NOT_A_NAME}(?P<name>[a-z]+) clock\b", re.IGNORECASE)
_UNLESS = re.compile(
    rf"\b(?:unless|except)\b[^.;\n]{{0,30}}?(?P<word>\b(?:(?-i:mon)|{_DEVICES})\b)", re.IGNORECASE
)
"""`all times wall unless I say (mon)`."""


_BARE = rf"(?:the )?(?P<name>{_NOT_A_NAME}[a-z][\w-]*(?: (?:wall|{_DEVICES}))?)"
_LETTERS = (
    re.compile(
        r"\btimes? (?:with|marked(?: with| by)?|behind|after|under|beside)(?: an?| the)?"
        r" [\"'“‘(\[]?(?P<letter>(?-i:[A-Z]))\b"
        r"[^\s\w]?(?: (?:before|in front|behind|beside)(?: (?:it|them))?)? ?(?:=|are|is|were|mean|come)s?"
        rf"(?: (?:by|from|off|on|of))? ?{_BARE}",
        re.IGNORECASE,
    ),
    re.compile(rf"(?<![\w.])[(\[\"']?(?P<letter>(?-i:[A-Z]))[)\]\"']? ?= ?{_BARE}", re.IGNORECASE),
    re.compile(rf"\b{_BARE}(?: clock| time)? ?\((?P<letter>(?-i:[A-Z]))\)", re.IGNORECASE),
)
"""`times with T are tower`, `T = tower`, `the rest are wall (W)`."""


def letters(text: str, clocks: Sequence[str]) -> tuple[tuple[str, str], ...]:
    """Return the capitals with which a note marks times by its clocks, each behind the name of the clock.

    One that is said of several clocks, or of something that is no clock, is none.
    """
    said: dict[str, set[str]] = {}
    for found in (one for shape in _LETTERS for one in shape.finditer(text)):
        named = (
            [name for name in clocks if same(name, found["name"])] if _A_CLOCK.search(found["name"]) else []
        )
        said.setdefault(found["letter"], set()).update(named)
    return tuple((names.pop(), letter) for letter, names in said.items() if len(names) == 1)


def other_called(text: str) -> str:
    """Return the word that marks times which are not by the reference of a note; else nothing."""
    words = {found["word"].lower() for found in _UNLESS.finditer(text)} - {"clock"}
    return words.pop() if len(words) == 1 else ""


def compared(text: str) -> Compared:
    """Return what a note says of its clocks."""
    shifts = [*_shifts(text)]
    others = {other for other, _, _ in shifts}
    if len(others) > 1:
        return Compared()
    named = {clock for _, clock, _ in shifts if clock}
    other = others.pop() if others else ""
    reference = named.pop() if len(named) == 1 else _reference(text, other)
    if not other:
        beside = {one[0] for moment in moments(text) if (one := moment.on(reference))} if reference else set()
        other = beside.pop() if len(beside) == 1 else ""
    if not other:
        return Compared()
    told = {minutes * 60 for _, _, minutes in shifts} | {*_read(text, reference, other)}
    return Compared(reference, _short(other), _offset(told.pop()) if len(told) == 1 else "")


def _shifts(text: str) -> Iterator[tuple[str, str, int]]:
    """Yield each clock that is said to be off, the one it is held against, and the minutes to be added."""
    for found in (one for shape in _SHIFTED for one in shape.finditer(text)):
        fast = found["how"].lower() in ("fast", "ahead")
        by = found["device"] or (f"{said} clock" if (said := found["clock"] or found["room"]) else "")
        if by or found["noun"] or _A_CLOCK.search(found["other"]):
            yield _short(found["other"]), by.lower(), -int(found["count"]) if fast else int(found["count"])
    for found in _SUM.finditer(text):
        more = int(found["count"]) if found["sign"] == "+" else -int(found["count"])
        first, second = found["one"], found["other"]
        ours = [re.search(rf"\b(?:{_ROOM})\b", name, re.IGNORECASE) is not None for name in (first, second)]
        if ours == [True, False]:
            yield _short(second), _as_clock(first), more
        elif _A_CLOCK.search(first) or _A_CLOCK.search(second):
            yield _short(first), _as_clock(second), -more
    for found in _ADDED.finditer(text):
        adds = found["do"].lower() == "add"
        yield _short(found["other"]), "", int(found["count"]) if adds else -int(found["count"])


def _reference(text: str, other: str) -> str:
    """The clock that times are told by: it is said so, or is read beside the other, or alone is named."""
    said = [one["name"] for one in _RIGHT.finditer(text)]
    said += [one["name"] for one in _BY.finditer(text) if one["noun"] or _A_CLOCK.search(one["name"])]
    if not said and other:
        said = [
            name
            for moment in moments(text)
            for (name, _), (beside, _) in (moment.readings, moment.readings[::-1])
            if same(beside, other) and not same(name, other)
        ]
    if not said and not other:
        said = [
            name
            for moment in moments(text)
            for name, _ in moment.readings
            if re.search(rf"\b(?:{_ROOM})\b", name, re.IGNORECASE)
        ]
    said = said or [one["name"] for one in _CALLED.finditer(text)]
    names = {_as_clock(one) for one in said if not (other and same(one, other))}
    return names.pop() if len(names) == 1 else ""


def _read(text: str, reference: str, other: str) -> Iterator[int]:
    """Yield the seconds by which the reference is before the other where both are read."""
    for moment in moments(text):
        if reference and (told := moment.on(reference, other)) is not None:
            yield _seconds(told[2]) - _seconds(told[1])


def _seconds(time: str) -> int:
    figures = re.sub(r"\D", "", time)
    figures = figures.zfill(6 if len(figures) > 4 else 4).ljust(6, "0")
    return int(figures[:2]) * 3600 + int(figures[2:4]) * 60 + int(figures[4:6])


def _offset(seconds: int) -> str:
    minutes, rest = divmod(abs(seconds), 60)
    told = f"{minutes} min" if not rest else f"{minutes} min {rest} s" if minutes else f"{rest} s"
    return f"{'-' if seconds < 0 else ''}{told}"


def _as_clock(name: str) -> str:
    short = _short(name)
    return short if _A_CLOCK.search(short) and not re.fullmatch(_ROOM, short) else f"{short} clock"


def _short(name: str) -> str:
    bare = re.sub(r" (?:clock|time)$", "", name, flags=re.IGNORECASE)
    return bare if bare.isupper() else bare.lower()
