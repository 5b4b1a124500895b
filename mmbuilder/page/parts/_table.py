"""A file that was dropped in: known by its first bytes, kept as text, looked at before it is taken.

What a column holds is said by `casefile.readings`, over a case made of nothing but the file: its
first reading is what the times are counted from.
"""

from __future__ import annotations

import csv
import io
import re
import warnings
import zipfile
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta
from functools import lru_cache
from itertools import islice, pairwise
from pathlib import Path
from statistics import median
from typing import Any

from pydantic_core import PydanticCustomError

from mmbuilder.case.clocks import Reckoner
from mmbuilder.case.freetext import FreeText
from mmbuilder.case.model import ReadingLine, Readings
from mmbuilder.case.span import clock_face
from mmbuilder.case.stamp import Stamp
from mmbuilder.case.when import Day, Duration, When, parse_when
from mmbuilder.casefile.previous.table import MOST_UNPACKED
from mmbuilder.casefile.readings import RawSeries, csvfile, read
from mmbuilder.casefile.readings.cells import Missing, clock_time, counted_unit, counter_time, value
from mmbuilder.casefile.readings.columns import base, plain
from mmbuilder.errors import FileRefused
from mmbuilder.page.parts._bare import clock, reckoner
from mmbuilder.page.parts._quantity import NOTHING, Proposed, apart, proposed
from mmbuilder.problem import Problem
from mmbuilder.safe.moment import Elapsed, Known, duration

_LOOKED = 200
"""Rows from which it is told what a column holds; all of them are read before it is taken."""

_MOST_OF = 0.6
"""Share of the cells of a column that have to be times, or numbers, for it to be of them."""

_FIGURES_OF_A_CLOCK = 4
"""As in 0220; a heart rate of 112 is no time."""

_SHOWN = 6
"""Rows shown."""

_OTHERS = (
    (b"%PDF", "a PDF"),
    (b"\x89PNG", "a picture"),
    (b"\xff\xd8\xff", "a picture"),
    (b"GIF8", "a picture"),
    (b"\xd0\xcf\x11\xe0", "an old workbook (.xls) or Word file"),
    (b"{\\rtf", "a text file of a word processor"),
    (b"<", "a web page or XML"),
)
_SIGNS = {",": "comma", ";": "semicolon", "\t": "tab"}
_ENCODINGS = {"utf-8": "UTF-8", "utf-8-sig": "UTF-8", "utf-16": "UTF-16", "cp1252": "Windows-1252"}


@dataclass(frozen=True)
class Column:
    """A column of the file.

    Attributes:
        place: its number, from 0.
        heading: as it stands in the file.
        name, unit: the heading without its unit, and the unit.
        holds: "times", "numbers", "something else", or "a heading that stands there twice".
        comma: whether its numbers have a decimal comma.
        told: what all its cells came to; for a column of numbers.
        odd: a value in it that is probably none.
        proposed: what it seems to be; of a column of numbers.
    """

    place: int
    heading: str
    name: str
    unit: str
    holds: str
    comma: bool = False
    told: tuple[str, ...] = ()
    odd: Odd | None = None
    proposed: Proposed = NOTHING


@dataclass(frozen=True)
class Odd:
    """A value that is probably what the device shows when it has none.

    Attributes:
        value: as it is shown.
        times: how often it stands there.
        side: "low" or "high": the end of the range at which it stands.
        limit: the last of the other values at that end.
    """

    value: str
    times: int
    side: str
    limit: str

    @property
    def code(self) -> bool:
        """Whether it is what devices write for no value: its tick is set, and can be taken away."""
        return _CODE.fullmatch(self.value) is not None


@dataclass(frozen=True)
class Preview:
    """What a file holds, before it is taken.

    Attributes:
        facts: label and words, such as ("Between the cells", "semicolon").
        rows: the first rows, as they stand in the file.
        elapsed: whether its times count from the start of a recording.
        above: lines that stand above the headings.
        words: every word of those lines and of the headings, in small letters.
        problems: what the check would say of the columns of numbers, in its words.
    """

    facts: tuple[tuple[str, str], ...]
    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]
    elapsed: bool
    above: int
    words: frozenset[str]
    problems: tuple[Problem, ...]

    @property
    def numbers(self) -> tuple[Column, ...]:
        """The columns that can be drawn."""
        return tuple(column for column in self.columns if column.holds == "numbers")

    @property
    def times(self) -> tuple[Column, ...]:
        """The columns that can be the time."""
        return tuple(column for column in self.columns if column.holds == "times")


# Taking it in


def as_text(content: bytes) -> bytes:
    """Return what was dropped in as a text table; of a workbook the cells of its first sheet.

    Raises:
        FileRefused: it is too large, or no table.
    """
    if not content.strip():
        raise FileRefused("this file is empty")
    if len(content) > csvfile.MOST_BYTES:
        raise FileRefused(f"this file is larger than {csvfile.MOST_BYTES // 2**20} MB")
    for start, kind in _OTHERS:
        if content.lstrip()[:8].startswith(start):
            raise FileRefused(
                f"this is {kind}, not a table of readings; export the readings as CSV, or save them as .xlsx"
            )
    return _of_workbook(content) if content[:2] == b"PK" else content


def _of_workbook(content: bytes) -> bytes:
    rows = [_trimmed(cells) for cells in _cells(content) if any(cells)]
    if not rows:
        raise FileRefused("the first sheet of this workbook is empty")
    width, out = max(map(len, rows)), io.StringIO()
    csv.writer(out, lineterminator="\n").writerows([*row, *[""] * (width - len(row))] for row in rows)
    return out.getvalue().encode()


def _trimmed(cells: list[str]) -> list[str]:
    return cells[: max(place for place, cell in enumerate(cells, 1) if cell)]


def _cells(content: bytes) -> Iterator[list[str]]:
    import openpyxl

    try:
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            if sum(entry.file_size for entry in archive.infolist()) > MOST_UNPACKED:
                raise FileRefused(f"this workbook unpacks to more than {MOST_UNPACKED // 2**20} MB")
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of parts that hold no cell
            book = openpyxl.load_workbook(
                io.BytesIO(content), read_only=True, data_only=True, keep_links=False
            )
            sheet = book.worksheets[0]
            sheet.reset_dimensions()  # what a sheet says of its size may be wrong
            rows = sheet.iter_rows(values_only=True, max_col=csvfile.MOST_COLUMNS + 1)
            for count, row in enumerate(rows):
                if count > csvfile.MOST_ROWS:
                    raise FileRefused(f"this workbook has more than {csvfile.MOST_ROWS:,} rows")
                yield [_cell(one) for one in row]
    except FileRefused:
        raise
    except Exception as fault:  # a damaged workbook makes the library fail in any way there is
        raise FileRefused("this is no workbook that can be opened (.xlsx)") from fault


def _cell(held: Any) -> str:
    match held:
        case None:
            return ""
        case datetime():
            return f"{held:%Y-%m-%d %H:%M:%S}"
        case date():
            return f"{held:%Y-%m-%d}"
        case time():
            return f"{held:%H:%M:%S}"
        case timedelta():
            minutes, seconds = divmod(round(held.total_seconds()), 60)
            return f"{minutes // 60:02d}:{minutes % 60:02d}:{seconds:02d}"
        case float():
            return f"{held:.15g}"
        case _:
            return " ".join(str(held).split())


# Looking at it


@dataclass(frozen=True)
class Asked:
    """What the user and the case say of a file before it is looked at.

    Attributes:
        every: how often a reading was due.
        time: the column of the time; the one that looks like it if nobody said.
        drawn: the columns that are asked about; all that hold numbers if nobody said.
        day_zero: the date of Day 0, beside which a year of two figures is read.
    """

    every: Duration | None = None
    time: int | None = None
    drawn: tuple[int, ...] | None = None
    day_zero: Day | None = None

    @property
    def zero(self) -> date | None:
        """The date of Day 0."""
        return self.day_zero.date if self.day_zero else None

    def about(self, place: int) -> bool:
        """Whether it is asked about a column."""
        return self.drawn is None or place in self.drawn


@lru_cache(maxsize=4)
def preview(path: Path, state: str, asked: Asked = Asked()) -> Preview:
    """Say what a file holds.

    Args:
        path: of the file, as text.
        state: of the file; another one is looked at again.
        asked: what is known of it.

    Raises:
        FileRefused: it is no table.
    """
    encoding = csvfile.encoding(path)
    sign, first = csvfile.delimiter(path, encoding, ())
    rows = [*islice(csvfile.rows(path, encoding, sign), _LOOKED)]
    first = _headed(rows, first)
    headings, *body = [row for line, row in rows if line >= first]
    if len(headings) < 2 or not body:
        raise FileRefused("this is text, but no table: a row of headings and rows of cells were expected")
    columns = [*_columns(headings, body, asked)]
    time_ = next((column for column in columns if column.holds == "times"), None)
    elapsed = time_ is not None and _elapsed(time_.heading, body, time_.place)
    facts = [("Between the cells", _SIGNS[sign]), ("Letters", _ENCODINGS[encoding])]
    above = sum(line < first and any(map(str.strip, row)) for line, row in rows)
    words = frozenset(
        re.findall(r"\w+", " ".join(" ".join(row) for line, row in rows if line <= first).casefold())
    )
    facts += [("Headings", f"in line {first} of the file")] if first > 1 else []
    facts.append(("Decimal sign", "comma" if any(column.comma for column in columns) else "point"))
    if time_ is None:
        facts.append(("Time", "no column of times was found; the check will refuse it"))
        return Preview(tuple(facts), _called(columns, {}), _first(body), elapsed, above, words, ())
    at = _start(body, time_, asked, elapsed=elapsed)
    drawn = [column for column in columns if column.holds == "numbers" and asked.about(column.place)]
    series, problems = _measured_by(path, time_, drawn, at, asked, elapsed=elapsed)
    facts += [*_timed(time_, series, at, elapsed=elapsed)]
    told = dict(zip((column.place for column in drawn), series, strict=False))
    whole = _alike([_measured(column, told.get(column.place), at) for column in columns], told)
    return Preview(tuple(facts), _called(whole, told), _first(body), elapsed, above, words, problems)


def _called(columns: Sequence[Column], told: Mapping[int, RawSeries]) -> tuple[Column, ...]:
    """Return the columns with what each of numbers seems to be."""
    numbers = [column for column in columns if column.holds == "numbers"]
    values = [
        [number for _, number in told[one.place].points] if one.place in told else [] for one in numbers
    ]
    seem = [
        (one.heading, proposed(one.heading, one.name, one.unit, its))
        for one, its in zip(numbers, values, strict=True)
    ]
    called = dict(zip((one.place for one in numbers), apart(seem), strict=True))
    return tuple(replace(one, proposed=called.get(one.place, one.proposed)) for one in columns)


def _headed(rows: list[tuple[int, list[str]]], otherwise: int) -> int:
    """Return the line of the headings: of the rows with most words in them and no value, the first."""
    words = [
        (sum(bool(cell.strip()) for cell in row), line) for line, row in rows if not any(map(_held, row))
    ]
    most = max((count for count, _ in words), default=0)
    return next((line for count, line in words if count == most > 1), otherwise)


def _held(cell: str) -> bool:
    return bool(cell.strip()) and (_is_time(cell) or (value(cell, None, None) is not None and _real(cell)))


def _first(body: list[list[str]]) -> tuple[tuple[str, ...], ...]:
    return tuple(tuple(row) for row in body[:_SHOWN])


def _columns(headings: list[str], body: list[list[str]], asked: Asked) -> Iterator[Column]:
    twice = [plain(heading) for heading in headings]
    filled = [
        [row[place].strip() for row in body if place < len(row) and row[place].strip()]
        for place in range(len(headings))
    ]
    timed = asked.time if asked.time is not None else _timed_by(headings, filled)
    for place, (heading, cells) in enumerate(zip(headings, filled, strict=True)):
        name, unit = _parts(heading)
        numbers = [cell for cell in cells if value(cell, None, None) is not None]
        if twice.count(plain(heading)) > 1:
            holds = "a heading that stands there twice"
        elif place == timed:
            holds = "times"
        elif cells and len(numbers) >= _MOST_OF * len(cells) and any(map(_real, numbers)):
            holds = "numbers"
        else:
            holds = "something else"
        comma = holds == "numbers" and any("," in cell for cell in numbers)
        yield Column(place, heading.strip().strip("\ufeff"), name, unit, holds, comma)


def _timed_by(headings: list[str], filled: list[list[str]]) -> int | None:
    """Return the first column of times; before those of bare figures, which may be readings: 36.55, 1018."""
    looks = [place for place, cells in enumerate(filled) if _are_times(headings[place], cells)]
    signed = (place for place in looks if any(value(cell, None, None) is None for cell in filled[place]))
    return next(signed, looks[0] if looks else None)


def _real(cell: str) -> bool:
    return not isinstance(value(cell, None, None), Missing)


def _parts(heading: str) -> tuple[str, str]:
    """Return a heading without its unit, and the unit as it stands there."""
    words = " ".join(heading.strip("\ufeff").split())
    bare = base(plain(words))
    if len(plain(words)) != len(words) or not plain(words).startswith(bare):
        return words, ""
    return words[: len(bare)], words[len(bare) :].strip(" ()[]")


def _are_times(heading: str, cells: Sequence[str]) -> bool:
    if not cells:
        return False
    if counted_unit(plain(heading)) is not None:
        return all(map(_real, cells))
    return sum(map(_is_time, cells)) >= _MOST_OF * len(cells)


def _is_time(cell: str) -> bool:
    """Whether a cell is meant as a time, right or wrong; of bare figures only the four of a clock."""
    if cell.strip().isdecimal() and len(cell.strip()) != _FIGURES_OF_A_CLOCK:
        return False
    try:
        clock_time(cell)
    except PydanticCustomError as fault:
        return fault.type.startswith("date-")  # its day is told to be mended
    return True


def _elapsed(heading: str, body: list[list[str]], place: int) -> bool:
    """Whether its times are plain numbers that count from a start."""
    unit = counted_unit(plain(heading))
    cells = [row[place] for row in body if place < len(row) and row[place].strip()]
    return unit is not None and not any(map(_is_time, cells))


# What the project's own reader says of it


def _measured_by(
    path: Path, time_: Column, columns: Sequence[Column], start: Stamp, asked: Asked, *, elapsed: bool
) -> tuple[tuple[RawSeries, ...], tuple[Problem, ...]]:
    """Read all of the file as a case would that has nothing else."""
    lines = tuple(
        ReadingLine(column=FreeText(one.heading), name=FreeText(one.name), unit=FreeText(one.unit or "-"))
        for one in columns
    )
    if not lines:
        return (), ()
    readings = Readings.model_construct(
        file=FreeText(path.name),
        clock="file" if elapsed else None,
        time_column=FreeText(time_.heading),
        lines=lines,
        every=asked.every,
        gaps=(),
        artefacts=(),
    )
    return read(path.parent, readings, _reckoner(start, asked, elapsed=elapsed))


def _start(body: list[list[str]], time_: Column, asked: Asked, *, elapsed: bool) -> Stamp:
    """Return the first time of the file that can be read."""
    for row in body:
        cell = row[time_.place] if time_.place < len(row) else ""
        try:
            if elapsed:
                return Stamp(round(counter_time(cell, counted_unit(plain(time_.heading)))), None, 1)
            return clock_time(cell, asked.zero)
        except PydanticCustomError:
            continue
    return Stamp(0)


def _reckoner(first: Stamp, asked: Asked, *, elapsed: bool) -> Reckoner:
    """Return the sums of a case whose index event is the first reading of the file."""
    when = parse_when("00:00") if elapsed else When(Known.EXACT, first, first)
    wall = clock("wall", reference=True)
    clocks = (wall, clock("file", starts=when)) if elapsed else (wall,)
    return reckoner(clocks, when, asked.day_zero)


# Told in words


def _timed(
    time_: Column, series: Sequence[RawSeries], first: Stamp, *, elapsed: bool
) -> Iterator[tuple[str, str]]:
    minutes = sorted({minute for line in series for minute, _ in line.points})
    counted = ": counted from the start of a recording" if elapsed else ""
    yield "Time", f"column {time_.place + 1}, {time_.heading}{counted}"
    if not minutes:
        return
    yield "From, to", f"{_at(first, minutes[0])} to {_at(first, minutes[-1])}"
    yield "Rows with a reading", f"{len(minutes):,}"
    steps = [later - sooner for sooner, later in pairwise(minutes)]
    if steps:
        yield "Usually every", _long(median(steps))


def _measured(column: Column, line: RawSeries | None, first: Stamp) -> Column:
    if line is None:
        return column
    values = [number for _, number in line.points]
    told = [f"{len(values):,} readings"]
    if values:
        told.append(f"{min(values):.12g} to {max(values):.12g}")
    if line.dropped:
        told.append(f"{line.dropped:,} device values that mean nothing, left out")
    if line.missing:
        told.append(f"{line.missing:,} empty")
    gaps = [gap for gap in line.gaps if gap.end > gap.start]
    if gaps:
        shown = ", ".join(f"{_at(first, gap.start)} to {_at(first, gap.end)}" for gap in gaps[:4])
        more = f" and {len(gaps) - 4} more" if len(gaps) > 4 else ""
        told.append(f"{len(gaps)} gap{'s' if len(gaps) > 1 else ''}: {shown}{more}")
    return replace(column, told=tuple(told), odd=_odd(values))


_FAR = 2
"""How many times the range of all others a value lies away from them (common practice, no source)."""


_UNDER = 3
"""How many times as far above nought all others lie where a value under it that comes back is none: -1."""
_CODE = re.compile(r"-9{3,}|-?32767|-32768|65535")
"""What devices write where they have no value, even once (common practice, no source)."""


def _odd(values: Sequence[float]) -> Odd | None:
    """Return a value at an end of the range, far from all others, that comes back or is a device's code."""
    for side, end in (("high", max), ("low", min)):
        last = end(values, default=0.0)
        others = [number for number in values if number != last]
        times = Counter(values)[last]
        if len(others) <= times or not (times > 1 or _CODE.fullmatch(f"{last:.12g}")):
            continue
        far = abs(last - end(others)) > _FAR * (max(others) - min(others)) > 0
        if far or last < 0 < -last * _UNDER <= end(others):
            return Odd(f"{last:.12g}", times, side, f"{end(others):.12g}")
    return None


def _alike(columns: Sequence[Column], told: Mapping[int, RawSeries]) -> list[Column]:
    """What one column has as none is none in the others too, even once, where it lies far from the rest."""
    nones = [one.odd for one in columns if one.odd is not None]
    return [
        replace(one, odd=_also(told[one.place], nones)) if one.odd is None and one.place in told else one
        for one in columns
    ]


def _also(line: RawSeries, nones: Sequence[Odd]) -> Odd | None:
    values = [number for _, number in line.points]
    for none in nones:
        last, end = float(none.value), min if none.side == "low" else max
        others = [number for number in values if f"{number:.12g}" != none.value]
        if not others or len(others) == len(values) or end(values) != end(last, end(others)):
            continue
        far = abs(last - end(others)) > max(others) - min(others) > 0
        if far or last < 0 < -last * _UNDER <= end(others):
            return Odd(none.value, len(values) - len(others), none.side, f"{end(others):.12g}")
    return None


def _at(first: Stamp, minutes: float) -> str:
    """Return the time on the clock of the file, so many minutes after its first reading."""
    days, seconds = divmod(first.seconds + round(minutes * 60), 86400)
    face = clock_face(Stamp(seconds, None, 1 if first.step == 1 else 60))
    return f"{face} ({'next day' if days == 1 else f'{days} days later'})" if days > 0 else face


def _long(minutes: float) -> str:
    return duration(Elapsed(minutes, minutes, 1 / 60)).reveal()
