"""Times, dates and durations as clinicians write them, read into parts and never guessed."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from typing import Any, Final, TypeVar, final

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from mmbuilder.case.dates import read_date
from mmbuilder.case.duration import read_seconds
from mmbuilder.case.freetext import Path, Scalar
from mmbuilder.case.refuse import refusal
from mmbuilder.case.stamp import DAY_STEP, Stamp, read_elapsed, read_stamp
from mmbuilder.case.tidy import tidy
from mmbuilder.safe.moment import Known

__all__ = ["Day", "Duration", "Stamp", "When", "parse_day", "parse_duration", "parse_when"]

_HALF_DAY: Final = 43200

_UNKNOWN = frozenset(
    {
        *("unknown", "time unknown", "not known", "unclear", "?", "n/k", "nk", "no time"),
        *("not recorded", "time not recorded", "unrecorded", "not noted", "not documented"),
    }
)
_ORDER = frozenset(
    {"order only", "order known", "only the order", "order known, time unknown", "sequence only"}
)
_RECORDING = re.compile(
    r"\b(?:(?P<of>video|recording) )?(?P<kind>video|recording|film|clip|tape|file|part)"
    r"(?: (?P<number>\d{1,2})(?=,? +(?:\d|~|at\b|about|approx|around|before|after|between|from)|,?$))?"
    r"(?![\w:])[,:]?"
)
_ABOUT = re.compile(
    r"(?:~|(?:about|approx(?:imately)?\.?|circa|ca\.?|c\.|around|roughly|estimated|est\.?)(?=[ \d])) ?"
)
_ABOUT_AFTER = re.compile(r" ?(?:\(?approx(?:imately)?\.?\)?|or so|ish)$")
_BEFORE = r"(?:before|by|not after|no later than) (?P<hi>.+?)"
_AFTER = r"(?:after|since|not before|no earlier than) (?P<lo>.+?)"
_AND = r"(?:[,;]|,? and|,? but)? "
_BOUNDS = tuple(
    re.compile(shape) for shape in (_AFTER + _AND + _BEFORE, _BEFORE + _AND + _AFTER, _BEFORE, _AFTER)
)


def _editor_schema() -> dict[str, Any]:
    # Editors see the file as YAML types it: 0930 may be a number there, a date a string.
    return {"type": ["string", "number"]}


class _Read:
    """Gives a value class its way in from the case file."""

    @classmethod
    def __get_pydantic_core_schema__(cls, source: object, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(_READERS[cls])

    @classmethod
    def __get_pydantic_json_schema__(
        cls, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return _editor_schema()


@final
@dataclass(frozen=True)
class When(_Read):
    """A time as given, with how well it is known.

    Attributes:
        first, last: bounds; equal for a single time, None where there is no bound.
        within: the stated tolerance of an "about", in seconds; None where none was stated.
        clock: the clock its words name ("video", "file 2"), or None.
        elapsed: whether `seconds` count from the start of that recording.
        loose: a bound or range was itself said to be about so.
    """

    known: Known
    first: Stamp | None = None
    last: Stamp | None = None
    within: int | None = None
    clock: str | None = None
    elapsed: bool = False
    path: Path = ()
    line: int = 0
    column: int = 0
    loose: bool = False


@final
@dataclass(frozen=True)
class Day(_Read):
    """A calendar date (raw: it never crosses the line)."""

    date: date = field(repr=False)
    path: Path = ()
    line: int = 0
    column: int = 0


@final
@dataclass(frozen=True)
class Duration(_Read):
    """A signed length of time in seconds, such as `-2 min 15 s`."""

    seconds: int
    path: Path = ()
    line: int = 0
    column: int = 0


_T = TypeVar("_T", When, Day, Duration)


def parse_when(text: str) -> When:
    """Read a time in any of the forms clinicians write.

    Raises:
        PydanticCustomError: it is not a time, or could be two; with found, expected, why and example.
    """
    words = tidy(text)
    if words in _UNKNOWN:
        return _placed(When(Known.UNKNOWN), text)
    if words in _ORDER:
        return _placed(When(Known.ORDER_ONLY), text)
    clock, rest = _recording(words)
    if clock:
        return _placed(replace(_span(rest, read_elapsed), clock=clock, elapsed=True), text)
    return _placed(_dated(rest), text)


def parse_day(text: str) -> Day:
    """Read a calendar date.

    Raises:
        PydanticCustomError: it is not a date, or could be two.
    """
    found = read_date(tidy(text))
    if found is None:
        raise refusal(
            "day-not-read",
            "this is not a date that can be read",
            found="something other than day, month and year",
            expected="year-month-day, or the month as a word",
            why="a date is never guessed",
            example="2001-02-13 or 13 February 2001",
        )
    return _placed(Day(found), text)


def parse_duration(text: str) -> Duration:
    """Read a signed length of time with its units.

    Raises:
        PydanticCustomError: it has no unit, or can be read in two ways.
    """
    return _placed(Duration(read_seconds(tidy(text))), text)


def _recording(words: str) -> tuple[str | None, str]:
    """Take the recording's name ("video", "file 2") out of the words; returns it and what is left."""
    names = list(_RECORDING.finditer(words))
    if not names:
        return None, words
    name = " ".join(part for part in (names[0]["kind"], names[0]["number"]) if part)
    rest = " ".join(_RECORDING.sub(" ", words).split())
    return name, re.sub(r"^(?:at|from) |,? (?:on|in|into|of)(?: the)?$", "", rest)


_Reader = Callable[[str], Stamp | None]

_LEADING_DAY = re.compile(
    r"(?P<day>day -?\d{1,3}|\d{4}-\d\d-\d\d|\d{1,2} [a-z]{3,9} \d{4}),? (?P<rest>(?:~|≈|about|approx|around|"
    r"circa|before|after|between|from|by|since|\d).*)"
)


def _dated(words: str) -> When:
    """Read a time; a day in front of it (`day 3 ~14:20`, `day 3 after 13:00`) holds for all of it.

    Raises:
        PydanticCustomError: as for the words as a whole.
    """
    try:
        return _span(words, read_stamp)
    except PydanticCustomError:
        led = _LEADING_DAY.fullmatch(words)
        when = _led(led["day"], led["rest"]) if led else None
        if when is None:
            raise
        return when


def _led(day: str, rest: str) -> When | None:
    try:
        stamp, when = read_stamp(day), _span(rest, read_stamp)
    except PydanticCustomError:
        return None
    if stamp is None or any(end is not None and end.day is not None for end in (when.first, when.last)):
        return None
    first = replace(when.first, day=stamp.day) if when.first is not None else None
    last = replace(when.last, day=stamp.day) if when.last is not None else None
    if first is not None and when.last is not None and when.known is Known.BETWEEN:
        last = _after(first, when.last)
    return replace(when, first=first, last=last)


def _span(words: str, read: _Reader) -> When:
    if match := re.fullmatch(r"(?P<time>.+?) ?± ?(?P<size>.+)", words):
        return _within(match["time"], match["size"], read)
    about, plain = _about(words)
    if (single := read(plain)) is not None:
        return When(Known.ABOUT if about else Known.EXACT, single, single)
    if (bounds := _bounds(plain, read)) is not None:
        return replace(bounds, loose=bounds.loose or about)
    if (ends := _ends(plain, read)) is not None:
        first, last, loose = ends
        return When(Known.BETWEEN, first, _after(first, last), loose=about or loose)
    raise _unread(words)


def _about(words: str) -> tuple[bool, str]:
    plain = _ABOUT_AFTER.sub("", _ABOUT.sub("", words, count=1) if _ABOUT.match(words) else words)
    return plain != words, plain


def _within(words: str, size: str, read: _Reader) -> When:
    single = read(_about(words)[1])
    if single is None:
        raise _unread(words)
    minutes = f"{size} min" if re.fullmatch(r"\d+(?:\.\d+)?", size) else size
    return When(Known.ABOUT, single, single, within=abs(read_seconds(minutes)))


def _bounds(words: str, read: _Reader) -> When | None:
    match = next(filter(None, (shape.fullmatch(words) for shape in _BOUNDS)), None)
    if match is None:
        return None
    sides = match.groupdict()
    (lo, loose_lo), (hi, loose_hi) = (_bound(sides.get(side), read) for side in ("lo", "hi"))
    loose = loose_lo or loose_hi
    if lo is not None and hi is not None:
        return When(Known.BETWEEN, lo, _after(lo, hi), loose=loose)
    return When(Known.BEFORE if lo is None else Known.AFTER, lo, hi, loose=loose)


def _bound(words: str | None, read: _Reader) -> tuple[Stamp | None, bool]:
    if words is None:
        return None, False
    about, plain = _about(words)
    stamp = read(plain)
    if stamp is None:
        raise _unread(words)
    return stamp, about


def _ends(words: str, read: _Reader) -> tuple[Stamp, Stamp, bool] | None:
    """Split a range where both sides can be read: the dash in a date is no range."""
    days = re.fullmatch(r"days? (-?\d{1,3}) ?(?:-|to|and) ?(-?\d{1,3})", words.removeprefix("between "))
    if days and read is read_stamp:
        return Stamp(0, int(days[1]), DAY_STEP), Stamp(0, int(days[2]), DAY_STEP), False
    plain = re.sub(r"^(?:between|from) ", "", words)
    for cut in re.finditer(r" ?(?:-|\.\.) ?| (?:to|until|till|and|or(?: maybe| perhaps| possibly)?) ", plain):
        sides = [_about(side) for side in (plain[: cut.start()], plain[cut.end() :])]
        if not all(side for _, side in sides):
            continue
        first = read(sides[0][1])
        last = read(sides[1][1]) if first is not None else None
        if first is not None and last is not None:
            return first, last, sides[0][0] or sides[1][0]
    return None


def _after(first: Stamp, last: Stamp) -> Stamp:
    """Return the end of a range with its day: that of the start, or the next where midnight lies between.

    Raises:
        PydanticCustomError: the end comes before the start.
    """
    if last.day is None and first.day is not None:
        over = last.seconds < first.seconds
        _forward(first, last)
        day = first.day + timedelta(over) if isinstance(first.day, date) else first.day + over
        return replace(last, day=day)
    _forward(first, last)
    return last


def _forward(first: Stamp, last: Stamp) -> None:
    backwards = first.seconds - last.seconds
    # Without days, over midnight is meant only where that makes the range the shorter one.
    undated = 0 < backwards < _HALF_DAY
    if undated if last.day is None else _days_apart(first, last) * DAY_STEP < backwards:
        raise refusal(
            "time-range-reversed",
            "this range ends before it begins",
            found="an end that is earlier than the start",
            expected="the earlier time first; across midnight, with the day",
            why="the length of a range decides how sure an interval is",
            example="14:15 to 14:20, or day 0 23:50 to day 1 00:10",
        )


def _days_apart(first: Stamp, last: Stamp) -> int:
    if isinstance(first.day, date) and isinstance(last.day, date):
        return (last.day - first.day).days
    if isinstance(first.day, int) and isinstance(last.day, int):
        return last.day - first.day
    return 1  # counted in two ways: told apart once Day 0 is known


def _unread(words: str) -> PydanticCustomError:
    return refusal(
        "time-not-read",
        "this is not a time that can be read",
        found="nothing" if not words else "something other than a time",
        expected="a time, a range, a bound, a day, or the word unknown",
        why="a time is never guessed",
        example="14:20, about 14:20, 14:15-14:20, after 13:00, day 2 06:30, video 0:48:10, or unknown",
    )


def _placed(value: _T, text: str) -> _T:
    """Return the value with the place it was read at, where the text knows it."""
    return (
        replace(value, path=text.path, line=text.line, column=text.column)
        if isinstance(text, Scalar)
        else value
    )


def _read_when(value: object) -> When:
    return value if isinstance(value, When) else parse_when(_text(value))


def _read_day(value: object) -> Day:
    return value if isinstance(value, Day) else parse_day(_text(value))


def _read_duration(value: object) -> Duration:
    return value if isinstance(value, Duration) else parse_duration(_text(value))


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise refusal(
            "time-not-read",
            "one time is expected here",
            found="a list or a group of lines",
            expected="one value on the line of its key",
            why="a time is never guessed",
            example="14:20",
        )
    return value


_READERS: Final[dict[type, Callable[[object], object]]] = {
    When: _read_when,
    Day: _read_day,
    Duration: _read_duration,
}
