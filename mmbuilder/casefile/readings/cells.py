"""One cell of a readings file: a time, or a value that may be missing or a device's way to say nothing."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date

from pydantic_core import PydanticCustomError

from mmbuilder.case.refuse import refusal
from mmbuilder.case.stamp import Stamp, read_elapsed, read_stamp
from mmbuilder.case.tidy import tidy

_CLOCK = re.compile(r"(\d\d):([0-5]\d)(?::([0-5]\d)(?:\.\d+)?)?")
_DATED = re.compile(r"(\d{4})-(\d\d)-(\d\d)[ T](\d\d):([0-5]\d)(?::([0-5]\d)(?:\.\d+)?)?")
_NUMBER = re.compile(r"[+-]?\d+(?:\.\d+)?")
_DECIMAL_COMMA = re.compile(r"[+-]?\d+,\d+")
_TWO_WAYS = re.compile(r"[+-]?[1-9]\d{0,2},\d{3}")

_MISSING = re.compile(
    r"[-*.?x/ ]*|n\.?/?a\.?|n/?k|nan|null|none|nil|missing|unrecordable|off|err(?:or)?"
    r"|not (?:done|recorded|measured|available)"
)

SENTINELS = frozenset(
    {
        *(9999.0, 9999.9, 99999.0, 999999.0, 3276.7, 32767.0, 32768.0, 65535.0),
        *(83886.07, 838860.7, 8388607.0, 8388608.0, 16777215.0),
        *(2147483647.0, 2147483648.0, 4294967295.0),
    }
)
"""What devices write when they have no value, with either sign: rows of nines, and the largest
numbers of 16, 24 and 32 bits. Source: two's-complement ranges; that devices use them is common
practice, no source."""


@dataclass(frozen=True)
class Missing:
    """A cell without a value: `sentinel` if the device wrote a number to say so."""

    sentinel: bool = False


def value(cell: str, low: float | None, high: float | None) -> float | Missing | None:
    """Return the number in a cell, `Missing`, or None where it is neither.

    Args:
        cell: as it stands in the file; a decimal comma is understood.
        low: values below are a device's nonsense.
        high: values above, likewise.
    """
    text = cell.strip()
    if _DECIMAL_COMMA.fullmatch(text):
        text = text.replace(",", ".")
    if not _NUMBER.fullmatch(text):
        text = tidy(text)
        if _MISSING.fullmatch(text):
            return Missing()
        if not _NUMBER.fullmatch(text):
            return None
    number = float(text)
    outside = (low is not None and number < low) or (high is not None and number > high)
    return Missing(sentinel=True) if outside or abs(number) in SENTINELS else number


def comma(cell: str) -> bool | None:
    """Return whether the comma in a cell can only be a decimal one; None where there is none in a number."""
    text = cell.strip()
    return _TWO_WAYS.fullmatch(text) is None if _DECIMAL_COMMA.fullmatch(text) else None


def clock_time(cell: str, day_zero: date | None = None) -> Stamp:
    """Return the time in a cell.

    Args:
        cell: as it stands in the file.
        day_zero: the date of Day 0, beside which a year of two figures is read.

    Raises:
        PydanticCustomError: it is not a time, or could be two.
    """
    text = cell.strip()
    if match := _CLOCK.fullmatch(text):
        hours, minutes, seconds = match.groups()
        if int(hours) < 24:
            return _stamp(hours, minutes, seconds, None)
    if match := _DATED.fullmatch(text):
        year, month, day, hours, minutes, seconds = match.groups()
        if int(hours) < 24 and 1 <= int(month) <= 12 and 1 <= int(day) <= 28:
            return _stamp(hours, minutes, seconds, date(int(year), int(month), int(day)))
    stamp = read_stamp(tidy(text), day_zero)
    if stamp is None:
        raise _no_time()
    return stamp


def _stamp(hours: str, minutes: str, seconds: str | None, day: date | None) -> Stamp:
    total = int(hours) * 3600 + int(minutes) * 60 + int(seconds or 0)
    return Stamp(total, day, 60 if seconds is None else 1)


def counter_time(cell: str, unit: int | None) -> float:
    """Return seconds into a recording.

    Args:
        cell: as it stands in the file: `0:48:10`, `06:15` (min:s), or a plain number.
        unit: seconds that a plain number counts, from its heading; None if the heading has no unit.

    Raises:
        PydanticCustomError: it is not a time into a recording.
    """
    text = cell.strip().replace(",", ".")
    if unit is not None and _NUMBER.fullmatch(text):
        return float(text) * unit
    stamp = read_elapsed(tidy(text))
    if stamp is None:
        raise _no_time()
    return stamp.seconds


def counted_unit(heading: str) -> int | None:
    """Return the seconds that plain numbers under a time heading count: `Time (s)`, `t [min]`, else None."""
    match = re.search(r"\b(s|sec|seconds|min|minutes|h|hours)\b\W*$", heading)
    return {"s": 1, "m": 60, "h": 3600}[match[1][0]] if match else None


def _no_time() -> PydanticCustomError:
    return refusal(
        "readings-time",
        "the time column holds something other than times",
        found="a cell that is not a time",
        expected="a time in every row of the time column",
        why="a reading without a time has no place on the chart",
        example="14:20:30, or 2001-02-13 14:20",
    )
