"""Rows of a spreadsheet as text, from CSV or XLSX, within bounds.

Bounds: 20 MB (64 MB unpacked), 2,000 rows, 100 columns, 20,000 characters a cell. Of a workbook
the first sheet is read, and of a formula the value it had when the workbook was saved.
"""

from __future__ import annotations

import re
import warnings
import zipfile
from collections.abc import Iterable, Iterator, Sequence
from datetime import date, datetime
from pathlib import Path
from typing import Any, TypeAlias

from mmbuilder.casefile.readings import csvfile
from mmbuilder.errors import FileRefused
from mmbuilder.safe.formula import restored

MOST_ROWS = 2_000
MOST_COLUMNS = 100
MOST_CHARACTERS = 20_000
MOST_UNPACKED = 64 * 2**20

Row: TypeAlias = "tuple[int, list[str]]"
"""Number of the line, or of the row in a workbook, from 1; and its cells."""

_SHOWN = re.compile(r"0(?:\.(?P<places>0+))?(?P<percent>%?)")


def read(path: Path, headings: Sequence[str]) -> list[Row]:
    """Return every row that is not empty.

    Args:
        path: the file.
        headings: words looked for, to tell what parts the cells of a CSV file.

    Raises:
        FileRefused: it is too large, damaged, or of another kind.
    """
    if path.stat().st_size > csvfile.MOST_BYTES:
        raise FileRefused(f"the file is larger than {csvfile.MOST_BYTES // 2**20} MB")
    with path.open("rb") as stream:
        packed = stream.read(2) == b"PK"
    found = _workbook(path) if packed else _text(path, headings)
    return [*_bounded((line, _trimmed(cells)) for line, cells in found if any(cells))]


def _trimmed(cells: list[str]) -> list[str]:
    """Return the cells as they were meant, without the empty ones at the end."""
    last = max(place for place, cell in enumerate(cells, 1) if cell)
    return [*map(restored, cells[:last])]


def _bounded(rows: Iterable[Row]) -> Iterator[Row]:
    for count, (line, cells) in enumerate(rows):
        if count > MOST_ROWS:
            raise FileRefused(f"the file has more than {MOST_ROWS:,} rows")
        if len(cells) > MOST_COLUMNS:
            raise FileRefused(f"row {line} has more than {MOST_COLUMNS} columns")
        if any(len(cell) > MOST_CHARACTERS for cell in cells):
            raise FileRefused(f"a cell in row {line} has more than {MOST_CHARACTERS:,} characters")
        yield line, cells


def _text(path: Path, headings: Sequence[str]) -> Iterator[Row]:
    encoding = csvfile.encoding(path)
    sign, _ = csvfile.delimiter(path, encoding, headings)
    for line, cells in csvfile.rows(path, encoding, sign):
        yield line, [cell.strip() for cell in cells]


def _workbook(path: Path) -> list[Row]:
    # Only where a log is a workbook: no other case pays for it.
    import openpyxl

    try:
        with zipfile.ZipFile(path) as archive:
            if sum(entry.file_size for entry in archive.infolist()) > MOST_UNPACKED:
                raise FileRefused(f"the workbook unpacks to more than {MOST_UNPACKED // 2**20} MB")
        # The library warns of parts it passes over; none of them holds a cell.
        with path.open("rb") as stream, warnings.catch_warnings():
            warnings.simplefilter("ignore")
            book = openpyxl.load_workbook(stream, read_only=True, data_only=True, keep_links=False)
            sheet = book.worksheets[0]
            sheet.reset_dimensions()  # what a sheet says of its size may be wrong
            # One row and one column more than may be, so that `_bounded` tells of them.
            rows = sheet.iter_rows(max_row=MOST_ROWS + 100, max_col=MOST_COLUMNS + 1)
            return [(line, [*map(_told, row)]) for line, row in enumerate(rows, 1)]
    except FileRefused:
        raise
    except Exception as fault:  # a damaged workbook makes the library fail in any way there is
        raise FileRefused("the file is no workbook that can be opened (.xlsx)") from fault


def _told(cell: Any) -> str:
    """Return the value of a cell as it is shown: dates as year-month-day, figures with their places."""
    value: object = cell.value
    match value:
        case None:
            return ""
        case bool():
            return "yes" if value else "no"
        case datetime() | date():
            return f"{value:%Y-%m-%d}"
        case int() | float():
            form = _SHOWN.fullmatch(cell.number_format or "")
            places = len(form["places"] or "") if form else 0
            if form and form["percent"]:
                return f"{value * 100:.{places}f}%"
            return f"{value:.{places}f}" if form else f"{value:.15g}"
        case _:
            return str(value).strip()
