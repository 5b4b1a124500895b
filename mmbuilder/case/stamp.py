"""One reading of one clock: `0930`, `9.30 pm`, `day 2 06:30`, `2026-03-14T06:30`."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from datetime import date

from pydantic_core import PydanticCustomError

from mmbuilder.case.dates import SHAPES, read_date
from mmbuilder.case.duration import read_seconds
from mmbuilder.case.refuse import refusal

DAY_STEP = 86400
"""Seconds in a day: the step of a time given by the day only."""


@dataclass(frozen=True)
class Stamp:
    """One reading of one clock.

    Attributes:
        seconds: since midnight of its day, or since the start of the recording it names.
        day: Day number, calendar date, or None where the author gave none.
        step: precision in seconds: 1, 60, or 86400 for a day without a time.
        bare: whether it was written in figures alone, such as `0930`; it is the same time.
    """

    seconds: int
    day: int | date | None = field(default=None, repr=False)
    step: int = 60
    bare: bool = field(default=False, compare=False)


_TIME = re.compile(
    r"(?:at )?(?P<h>\d{1,2})"
    r"(?:(?P<sep>[:.h])(?P<m>\d\d)(?::(?P<s>\d\d)(?:[.,]\d+)?)?|(?P<joined>\d\d))?"
    r" ?(?P<half>am|pm|a\.m\.?|p\.m\.?)?(?: ?(?:hrs?|hours|h))?"
)
_NUMBERED = r"(?:(?:post-?op(?:erative)? )?day|pod|d) ?[+-]?\d{1,3}(?![\d:.])|[+-]\d{1,3} ?d(?:ays?)?\b"
_DAYS = tuple(shape.replace(r"\1", "(?P=dash)").replace("([-/.])", "(?P<dash>[-/.])") for shape in SHAPES)
_DAY_THEN_TIME = tuple(
    re.compile(rf"(?P<day>{shape})(?:(?:,? (?:at )?|t)(?P<time>\S.*))?") for shape in (_NUMBERED, *_DAYS)
)
_TIME_THEN_DAY = tuple(
    re.compile(rf"(?P<time>\S.*?),? (?:on )?(?P<day>{shape})") for shape in (_NUMBERED, *_DAYS)
)


def read_stamp(text: str, near_to: date | None = None) -> Stamp | None:
    """Return the reading; None where `text` (already tidied) has no shape of one.

    Args:
        text: day and time, or one of them.
        near_to: as for `read_date`.

    Raises:
        PydanticCustomError: it has the shape of a time or date, and is none or is two.
    """
    for pattern in (*_DAY_THEN_TIME, *_TIME_THEN_DAY):
        match = pattern.fullmatch(text)
        if match and (match["time"] is None or _TIME.fullmatch(_zoneless(match["time"]))):
            return _dated(match["day"], match["time"], near_to)
    return read_time(text)


def _dated(day_text: str, time_text: str | None, near_to: date | None) -> Stamp | None:
    day = _day(day_text, near_to)
    if time_text is None:
        return Stamp(0, day, DAY_STEP)
    time = read_time(_zoneless(time_text, refuse=True))
    return time and replace(time, day=day)


def _day(text: str, near_to: date | None) -> int | date | None:
    if re.fullmatch(_NUMBERED, text):
        number = re.search(r"[+-]?\d+", text.replace("post-op", "postop"))
        assert number is not None
        return int(number[0])
    return read_date(text, near_to)


def _zoneless(text: str, *, refuse: bool = False) -> str:
    """Return the time without its zone; a zone is a second clock, and clocks are declared."""
    plain = re.sub(r" ?(?:z|utc|gmt|[+-]\d\d:?\d\d)$", "", text)
    if refuse and plain != text:
        raise refusal(
            "time-zone",
            "this time names a time zone",
            found="a time with a zone or an offset from universal time",
            expected="the time as the clock showed it",
            why="differences between clocks are declared under clocks; summer time is not reckoned with",
            example="06:30, with the clock's offset under clocks",
        )
    return plain


def read_time(text: str) -> Stamp | None:
    """Return a time of day (already tidied), or None where it has no shape of one.

    Raises:
        PydanticCustomError: no clock shows it.
    """
    if text in ("noon", "midday"):
        return Stamp(43200)
    if text == "midnight":
        raise _midnight()
    match = _TIME.fullmatch(text)
    if match is None or not (match["m"] or match["joined"] or match["half"]):
        return None
    hour, minute = int(match["h"]), int(match["m"] or match["joined"] or 0)
    second = int(match["s"] or 0)
    if match["half"]:
        hour = _half_day(hour, match["half"])
    seconds = hour * 3600 + minute * 60 + second
    if minute > 59 or second > 59 or seconds > DAY_STEP:
        raise _off_the_clock(_quoted(match))
    return Stamp(seconds, None, 1 if match["s"] else 60, bare=bool(match["joined"]))


def _half_day(hour: int, half: str) -> int:
    if not 1 <= hour <= 12:
        raise refusal(
            "time-am-pm",
            "this time mixes the 12-hour and the 24-hour clock",
            found=f"hour {hour} with am or pm",
            expected="1 to 12 with am or pm, or 24-hour time without",
            why="it could be morning or evening",
            example="09:30, or 9.30 pm",
        )
    return hour % 12 + (12 if half.startswith("p") else 0)


def _quoted(match: re.Match[str]) -> str:
    parts = (match["h"], match["m"] or match["joined"], match["s"])
    return ":".join(part for part in parts if part)


def _off_the_clock(quoted: str) -> PydanticCustomError:
    return refusal(
        "time-out-of-range",
        "no clock shows this time",
        found=quoted,
        expected="00:00 to 24:00",
        why="a time that cannot be placed would put the events in a wrong order",
        example="09:30; for time into a recording, video 48:10",
    )


def _midnight() -> PydanticCustomError:
    return refusal(
        "time-ambiguous",
        "midnight belongs to two days",
        found="the word midnight",
        expected="00:00 for the start of a day, 24:00 for its end",
        why="they are a day apart",
        example="day 1 00:00",
    )


def read_elapsed(text: str) -> Stamp | None:
    """Return time into a recording: `0:48:10` (h:min:s), `06:15` (min:s), `48 min 10 s`; else None.

    Raises:
        PydanticCustomError: minutes or seconds run over 59, or a number has no unit.
    """
    match = re.fullmatch(r"(?:at )?(?:(\d{1,2}):)?(\d{1,3}):(\d\d)(?:[.,]\d+)?", text)
    if match:
        hours, minutes, seconds = (int(part or 0) for part in match.groups())
        if seconds > 59 or (match[1] and minutes > 59):
            raise _off_the_counter(text)
        return Stamp(hours * 3600 + minutes * 60 + seconds, None, 1)
    if re.match(r"\d", text) and not re.search(r" - |\d-\d| to |~", text):
        seconds = read_seconds(text)
        return Stamp(seconds, None, 60 if seconds % 60 == 0 and "s" not in text else 1)
    return None


def _off_the_counter(quoted: str) -> PydanticCustomError:
    return refusal(
        "time-out-of-range",
        "no counter shows this time",
        found=quoted,
        expected="hours:minutes:seconds or minutes:seconds into the recording",
        why="a time that cannot be placed would put the events in a wrong order",
        example="video 0:48:10, or file 2 06:15",
    )
