"""What can be wrong with a readings file, told at the line of the case that names it.

Cells and headings are free text and are never repeated: lines of the file are told by number.
"""

from __future__ import annotations

from itertools import pairwise

from pydantic_core import PydanticCustomError

from mmbuilder.case.clock_fault import ClockFault
from mmbuilder.case.freetext import FreeText
from mmbuilder.case.freetext import Path as CasePath
from mmbuilder.case.model import Readings
from mmbuilder.case.when import When
from mmbuilder.casefile.files import FileFault
from mmbuilder.casefile.readings import csvfile
from mmbuilder.casefile.readings.columns import near
from mmbuilder.casefile.readings.table import Column, Table
from mmbuilder.clinic.inputs import Measured
from mmbuilder.clinic.measure import plainly
from mmbuilder.clinic.possible import possible
from mmbuilder.clinic.units import factor, same_kind
from mmbuilder.errors import FileRefused
from mmbuilder.problem import Problem, Severity


class Pen:
    """Writes problems at the line of the case that names the file."""

    def __init__(self, readings: Readings, path: CasePath) -> None:
        self._at = readings.file
        self.path = path
        self.problems: list[Problem] = []

    @property
    def stopped(self) -> bool:
        """Whether the file cannot be used."""
        return any(problem.stops for problem in self.problems)

    def write(
        self, code: str, text: str, *, at: FreeText | When | None = None, warns: bool = False, **beats: str
    ) -> None:
        """Add a problem; `beats` are found, expected, why and example."""
        mark = at if at is not None and at.line else self._at
        severity = Severity.WARN if warns else Severity.STOP
        self.problems.append(
            Problem("case.yaml", mark.line, mark.column, code, text, severity=severity, **beats)
        )


def tell_refused(refused: FileRefused, pen: Pen) -> None:
    """The file is missing, or cannot be read safely."""
    if isinstance(refused, FileFault):
        pen.write(refused.code, refused.text, found=refused.found, expected=refused.expected)
        return
    pen.write(
        "readings-refused",
        "this readings file cannot be used",
        found=str(refused),
        expected=f"a CSV text table inside the case folder, at most {csvfile.MOST_BYTES // 2**20} MB"
        f" and {csvfile.MOST_ROWS:,} rows",
        why="a larger or damaged file cannot be read safely, and no more would show on a slide",
        example="export the hours around the event only, one row a minute",
    )


def tell_time(fault: PydanticCustomError, line: int, pen: Pen) -> None:
    """A time cannot be read, or could be two."""
    beats = dict(fault.context or {})
    beats["found"] = f"{beats.get('found', '')}, in line {line} of the file"
    pen.write(fault.type, f"a time in the readings file cannot be used: {fault.message()}", **beats)


def tell(table: Table, pen: Pen) -> None:
    """Tell what is wrong with the rows as a whole, and turn a newest-first export round."""
    if table.long:
        pen.write(
            "readings-ragged",
            "rows of the readings file have more cells than headings",
            found=_lines(table.long),
            expected="as many cells as headings; decimal commas need ; or tabs between the cells",
            why="values would land under the wrong heading",
            example="14:20;36,2;98",
        )
    if table.short:
        pen.write(
            "readings-ragged",
            "rows of the readings file have fewer cells than headings",
            warns=True,
            found=_lines(table.short),
            expected="as many cells as headings",
            why="what is not there is taken as not recorded",
            example="14:20,36.2,98",
        )
    _tell_order(table, pen)
    for column in table.columns:
        _tell_cells(column, pen)


def _tell_order(table: Table, pen: Pen) -> None:
    """Turn a newest-first export round; refuse one whose order is mixed."""
    steps = [
        (line, later - time)
        for (time, later), line in zip(pairwise(table.times), table.lines[1:], strict=True)
    ]
    back = [line for line, step in steps if step < 0]
    if not back:
        return
    if not any(step > 0 for _, step in steps):
        for column in table.columns:
            column.points.reverse()
        table.times.reverse()
        return
    pen.write(
        "readings-order",
        "rows of the readings file are not in order of time",
        found=_lines(back),
        expected="times that rise from row to row (or fall, in an export with the newest first)",
        why="a row out of order may be a wrong time, or a day too early",
        example="sort the rows by time; across midnight, put the date beside the time",
    )


def _tell_cells(column: Column, pen: Pen) -> None:
    if column.unread:
        pen.write(
            "readings-not-numbers",
            "cells in a column to draw are no numbers",
            at=column.line.column,
            warns=True,
            found=_lines(column.unread),
            expected="a number, or nothing where there is no reading",
            why="they are left out, and shown as not recorded",
            example="36.2",
        )
    if column.two_ways and not column.decimal:
        pen.write(
            "readings-comma",
            "commas in a column to draw can be read in two ways",
            at=column.line.column,
            found=f"three figures behind each comma, as in {_lines(column.two_ways)}",
            expected="a point for decimals, and nothing between thousands",
            why="one way is a thousand times the other, and a figure is never guessed",
            example="1200, or 1.200",
        )
    _tell_beyond(column, pen)
    if not column.points:
        pen.write(
            "readings-empty",
            "a column to draw has no readings",
            at=column.line.column,
            warns=True,
            found=f"{column.dropped} device values that mean nothing, {column.missing} empty cells",
            expected="at least one reading between low and high",
            why="the chart would have an empty line",
            example="low: 20\nhigh: 250",
        )


def _tell_beyond(column: Column, pen: Pen) -> None:
    """Tell readings that no patient has, where the case does not say what lies outside."""
    line = column.line
    kind = (
        None if line.low is not None and line.high is not None else possible(line.name.value, line.unit.value)
    )
    if kind is None or not (times := _times(line.unit.value, kind)):
        return
    beyond = sum(not kind.low <= number * times <= kind.high for _, number in column.points)
    if beyond:
        low, high = (plainly(end / times) for end in (kind.low, kind.high))
        pen.write(
            "figure-cannot-be",
            "readings of this line are none that a patient can have",
            at=line.column,
            warns=True,
            found=f"{beyond} of {len(column.points)}",
            expected=f"from {low} to {high} in its unit; or `low` and `high`, outside which nothing is drawn",
            why="what a device writes when it measures nothing is drawn as if it were so",
            example=f"low: {low}\nhigh: {high}",
        )


def _times(unit: str, kind: Measured) -> float:
    """What a figure in this unit is multiplied by to be in the unit that the bounds are in; 0 if unknown."""
    if "".join(unit.split()).casefold() == kind.unit.casefold():
        return 1
    return factor(unit, kind.unit) if same_kind(unit, kind.unit) else 0


def _lines(numbers: list[int]) -> str:
    shown = ", ".join(str(number) for number in numbers[:3])
    rest = f" and {len(numbers) - 3} more" if len(numbers) > 3 else ""
    return f"line{'s' if len(numbers) > 1 else ''} {shown}{rest} of the file"


def tell_clock(fault: ClockFault, pen: Pen) -> None:
    """The clock of the file, or a time in the case that belongs to it, has no place in time."""
    pen.write(
        fault.code,
        fault.text,
        found=fault.found,
        expected=fault.expected,
        why=fault.why,
        example=fault.example,
    )


def tell_no_column(heading: FreeText, headings: list[str], pen: Pen) -> None:
    """A heading in the case is not one of the file."""
    pen.write(
        "column-not-found",
        "the readings file has no such column, or has it twice",
        at=heading,
        found=near(heading.value, headings) or "no heading like it",
        expected=f"one of the {len(headings)} headings of the file, as it stands there",
        why="a line drawn from the wrong column would tell another story",
        example="column: HR",
    )


def tell_artefact(when: When, pen: Pen) -> None:
    """An artefact was marked where there is no reading."""
    pen.write(
        "artefact-no-reading",
        "no reading was taken at this time",
        at=when,
        warns=True,
        found="an artefact at a time without a reading",
        expected="the time of a reading, on the clock of the file",
        why="the artefact is not marked, so it will be read as real",
        example="artefacts: [14:20:30]",
    )


def tell_backwards(end: When, pen: Pen) -> None:
    """A gap ends before it starts."""
    pen.write(
        "gap-reversed",
        "this gap ends before it starts",
        at=end,
        found="an end that is earlier than the start",
        expected="the earlier time first; across midnight, the day of each",
        why="a gap that is turned round in silence may hide a wrong time",
        example="gaps:\n  - from: 14:20\n    to: 14:35\n    why: cuff off",
    )


def tell_filled(start: When, pen: Pen) -> None:
    """Every line of the file has readings within a gap."""
    pen.write(
        "gap-with-readings",
        "the file has readings within this gap",
        at=start,
        warns=True,
        found="readings of every line between its start and its end",
        expected="a gap in which nothing was read, on the clock of the file; wrong readings are artefacts",
        why="it is not drawn as a gap: that would hide what was measured",
        example="gaps:\n  - from: 14:20\n    to: 14:35\n    why: cuff off",
    )
