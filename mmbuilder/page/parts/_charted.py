"""A chart that was copied into the note: a row of headings, the time first, and rows of figures below it.

Its figures are readings, taken as a table under Readings; what is remarked behind them is proposed as events.
How such a chart is typed is common practice, no source.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

_LEAST_ROWS = 3
"""Rows that are a chart; two may be two lines that look alike."""
_LEAST_COLUMNS = 2
"""Figures of a row."""
_TIME = re.compile(r"\W*(?:time|clock|hrs|hh:?mm)\b\W*", re.IGNORECASE)
"""What heads the first column."""
_ROW = re.compile(r"\W*(?P<time>(?:[01]?\d|2[0-3])[:.]?[0-5]\d)(?:\s?h)?(?:\s*[|,;\t]\s*|\s+)(?P<rest>\S.*)")
_CELL = re.compile(
    r"(?:~?(?:(?P<pair>\d{2,3}/\d{2,3})|(?P<figures>\d+(?:[.,]\d+)?)%?)|[-–—?.]+|n/?a)(?=[\s|]|$)",
    re.IGNORECASE,
)
"""A figure, a pressure of two, or a sign that there is none."""
_REMARKS = re.compile(r"notes?|remarks?|comments?|events?|drugs?|meds?|other|action", re.IGNORECASE)
_PARTS = re.compile(r"\s*[|\t]\s*|\s+")
_SIDES = "sys", "dia"
"""Behind the heading of a pressure of two figures: the names of its columns."""


@dataclass(frozen=True)
class Row:
    """A row of a chart.

    Attributes:
        line: as it stands in the note.
        cells: a figure, two with a stroke, or nothing, for each column behind the time.
        remark: what stands behind the figures.
    """

    line: str
    time: str
    cells: tuple[str, ...]
    remark: str


@dataclass(frozen=True)
class Chart:
    """A chart of the note.

    Attributes:
        headings: of the columns behind the time that hold figures.
    """

    headings: tuple[str, ...]
    rows: tuple[Row, ...]

    def table(self) -> str:
        """Return its times and figures as a text table, without remarks, which may name somebody."""
        pairs = [any("/" in row.cells[place] for row in self.rows) for place in range(len(self.headings))]
        out = io.StringIO()
        put = csv.writer(out, lineterminator="\n").writerow
        columns = [_split(heading, two) for heading, two in zip(self.headings, pairs, strict=True)]
        put(["time", *(name for names in columns for name in names)])
        for row in self.rows:
            cells = [_figures(cell, two) for cell, two in zip(row.cells, pairs, strict=True)]
            put([row.time, *(cell for own in cells for cell in own)])
        return out.getvalue()


def charts(text: str) -> Iterator[Chart]:
    """Yield the charts of a note, in order."""
    lines = text.splitlines()
    for place, line in enumerate(lines):
        if headings := _headings(line):
            rows = [*_rows(lines[place + 1 :], headings)]
            if len(rows) >= _LEAST_ROWS:
                yield Chart(tuple(headings), tuple(rows))


def _headings(line: str) -> list[str]:
    """The headings behind the time, as far as the remarks; none where a line is no row of headings."""
    first = _TIME.match(line)
    words = [one for one in _PARTS.split(line[first.end() :]) if one] if first else []
    named = [one for one in words if not _REMARKS.fullmatch(one)]
    plain = all(re.match(r"[^\W\d_]", one) and not one.endswith((".", ":")) for one in words)
    return named if plain and len(named) >= _LEAST_COLUMNS else []


def _rows(lines: Sequence[str], headings: Sequence[str]) -> Iterator[Row]:
    """Yield the rows that stand right below headings."""
    for line in lines:
        row = _row(line, len(headings))
        if row is None:
            return
        yield row


def _row(line: str, columns: int) -> Row | None:
    found = _ROW.fullmatch(line.rstrip())
    if found is None:
        return None
    rest, cells = found["rest"], list[str]()
    while rest and len(cells) < columns and (cell := _CELL.match(rest)):
        cells.append(cell["pair"] or cell["figures"] or "")
        rest = rest[cell.end() :].lstrip(" \t|")
    if sum(map(bool, cells)) < _LEAST_COLUMNS:
        return None
    cells += [""] * (columns - len(cells))
    return Row(line.strip(), found["time"], tuple(cells), rest.strip())


def _split(heading: str, two: bool) -> list[str]:
    return [f"{heading} {side}" for side in _SIDES] if two else [heading]


def _figures(cell: str, two: bool) -> list[str]:
    return [*cell.split("/"), ""][:2] if two and "/" in cell else ["", ""] if two else [cell]
