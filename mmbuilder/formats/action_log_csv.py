"""The action log as CSV, to be opened in a spreadsheet and read back at the next meeting.

RFC 4180: commas, CRLF, every cell in quotation marks, one row of headings; UTF-8 with the mark
by which spreadsheets know it. No cell is run as a formula; see `safe.formula`.
"""

from __future__ import annotations

import codecs
import csv
import io
from collections.abc import Iterable
from datetime import date

from mmbuilder.formats import _log
from mmbuilder.safe.formula import neutral
from mmbuilder.safe.log import LoggedAction
from mmbuilder.safe.terms import PaperSize

LOG = "csv"
"""What a use calls it; it is written from the rows of the action log and not from a storyboard."""

SUFFIX = ".csv"


def write(rows: Iterable[LoggedAction], size: PaperSize = PaperSize.A4) -> bytes:
    """Write the log: dates as year-month-day, everything else as it is said; no sheet has a size here."""
    stream = io.StringIO(newline="")
    writer = csv.writer(stream, quoting=csv.QUOTE_ALL, lineterminator="\r\n")
    writer.writerow(_log.heading())
    writer.writerows([*map(_cell, _log.cells(row).values())] for row in rows)
    return codecs.BOM_UTF8 + stream.getvalue().encode()


def _cell(value: _log.Value) -> str:
    return value.isoformat() if isinstance(value, date) else neutral(value)
