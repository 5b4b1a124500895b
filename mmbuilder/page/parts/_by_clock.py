"""By which clock a time of the note was read: the one that the words beside it name.

The words are common practice, no source.
"""

from __future__ import annotations

import re

from mmbuilder.page.parts._typed import Clocks

UNSURE = "?"
"""Of a time whose clock the line names by a word that no clock of the case has: the author says which."""


def clock_of(text: str, place: tuple[int, int], places: list[tuple[int, int]], clocks: Clocks) -> str:
    """Return the clock whose letter stands beside a time, else the one named right behind it, else nearest.

    One that is named behind it and nearer to another time is that other's: `0402 seen, monitor at 0408`.

    Args:
        text: the line.
        place: where the time stands in it.
        places: the same of every time.
        clocks: of the case.

    Returns:
        Empty where none is named, or it is the reference; `UNSURE` where a device shares its brackets that is
        none of the clocks.
    """
    if letter := _letter_beside(text, place, clocks):
        name = next(name for name, marks in clocks.letters if marks == letter)
        return "" if name == clocks.reference else name
    behind = behind_time(clocks).match(text, place[1])
    named = [
        (_apart(found.span(), place), name)
        for name, shape in telling(clocks).items()
        for found in shape.finditer(text, *(behind.span() if behind else ()))
        if behind or found.end() <= place[0] or _nearest(found.span(), places) == place
    ]
    nearest = min(named, default=(0, ""))
    if clocks.others and (not named or nearest[0] > _BESIDE) and _device_beside(text, place):
        return UNSURE
    return "" if nearest[1] == clocks.reference else nearest[1]


_BESIDE = 2
"""Signs between a time and a clock that shares its brackets."""
_DEVICE = (
    r"(?:(?-i:mon)|monitor|machine|chart|recorder|computer|system|tower|stack|pump|c-arm|vent(?:ilator)?)"
)
_DEVICE_BEFORE = re.compile(
    rf"[(\[]\s*(?:the\s)?{_DEVICE}(?:\s(?:clock|time))?[\s,:]*(?:at\s)?$", re.IGNORECASE
)
_DEVICE_BEHIND = re.compile(
    rf"[\s,:]*(?:(?:by|on|per)\s)?(?:the\s)?{_DEVICE}(?:\s(?:clock|time))?\s*[)\]]", re.IGNORECASE
)
_DEVICE_IN_BRACKETS = re.compile(rf"\s*[(\[]\s*{_DEVICE}(?:\s(?:clock|time))?\s*[)\]]", re.IGNORECASE)
"""`(mon 0936)`, `(0936 monitor)`, `0936 (mon)`."""


def _device_beside(text: str, place: tuple[int, int]) -> bool:
    """Whether a device stands in brackets right beside a time, whatever it is called in the case."""
    start, end = place
    opened = re.search(r"[(\[][^()\[\]]*$", text[:start])
    return bool(
        _DEVICE_BEFORE.search(text[:start])
        or (opened and _DEVICE_BEHIND.match(text, end))
        or _DEVICE_IN_BRACKETS.match(text, end)
    )


def letter_before(clocks: Clocks, clock: str) -> str:
    """Return the shape of the letter that may stand before a time by a clock; empty where it has none."""
    marks = "".join(letter for name, letter in clocks.letters if name == clock)
    return rf"(?-i:(?<![\w.])[{marks}])(?![^\W\d])" if marks else ""


def letter_behind(clocks: Clocks) -> re.Pattern[str]:
    """Return the letter of a clock right behind a time: in brackets, or before a comma or the end."""
    marks = rf"(?P<letter>[{''.join(letter for _, letter in clocks.letters)}])" if clocks.letters else r"(?!)"
    return re.compile(rf"\s?(?:[(\[]{marks}[)\]]|{marks.replace('letter', 'alone')}(?=\s*(?:[,;]|$)))")


def _letter_beside(text: str, place: tuple[int, int], clocks: Clocks) -> str:
    """The letter of a clock right before or behind a time: `T 0846`, `0846 (T)`."""
    shapes = filter(None, (letter_before(clocks, name) for name in clocks.all))
    before = re.search(rf"(?:{'|'.join(shapes) or '(?!)'})[\s:]*[~(]?$", text[: place[0]])
    behind = letter_behind(clocks).match(text, place[1])
    return before[0][0] if before else (behind["letter"] or behind["alone"]) if behind else ""


def _nearest(place: tuple[int, int], others: list[tuple[int, int]]) -> tuple[int, int]:
    return min(others, key=lambda one: _apart(place, one))


def _apart(one: tuple[int, int], other: tuple[int, int]) -> int:
    return max(one[0] - other[1], other[0] - one[1])


# What names a clock

_COMMON = frozenset({"clock", "time", "chart", "record", "machine", "printout"})
"""Last words in the name of a clock that do not tell which it is."""
_PLACE = re.compile(r"ana?es\w*|gas|theatres?|room|ward|recovery|scrub|nurs\w+|surg\w+|odp")
"""Where a clock hangs or who reads it: `0842 in anaes room` names no clock."""


def telling(clocks: Clocks) -> dict[str, re.Pattern[str]]:
    """Return what names each clock in a sentence: its name, or its noun where no other clock has the same.

    A word for a place or a role does so only before a word such as `clock`, or with a time in brackets.
    """
    nouns = {name: _noun(name) for name in clocks.all}
    alone = {noun for noun in nouns.values() if noun and [*nouns.values()].count(noun) == 1}
    shapes = {name: {name.casefold(), noun} if noun in alone else {name} for name, noun in nouns.items()}
    also = {name: {word for of, word in clocks.also if of == name} for name in clocks.all}
    return {name: _any_of(own | also[name]) for name, own in shapes.items()}


def behind_time(clocks: Clocks) -> re.Pattern[str]:
    """Return a clock that is named right behind a time: `(monitor)`, `by the wall clock`, `on the pump`."""
    names = "|".join(shape.pattern for shape in telling(clocks).values()) or r"(?!)"
    return re.compile(
        rf"[\s,(\[]*(?:(?:by|on|from|off|per)\s)?(?:the\s)?(?:{names})(?:\s(?:clock|time)\b)?[)\]]*",
        re.IGNORECASE,
    )


def _any_of(names: set[str]) -> re.Pattern[str]:
    shapes = [_as_clock(name) if _PLACE.fullmatch(name) else re.escape(name) for name in sorted(names)]
    shapes += [_SHORT[name] for name in sorted(names & _SHORT.keys())]
    return re.compile(rf"(?<![\w-])(?:{'|'.join(shapes)})(?![\w-])", re.IGNORECASE)


def _as_clock(place: str) -> str:
    """A word for a place where it can only be its clock: `gas clock`, `0936 (gas)`, `(gas 0936)`."""
    word, time = re.escape(place), r"[\s,:]*~?\d{1,2}[:.]?\d\d\s*[)\]]"
    return (
        rf"(?:{word}\s(?:{'|'.join(sorted(_COMMON))})|(?<=[(\[]){word}(?={time})"
        rf"|(?:(?<=\d\s)|(?<=\d\s\()|(?<=\d\()){word}(?=[)\]]))"
    )


_SHORT = {"monitor": "(?-i:mon)"}
"""How it is written in haste, in small letters: a Monday has a capital."""


def _noun(name: str) -> str:
    """The last word that tells which clock it is: `wall` of the wall clock, `monitor` of another."""
    words = [word for word in re.findall(r"[\w-]{3,}", name.casefold()) if word not in _COMMON]
    return words[-1] if words else ""
