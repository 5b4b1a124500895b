"""Readings files: CSV in, lines of (minutes from the index event, value) out, with every fault at once."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

from pydantic_core import PydanticCustomError

from mmbuilder.case.clocks import ClockFault, Reckoner
from mmbuilder.case.freetext import FreeText
from mmbuilder.case.freetext import Path as CasePath
from mmbuilder.case.model import Readings
from mmbuilder.casefile.files import inside
from mmbuilder.casefile.readings import csvfile
from mmbuilder.casefile.readings.cells import Missing, clock_time, comma, counted_unit, counter_time, value
from mmbuilder.casefile.readings.columns import place, plain
from mmbuilder.casefile.readings.faults import Pen, tell, tell_clock, tell_no_column, tell_refused, tell_time
from mmbuilder.casefile.readings.series import RawGap, RawSeries, series
from mmbuilder.casefile.readings.table import Column, Table
from mmbuilder.casefile.readings.unit import tell_unit
from mmbuilder.errors import FileRefused
from mmbuilder.problem import Problem

__all__ = ["RawGap", "RawSeries", "read"]


def read(
    root: Path, readings: Readings, reckoner: Reckoner, path: CasePath = ()
) -> tuple[tuple[RawSeries, ...], tuple[Problem, ...]]:
    """Read one readings file of a case.

    Args:
        root: the case folder.
        readings: what the case says of the file.
        reckoner: brings its times to minutes from the index event.
        path: where `readings` stands in the case.

    Returns:
        One series for each line asked for (none if the file cannot be used), and every problem.
    """
    pen = Pen(readings, path)
    try:
        table = _table(root, readings, reckoner, pen)
        if table is None:
            return (), tuple(pen.problems)
        lines = tuple(series(table, readings, reckoner, pen))
        return lines, tuple(pen.problems)
    except FileRefused as refused:
        tell_refused(refused, pen)
    except ClockFault as fault:
        tell_clock(fault, pen)
    return (), tuple(pen.problems)


def _table(root: Path, readings: Readings, reckoner: Reckoner, pen: Pen) -> Table | None:
    path = inside(root, readings.file.value)
    encoding = csvfile.encoding(path)
    wanted = [line.column.value for line in readings.lines]
    if readings.time_column:
        wanted.append(readings.time_column.value)
    sign, first = csvfile.delimiter(path, encoding, wanted)
    stream = ((line, cells) for line, cells in csvfile.rows(path, encoding, sign) if line >= first)
    _, headings = next(stream)
    table, time = _headed(headings, readings, reckoner, pen)
    if pen.stopped:
        return None
    _fill(table, stream, time, len(headings), pen)
    if not pen.stopped:  # else reading stopped at the first time that is none
        tell(table, pen)
    return None if pen.stopped else table


def _headed(headings: list[str], readings: Readings, reckoner: Reckoner, pen: Pen) -> tuple[Table, int]:
    columns = []
    for line in readings.lines:
        position = _position(line.column, headings, pen)
        if position is not None:
            columns.append(Column(line, position))
            tell_unit(line.unit, headings[position], pen)
    time = _position(readings.time_column, headings, pen) if readings.time_column else 0
    elapsed = reckoner.counts(readings.clock, pen.path)
    unit = counted_unit(plain(headings[time or 0])) if elapsed else None
    return Table(columns, elapsed, unit, day_zero=reckoner.day_zero), time or 0


def _position(heading: FreeText, headings: list[str], pen: Pen) -> int | None:
    found = place(heading.value, headings)
    if found is None:
        tell_no_column(heading, headings, pen)
    return found


def _fill(table: Table, stream: Iterator[tuple[int, list[str]]], time: int, width: int, pen: Pen) -> None:
    """Take times and values out of each row, until a time cannot be read."""
    for line, cells in stream:
        if not any(cell.strip() for cell in cells):
            continue
        if any(cell.strip() for cell in cells[width:]):
            table.long.append(line)
            continue
        if len(cells) < width:
            table.short.append(line)
        try:
            seconds = _seconds(cells[time] if time < len(cells) else "", table)
        except PydanticCustomError as fault:
            tell_time(fault, line, pen)
            return
        table.times.append(seconds)
        table.lines.append(line)
        for column in table.columns:
            _take(column, seconds, cells[column.position] if column.position < len(cells) else "", line)


def _seconds(cell: str, table: Table) -> float:
    if table.elapsed:
        return counter_time(cell, table.unit)
    stamp = clock_time(cell, table.day_zero)
    if table.day is None and not table.times:
        table.day = stamp.day
    if stamp.day is None:
        return _past_midnight(stamp.seconds, table.times)
    return _days_between(table.day, stamp.day) * 86400 + stamp.seconds


def _past_midnight(seconds: float, times: list[float]) -> float:
    """Carry a time without a date over midnight: more than half a day back is the next day."""
    if not times:
        return seconds
    day = times[-1] // 86400
    back = times[-1] - (day * 86400 + seconds)
    if back > 43200:
        day += 1
    elif back < -43200:
        day -= 1
    return day * 86400 + seconds


def _days_between(first: int | date | None, day: int | date) -> int:
    if isinstance(first, date) and isinstance(day, date):
        return (day - first).days
    if isinstance(first, int) and isinstance(day, int):
        return day - first
    raise PydanticCustomError("readings-days", "rows with a date stand beside rows without one", _DAYS)


_DAYS = {
    "found": "dates in some rows only, or Day numbers beside dates",
    "expected": "a date in every row, or in none",
    "why": "a row could be a day early or late",
    "example": "2001-02-13 14:20",
}


def _take(column: Column, seconds: float, cell: str, line: int) -> None:
    if "," in cell and (sure := comma(cell)) is not None:
        if sure:
            column.decimal = True
        else:
            column.two_ways.append(line)
    number = value(cell, column.line.low, column.line.high)
    if number is None:
        column.unread.append(line)
    elif isinstance(number, Missing):
        column.dropped += number.sentinel
        column.missing += not number.sentinel
    else:
        column.points.append((seconds, number))
