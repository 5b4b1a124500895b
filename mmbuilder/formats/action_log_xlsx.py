"""The action log as a workbook: dates are dates, figures are figures, and words are never a formula.

Words are written as strings by type, and marked as words to the spreadsheet too (`quotePrefix`,
ECMA-376 Part 1, 18.8.45), so that a cell stays what it is when somebody edits it.
Source of the need: OWASP, "CSV Injection".
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterable
from datetime import date
from enum import StrEnum
from textwrap import wrap
from typing import Any

from mmbuilder.formats import _log, _workbook
from mmbuilder.formats._sink import plain
from mmbuilder.safe.log import LoggedAction
from mmbuilder.safe.terms import ActionStatus, LogColumn, PaperSize, Strength, term
from mmbuilder.safe.text import wording

LOG = "xlsx"
"""What a use calls it; it is written from the rows of the action log and not from a storyboard."""

SUFFIX = ".xlsx"

_WIDTHS = {
    LogColumn.ID: 6,
    LogColumn.CASE: 13,
    LogColumn.ACTION: 32,
    LogColumn.STRENGTH: 13,
    LogColumn.OWNER: 17,
    LogColumn.DUE: 11,
    LogColumn.MEASURE: 30,
    LogColumn.BASELINE: 13,
    LogColumn.RESULT: 13,
    LogColumn.STATUS: 12,
    LogColumn.REASON: 18,
    LogColumn.EVIDENCE: 20,
}
"""In characters; together they fit a landscape sheet at a size that can be read."""

_LISTS: dict[LogColumn, type[StrEnum]] = {LogColumn.STRENGTH: Strength, LogColumn.STATUS: ActionStatus}
"""Columns that offer their words."""

_FIGURES = (LogColumn.BASELINE, LogColumn.RESULT)
_FIGURE = re.compile(r"[+-]?(?:0|[1-9]\d{0,11})(?:\.(?P<places>\d{1,6}))?(?P<percent>%?)")
"""What is certainly a figure: a code with a leading zero is not, and a long number would lose its end."""

_DAY = "yyyy-mm-dd"
_LINE = 15
"""Points a line of 11 points takes."""
_HIGHEST = 409
"""Points a row may have at most, in the program that sets the limits."""
_MARGIN = 0.4
"""Inches."""
_SPARE_ROWS = 200
"""Rows below the last that still offer their words."""

_SIZES = {PaperSize.LETTER: 1, PaperSize.A4: 9}
"""ECMA-376 Part 1, 18.3.1.63, `paperSize`."""


def write(rows: Iterable[LoggedAction], size: PaperSize = PaperSize.A4) -> bytes:
    """Write the workbook: the same rows give the same bytes.

    Args:
        rows: in the order they are to stand in.
        size: of the sheet it is printed on.
    """
    import openpyxl

    book = openpyxl.Workbook()
    sheet: Any = book.active
    sheet.title = plain(wording("Action log"))
    _fill(sheet, rows)
    _offer(sheet)
    _set_out(sheet, size)
    saved = io.BytesIO()
    book.save(saved)
    return _workbook.close(saved.getvalue())


def _fill(sheet: Any, rows: Iterable[LoggedAction]) -> None:
    from openpyxl.styles import Alignment, Font, PatternFill

    wrapped = Alignment(wrap_text=True, vertical="top")
    to_the_left = Alignment(horizontal="left", vertical="top")
    for place, name in enumerate(_log.heading(), 1):
        cell = sheet.cell(1, place)
        _say(cell, name)
        cell.font, cell.fill = (
            Font(name="Calibri", size=11, bold=True),
            PatternFill("solid", fgColor="FFE6E6E6"),
        )
        cell.alignment = wrapped
    for line, row in enumerate(rows, 2):
        for place, (column, value) in enumerate(_log.cells(row).items(), 1):
            cell = sheet.cell(line, place)
            _put(cell, column, value)
            cell.alignment = to_the_left if isinstance(value, date) else wrapped
        sheet.row_dimensions[line].height = _height(_log.cells(row))


def _height(cells: dict[LogColumn, _log.Value]) -> int:
    """Points for the cell with most lines: not every program works it out when it opens the file."""
    lines = [len(wrap(str(value), _WIDTHS[column])) for column, value in cells.items()]
    return min(_LINE * max(1, *lines), _HIGHEST)


def _put(cell: Any, column: LogColumn, value: _log.Value) -> None:
    """Write a value as what it is."""
    if isinstance(value, date):
        cell.value, cell.number_format = value, _DAY
    elif column in _FIGURES and (figure := _FIGURE.fullmatch(value)):
        number = float(value.rstrip("%"))
        cell.value = number / 100 if figure["percent"] else number
        cell.number_format = (
            "0" + (f".{'0' * len(figure['places'])}" if figure["places"] else "") + figure["percent"]
        )
    elif value:
        _say(cell, value)


def _say(cell: Any, words: str) -> None:
    """Write words as words, whatever they begin with."""
    cell.value = words
    cell.data_type = "s"  # the library would take "=1+1" for a formula and "#N/A" for an error
    cell.quotePrefix = True


def _offer(sheet: Any) -> None:
    """Let strength and status be chosen from their words."""
    from openpyxl.utils import get_column_letter
    from openpyxl.worksheet.datavalidation import DataValidation

    last = sheet.max_row + _SPARE_ROWS
    for column, kind in _LISTS.items():
        offered = ",".join(plain(term(word)) for word in kind)
        validation = DataValidation(type="list", formula1=f'"{offered}"', allow_blank=True)
        letter = get_column_letter([*LogColumn].index(column) + 1)
        validation.add(f"{letter}2:{letter}{last}")
        sheet.add_data_validation(validation)


def _set_out(sheet: Any, size: PaperSize) -> None:
    """Columns, headings that stay in sight and on every printed page, landscape and as wide as the sheet."""
    from openpyxl.utils import get_column_letter

    for place, column in enumerate(LogColumn, 1):
        sheet.column_dimensions[get_column_letter(place)].width = _WIDTHS[column]
    sheet.freeze_panes = "A2"
    sheet.auto_filter.ref = sheet.dimensions
    sheet.print_title_rows = "1:1"
    sheet.page_setup.orientation = "landscape"
    sheet.page_setup.paperSize = _SIZES[size]
    sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = 1, 0  # 0: as many pages as it takes
    sheet.sheet_properties.pageSetUpPr.fitToPage = True
    margins = sheet.page_margins
    margins.left = margins.right = margins.top = _MARGIN
    sheet.oddFooter.right.text = "&P / &N"
