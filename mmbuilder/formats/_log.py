"""The action log as a table of plain cells, for the formats that write it as a spreadsheet."""

from __future__ import annotations

from datetime import date
from typing import TypeAlias

from mmbuilder.formats._sink import plain
from mmbuilder.safe.log import LoggedAction
from mmbuilder.safe.terms import LogColumn, term
from mmbuilder.safe.text import EMPTY

Value: TypeAlias = "str | date"


def heading() -> tuple[str, ...]:
    """Return the names of the columns, in the language that is written now."""
    return tuple(plain(term(column)) for column in LogColumn)


def cells(row: LoggedAction) -> dict[LogColumn, Value]:
    """Return the cells of a row. A due date is a day, or the words where it is none: never both."""
    return {
        LogColumn.ID: plain(row.id),
        LogColumn.CASE: plain(row.case),
        LogColumn.ACTION: plain(row.what),
        LogColumn.STRENGTH: plain(term(row.strength) if row.strength else EMPTY),
        LogColumn.OWNER: plain(row.owner),
        LogColumn.DUE: row.due_day or plain(row.due),
        LogColumn.MEASURE: plain(row.measure),
        LogColumn.BASELINE: plain(row.baseline),
        LogColumn.RESULT: plain(row.result),
        LogColumn.STATUS: plain(term(row.status)),
        LogColumn.REASON: plain(row.reason),
        LogColumn.EVIDENCE: plain(row.evidence),
    }
