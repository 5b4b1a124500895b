"""Lengths of time with their units spelled out: `-2 min 15 s`, `90 s`, `1 h 20 min`."""

from __future__ import annotations

import re
from fractions import Fraction

from pydantic_core import PydanticCustomError

from mmbuilder.case.refuse import refusal

_UNITS = {"d": 86400, "h": 3600, "m": 60, "s": 1}
_PART = re.compile(
    r"(\d+(?:[.,]\d+)?) ?(d(?:ays?)?|h(?:ours?|rs?)?|m(?:in(?:ute)?s?)?|s(?:ec(?:ond)?s?)?)\.?"
    r"(?![a-z])(?:,? ?(?:and )?)"
)
_EXAMPLE = "-2 min 15 s"


def read_seconds(text: str) -> int:
    """Return the seconds in a signed length of time (already tidied).

    `fast` and `ahead` make it negative, `slow` and `behind` positive: what is added to a clock to mend it.

    Raises:
        PydanticCustomError: it has no unit, or can be read in two ways.
    """
    match = re.fullmatch(
        r"(?P<sign>[+-]|plus|minus)? ?(?P<size>\d.*?)(?: ?(?P<way>fast|slow|ahead|behind|late|early))?", text
    )
    if match is None or (match["sign"] and match["way"]):
        raise _unread()
    seconds = _size(match["size"])
    return -seconds if match["sign"] in ("-", "minus") or match["way"] in ("fast", "ahead") else seconds


def _size(text: str) -> int:
    if colons := re.fullmatch(r"(\d{1,3}):([0-5]\d):([0-5]\d)", text):
        hours, minutes, seconds = map(int, colons.groups())
        return hours * 3600 + minutes * 60 + seconds
    if re.fullmatch(r"\d{1,3}[:.]\d\d", text):
        raise refusal(
            "duration-ambiguous",
            "this length of time can be read in two ways",
            found="two numbers with a colon: hours and minutes, or minutes and seconds",
            expected="the units spelled out",
            why="one reading is sixty times the other",
            example="1 min 30 s, or 1 h 30 min",
        )
    if re.fullmatch(r"0+", text):
        return 0
    if re.fullmatch(r"\d+(?:[.,]\d+)?", text):
        raise refusal(
            "duration-no-unit",
            "this length of time has no unit",
            found="a number without a unit",
            expected="s, min, h or days behind it",
            why="seconds and minutes look the same without one",
            example=_EXAMPLE,
        )
    return _parts(text)


def _parts(text: str) -> int:
    text = re.sub(r"(\d) ?h(?:rs?)? ?([0-5]\d)$", r"\1 h \2 min", text)
    parts = _PART.findall(text)
    if not parts or _PART.sub("", text):
        raise _unread()
    sizes = [_UNITS[unit[0]] for _, unit in parts]
    total = sum(
        Fraction(number.replace(",", ".")) * size for (number, _), size in zip(parts, sizes, strict=True)
    )
    if sizes != sorted(set(sizes), reverse=True) or total.denominator != 1:
        raise _unread()
    return int(total)


def _unread() -> PydanticCustomError:
    return refusal(
        "duration-not-read",
        "this is not a length of time that can be read",
        found="something other than numbers with their units",
        expected="a number and its unit, largest unit first",
        why="a length of time is never guessed",
        example=_EXAMPLE,
    )
