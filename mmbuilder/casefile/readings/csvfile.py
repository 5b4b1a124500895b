"""Rows of a CSV file, read as a stream within bounds: encoding, delimiter and heading row found by looking.

Bounds: 20 MB, 200,000 rows, 500 columns, 131,072 characters a cell (the `csv` module's own).
At most one row and the columns asked for are held, whatever the file holds.
"""

from __future__ import annotations

import codecs
import csv
from collections.abc import Iterator, Sequence
from contextlib import suppress
from itertools import islice
from pathlib import Path

from mmbuilder.errors import FileRefused

MOST_BYTES = 20 * 2**20
MOST_ROWS = 200_000
MOST_COLUMNS = 500

_CHUNK = 2**16
_LOOK = 30
"""Rows looked at for the headings: device exports put a few lines of their own above them."""

_MARKS = ((codecs.BOM_UTF8, "utf-8-sig"), (codecs.BOM_UTF16_LE, "utf-16"), (codecs.BOM_UTF16_BE, "utf-16"))


def encoding(path: Path) -> str:
    """Return the encoding: by its byte-order mark, else UTF-8 if all of it is, else Windows-1252.

    Raises:
        FileRefused: too large, or not text.
    """
    if path.stat().st_size > MOST_BYTES:
        raise FileRefused(f"the file is larger than {MOST_BYTES // 2**20} MB")
    with path.open("rb") as stream:
        head = stream.read(4)
        for mark, name in _MARKS:
            if head.startswith(mark):
                return name
        stream.seek(0)
        return _unmarked(iter(lambda: stream.read(_CHUNK), b""))


def _unmarked(chunks: Iterator[bytes]) -> str:
    decoder, clean = codecs.getincrementaldecoder("utf-8")(), True
    for chunk in chunks:
        if b"\0" in chunk:
            raise FileRefused("the file holds NUL bytes, so it is not a text table")
        try:
            decoder.decode(chunk) if clean else None
        except UnicodeDecodeError:
            clean = False
    with suppress(UnicodeDecodeError):
        decoder.decode(b"", final=True)
        return "utf-8" if clean else "cp1252"
    return "cp1252"


def rows(path: Path, encoding: str, delimiter: str) -> Iterator[tuple[int, list[str]]]:
    """Yield (line number, cells) of each row that is not empty, up to the bounds.

    Raises:
        FileRefused: too many rows or columns, a cell too long, or bytes that are no text.
    """
    with path.open(encoding=encoding, newline="") as stream:
        reader = csv.reader(stream, delimiter=delimiter)
        try:
            for count, cells in enumerate(filter(None, reader)):
                if count > MOST_ROWS:
                    raise FileRefused(f"the file has more than {MOST_ROWS:,} rows")
                if len(cells) > MOST_COLUMNS:
                    raise FileRefused(f"line {reader.line_num} has more than {MOST_COLUMNS} columns")
                yield reader.line_num, cells
        except csv.Error as fault:
            raise FileRefused(f"line {reader.line_num} cannot be read as a row of a table") from fault
        except UnicodeError as fault:
            raise FileRefused(f"after line {reader.line_num} there are bytes that are no text") from fault


def delimiter(path: Path, encoding: str, wanted: Sequence[str]) -> tuple[str, int]:
    """Return (delimiter, line of the headings): those under which most of the wanted headings are found.

    Args:
        path: the file.
        encoding: as `encoding()` found it.
        wanted: headings in their plain form (see `columns.plain`).

    Raises:
        FileRefused: as `rows()`, or the file is empty.
    """
    from mmbuilder.casefile.readings.columns import places

    best = (-1, 0, ",", 0)
    for sign in (",", ";", "\t"):
        for line, cells in islice(rows(path, encoding, sign), _LOOK):
            found = sum(place is not None for place in places(wanted, cells))
            # At a tie the earliest row with most cells wins: that is where headings are.
            best = max(best, (found, len(cells), sign, line), key=lambda kind: kind[:2])
    if best[0] < 0:
        raise FileRefused("the file is empty")
    return best[2], best[3]
