"""The department's action log, as an earlier meeting left it: spreadsheet in, rows out, all faults at once.

Columns are found by their names in any language there is a catalogue for, in any order. Cells are
free text and are never repeated, not even a heading: faults name the row, the column and the words
of our own that were expected.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache
from itertools import islice
from pathlib import Path
from typing import Any, TypeVar

from pydantic_core import PydanticCustomError

from mmbuilder import labels
from mmbuilder.case.freetext import FreeText, Scalar
from mmbuilder.case.previous import PreviousAction
from mmbuilder.case.tidy import tidy
from mmbuilder.case.when import parse_day
from mmbuilder.casefile.files import FileFault, inside
from mmbuilder.casefile.nearest import nearest
from mmbuilder.casefile.previous import table
from mmbuilder.errors import FileRefused
from mmbuilder.problem import Problem, Severity
from mmbuilder.safe.terms import ActionStatus, LogColumn, Strength, Word, term

KEY = "previous actions"
"""The key of the case that names the file; problems within it bear this in place of a file name."""

NEEDED = (LogColumn.ID, LogColumn.CASE, LogColumn.ACTION, LogColumn.DUE, LogColumn.STATUS)
"""Columns without which a log says nothing."""

FILLED = (LogColumn.ID, LogColumn.CASE, LogColumn.ACTION)
"""Columns that no row may leave empty."""

_HEADINGS = 30
"""Rows looked at for the headings: a department may put a title above them."""

_Closed = TypeVar("_Closed", bound=Word)


def read(root: Path, named: FreeText) -> tuple[tuple[PreviousAction, ...], tuple[Problem, ...]]:
    """Read the action log of a case folder.

    Args:
        root: the case folder.
        named: the name of the file, as the case has it.

    Returns:
        Every row that can be used, and every problem; those of the file as a whole stand at `named`.
    """
    try:
        rows = table.read(inside(root, named.value), [*_spoken(LogColumn)])
    except FileFault as fault:
        return (), (_of_file(named, fault.code, fault.text, fault.found, fault.expected),)
    except FileRefused as refused:
        expected = f"a CSV or XLSX file of at most {table.MOST_ROWS:,} rows, as the tool writes it"
        return (), (_of_file(named, "log-refused", "this action log cannot be used", str(refused), expected),)
    log = _Log()
    columns, rest = _headed(rows, log)
    if columns is None:
        return (), tuple(log.problems)
    return tuple(_taken(rest, columns, log)), tuple(log.problems)


@dataclass
class _Log:
    """What is told of a log, and the ids met in it."""

    problems: list[Problem] = field(default_factory=list)
    met: set[tuple[str, str]] = field(default_factory=set, repr=False)

    def tell(
        self, code: str, text: str, line: int, column: int = 1, *, warns: bool = False, **beats: str
    ) -> None:
        """Add a problem; `beats` are found, expected, why and example."""
        severity = Severity.WARN if warns else Severity.STOP
        self.problems.append(Problem(KEY, line, column, code, text, severity=severity, **beats))


def _of_file(named: FreeText, code: str, text: str, found: str, expected: str) -> Problem:
    why = "the meeting opens with what the last one agreed"
    example = f"{KEY}: actions.csv"
    return Problem("case.yaml", named.line, named.column, code, text, found, expected, why, example)


# Headings


def _headed(rows: list[table.Row], log: _Log) -> tuple[dict[LogColumn, int] | None, list[table.Row]]:
    """Return the position of each column, and the rows below the headings."""
    best = max(islice(enumerate(rows), _HEADINGS), key=lambda entry: len(_columns(entry[1][1])), default=None)
    if best is None:
        _tell_missing("this action log is empty", "no rows", 0, NEEDED, log)
        return None, []
    place, (line, cells) = best
    columns = _columns(cells)
    missing = [column for column in NEEDED if column not in columns]
    if missing:
        found = f"headings without {_listed(missing)}"
        _tell_missing("this action log lacks a column", found, line, missing, log)
    _tell_unknown(line, cells, columns, log)
    return (None if missing else columns), rows[place + 1 :]


def _columns(cells: list[str]) -> dict[LogColumn, int]:
    found: dict[LogColumn, int] = {}
    for place, cell in enumerate(cells):
        column = _word(LogColumn, cell)
        if column is not None:
            found.setdefault(column, place)
    return found


def _tell_unknown(line: int, cells: list[str], columns: Mapping[LogColumn, int], log: _Log) -> None:
    used = set(columns.values())
    for place, cell in enumerate(cells):
        if place in used or not cell:
            continue
        near = nearest(cell, [word for word, column in _spoken(LogColumn).items() if column not in columns])
        log.tell(
            "log-column-unknown",
            f"column {place + 1} of the action log is not one that can be read, and is left out",
            line,
            place + 1,
            warns=True,
            found=f"a heading like `{near}`"
            if near
            else "a heading of another name, or one that stands there twice",
            expected=f"one of: {_listed(LogColumn)}",
            why="what stands under it is not shown",
            example=near or LogColumn.OWNER.value,
        )


def _tell_missing(text: str, found: str, line: int, columns: Iterable[LogColumn], log: _Log) -> None:
    log.tell(
        "log-column-missing",
        text,
        line,
        found=found,
        expected=f"a row of headings with {_listed(columns)}",
        why="without them nobody can say what is late",
        example=",".join(LogColumn),
    )


# Rows


def _taken(rows: list[table.Row], columns: Mapping[LogColumn, int], log: _Log) -> Iterator[PreviousAction]:
    told = [
        {column: cells[place] for column, place in columns.items() if place < len(cells)} for _, cells in rows
    ]
    told = _by_year(told)
    for (line, _), cells in zip(rows, told, strict=True):
        row = _Row(line, cells, columns)
        if not any(row.cells.values()):
            continue
        made = _action(row, log)
        if made is not None:
            yield made


_FIGURES = re.compile(r"(\d{1,2})[./-](\d{1,2})[./-]((?:19|20)\d\d)")


def _by_year(rows: list[dict[LogColumn, str]]) -> list[dict[LogColumn, str]]:
    """Write days in figures year first, where one of the column says which figure is the month in all.

    A spreadsheet saves all days of a table in one order, that of its country.
    """
    days = [_FIGURES.fullmatch(row.get(LogColumn.DUE, "")) for row in rows]
    firsts, seconds = ([int(day[place]) for day in days if day] for place in (1, 2))
    day_first, month_first = max(firsts, default=0) > 12, max(seconds, default=0) > 12
    if day_first is month_first:
        return rows
    month, number = (2, 1) if day_first else (1, 2)
    return [
        row | {LogColumn.DUE: f"{day[3]}-{int(day[month]):02}-{int(day[number]):02}"} if day else row
        for row, day in zip(rows, days, strict=True)
    ]


@dataclass(frozen=True)
class _Row:
    line: int
    cells: Mapping[LogColumn, str] = field(repr=False)
    columns: Mapping[LogColumn, int]

    def at(self, column: LogColumn) -> tuple[int, int]:
        """Line and column, as problems have them."""
        return self.line, self.columns.get(column, 0) + 1


def _action(row: _Row, log: _Log) -> PreviousAction | None:
    """Return the row as an action; None where something in it has to be asked about."""
    before = len(log.problems)
    strength = _closed(Strength, LogColumn.STRENGTH, row, log)
    status = _closed(ActionStatus, LogColumn.STATUS, row, log) or ActionStatus.OPEN
    _tell_empty(row, log)
    _tell_twice(row, log)
    _tell_due(row, log)
    status = _settled(status, row, log)
    if any(problem.stops for problem in log.problems[before:]):
        return None
    words: dict[str, Any] = {
        column.value: Scalar(cell, (KEY, row.line - 1, column.value), *row.at(column))
        for column, cell in row.cells.items()
        if cell
    }
    return PreviousAction.model_validate(words | {"strength": strength, "status": status})


def _closed(kind: type[_Closed], column: LogColumn, row: _Row, log: _Log) -> _Closed | None:
    cell = row.cells.get(column, "")
    found = _word(kind, cell)
    if cell and found is None:
        near = nearest(cell, _spoken(kind))
        log.tell(
            "unknown-word",
            f"row {row.line}: this {column.value} is not one of the list",
            *row.at(column),
            found=f"a word like `{near}`" if near else "another word",
            expected=f"one of: {_listed(kind)}",
            why="rows are sorted and counted by it",
            example=near or next(iter(kind)).value,
        )
    return found


def _tell_empty(row: _Row, log: _Log) -> None:
    empty = [column for column in FILLED if not row.cells.get(column)]
    if empty:
        log.tell(
            "log-row-incomplete",
            f"row {row.line}: this row has nothing under {_listed(empty)}",
            *row.at(empty[0]),
            found="an empty cell",
            expected="the case it came from, its id within the case, and what was agreed",
            why="an action is followed from meeting to meeting by its case and id",
            example="A1,case-b,Second suction on every trolley",
        )


def _tell_twice(row: _Row, log: _Log) -> None:
    key = (tidy(row.cells.get(LogColumn.CASE, "")), tidy(row.cells.get(LogColumn.ID, "")))
    if all(key) and key in log.met:
        log.tell(
            "repeated-id",
            f"row {row.line}: another row has the same case and id",
            *row.at(LogColumn.ID),
            found="two rows for one action",
            expected="one row an action, brought up to date",
            why="nobody could say which of the two holds",
            example="A1 and A2",
        )
    log.met.add(key)


def _tell_due(row: _Row, log: _Log) -> None:
    """Words that are no date stay words; a date that can be two days, or none, is asked about."""
    cell = row.cells.get(LogColumn.DUE, "")
    try:
        parse_day(cell)
    except PydanticCustomError as fault:
        if cell and fault.type != "day-not-read":
            told = fault.context or {}
            log.tell(
                fault.type,
                f"row {row.line}: {fault.message()}",
                *row.at(LogColumn.DUE),
                found=str(told.get("found", "")),
                expected="the date as year-month-day",
                why=str(told.get("why", "")),
                example="2001-02-13",
            )


def _settled(status: ActionStatus, row: _Row, log: _Log) -> ActionStatus:
    """What is done is closed only with a result; what is dropped needs its reason."""
    if status is ActionStatus.DROPPED and not row.cells.get(LogColumn.REASON):
        log.tell(
            "dropped-without-reason",
            f"row {row.line}: this action was dropped, and nobody says why",
            *row.at(LogColumn.STATUS),
            found="`dropped` with nothing under reason",
            expected="the reason in the column `reason`",
            why="an action that vanishes in silence comes back as the next case",
            example="dropped,Replaced by the new pump",
        )
    if status is ActionStatus.DONE and not row.cells.get(LogColumn.RESULT):
        log.tell(
            "done-without-result",
            f"row {row.line}: done, but without a result: shown as `{ActionStatus.NOT_MEASURED.value}`",
            *row.at(LogColumn.STATUS),
            warns=True,
            found="`done` with nothing under result",
            expected="what the measure showed",
            why="done is not the same as working: it is not closed until it has been counted",
            example="19 of 20",
        )
        return ActionStatus.NOT_MEASURED
    return status


# Words


def _word(kind: type[_Closed], cell: str) -> _Closed | None:
    try:
        return kind(cell)
    except ValueError:
        return _spoken(kind).get(tidy(cell))


@cache
def _spoken(kind: type[_Closed]) -> dict[str, _Closed]:
    """Every word of a closed list in every language, in the form that is compared."""
    found: dict[str, _Closed] = {}
    for language in (labels.ENGLISH, *labels.languages()):
        with labels.speaking(language):
            for word in kind:
                found.setdefault(tidy(term(word).reveal()), word)
    return found


def _listed(words: Iterable[Word]) -> str:
    return ", ".join(f"`{word.value}`" for word in words)
