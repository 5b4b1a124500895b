"""Text files: bytes to text and back with nothing changed but what identifies."""

from __future__ import annotations

import codecs
import re
from bisect import bisect_right
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import accumulate, pairwise
from operator import itemgetter

from mmbuilder.case.tidy import seen
from mmbuilder.errors import FileRefused
from mmbuilder.scrub import columns
from mmbuilder.scrub.findings import Finding, Look, of_span, replaced
from mmbuilder.scrub.plan import Layer, Span

MAX_TEXT = 20 * 2**20
LONGEST_RUN = 20_000
"""Characters looked at in one go: a paragraph, or lines of a longer one."""

_MARKS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)
_BLANK = re.compile(r"(?:\r?\n[ \t]*){2,}|(?<=\r)\r(?!\n)")


@dataclass(frozen=True)
class Text:
    """A decoded text file, and how to write it again."""

    text: str = field(repr=False)
    encoding: str
    mark: bytes = b""

    def encoded(self, text: str) -> bytes:
        """Bytes in the file's own encoding; a sign of ours that it has not becomes a question mark."""
        return self.mark + text.encode(self.encoding, "replace")


def decoded(data: bytes, most: int = 0) -> Text:
    """Read text: by its byte-order mark, else as UTF-8, else as Windows-1252.

    Args:
        data: the file.
        most: bytes that are read, where they are not those of `MAX_TEXT`.

    Raises:
        FileRefused: too large, or no text at all.
    """
    most = most or MAX_TEXT
    if len(data) > most:
        raise FileRefused(f"the text holds {len(data) / 2**20:.0f} MB; at most {most // 2**20} MB are read")
    for mark, encoding in _MARKS:
        if data.startswith(mark):
            return _strict(data[len(mark) :], (encoding,), mark)
    return _strict(data, ("utf-8", "cp1252"), b"")


def _strict(data: bytes, encodings: tuple[str, ...], mark: bytes) -> Text:
    for encoding in encodings:
        try:
            text = data.decode(encoding)
        except UnicodeDecodeError:
            continue
        if "\0" not in text:
            return Text(seen(text), encoding, mark)
    raise FileRefused("the file is no plain text that can be read; save it as UTF-8 text")


def runs(text: str) -> Iterator[tuple[int, str]]:
    """(offset, paragraph); long ones are parted at line ends."""
    edges = [0, *(found.end() for found in _BLANK.finditer(text)), len(text)]
    for start, end in pairwise(edges):
        while end - start > LONGEST_RUN:
            cut = text.rfind("\n", start, start + LONGEST_RUN) + 1 or start + LONGEST_RUN
            yield start, text[start:cut]
            start = cut
        if start < end:
            yield start, text[start:end]


def find(text: str, look: Look) -> list[Span]:
    """Everything that may identify, with offsets into the whole text."""
    parted = list(runs(text))
    found = look([run for _, run in parted])
    return [moved(span, start) for (start, _), spans in zip(parted, found, strict=True) for span in spans]


def moved(span: Span, by: int) -> Span:
    """The same finding further on."""
    return replace(span, start=span.start + by, end=span.end + by)


def located(text: str, spans: list[Span]) -> tuple[Finding, ...]:
    """Findings with their line, counted from 1, and offsets into the text."""
    ends = list(accumulate(len(line) for line in text.splitlines(keepends=True)))
    found, line = [], 0
    for span in spans:
        while line < len(ends) and ends[line] <= span.start:
            line += 1
        found.append(of_span(span, f"line {line + 1}"))
    return tuple(found)


def plain(text: str, look: Look) -> tuple[str, list[Span]]:
    """Scrub running text, and cell by cell the tables that stand in it."""
    spans, tables = find(text, look), list(_tables(text))
    measures = _measures(text, tables)
    spans = [
        span
        for span in spans
        if not (
            _across(text, span, tables) or _in_a_heading(text, span, tables) or _is_measure(span, measures)
        )
    ]
    more = [span for _, rows in tables for span in _in_table(text, rows, look, spans)]
    spans = sorted([*spans, *more], key=lambda span: span.start)
    return replaced(text, spans), spans


# --- tables in running text -------------------------------------------------------------------

_Row = list[tuple[int, int]]
"""Where the text of each field of a line stands."""

_BETWEEN = {"|": re.compile(r"\|"), "\t": re.compile(r"\t"), "  ": re.compile(r" {2,}")}
"""Marks, tabs and gaps: what parts the fields of a line, the first that it holds."""
_FEWEST = 3
"""Columns of a table that has no rule below its headings: two are a label and its value. Bars part much, so one column must be of people or places."""
_HEADING = re.compile(r"[^\W\d]+(?:[ /-][^\W\d]+){0,3}\.?")
_RULE = re.compile(r":?-+:?")


_Table = tuple[str, list[_Row]]
"""What parts its fields, and its rows."""


def _tables(text: str) -> Iterator[_Table]:
    """Runs of lines with as many fields as their first, which are headings."""
    run, of = list[_Row](), ("", 0)
    start = 0
    for line in [*text.splitlines(keepends=True), ""]:
        sign, row = _fields(line, start)
        if (sign, len(row)) != of:
            if _is_table(text, run, of[0]):
                yield of[0], run
            run, of = [], (sign, len(row))
        run.append(row)
        start += len(line)


def _fields(line: str, start: int) -> tuple[str, _Row]:
    bare = line.rstrip("\r\n")
    sign = next((sign for sign in _BETWEEN if sign in bare.strip(" |")), "")
    if not sign:
        return "", []
    first = len(bare) - len(bare.lstrip(" |" if sign == "|" else " "))
    last = len(bare.removesuffix("|") if sign == "|" else bare.rstrip(" "))
    edges = [
        first,
        *(edge for gap in _BETWEEN[sign].finditer(bare, first, last) for edge in gap.span()),
        last,
    ]
    pairs = zip(edges[::2], edges[1::2], strict=True)
    return sign, [_stripped(line, start, one, two) for one, two in pairs]


def _stripped(line: str, start: int, one: int, two: int) -> tuple[int, int]:
    said = line[one:two]
    left = len(said) - len(said.lstrip())
    return start + one + left, start + one + max(left, len(said.rstrip()))


def _is_table(text: str, run: Sequence[_Row], sign: str) -> bool:
    if len(run) < 2 or not sign:
        return False
    if sign == "|" and all(_RULE.fullmatch(text, *field) for field in run[1]):
        return True
    headed = len(run[0]) >= _FEWEST and all(_HEADING.fullmatch(text, *field) for field in run[0])
    return headed and (sign != "|" or any(columns.heads(text[slice(*field)]) for field in run[0]))


def _across(text: str, span: Span, tables: Sequence[_Table]) -> bool:
    """Whether a pattern was seen over the edge of a cell: two readings are no one number."""
    if span.layer is not Layer.PATTERN:
        return False
    said = text[span.start : span.end]
    return any(
        rows[0][0][0] <= span.start < rows[-1][-1][1] and ("\n" in said or sign in said)
        for sign, rows in tables
    )


def _in_a_heading(text: str, span: Span, tables: Sequence[_Table]) -> bool:
    """Whether a finding is the heading of a column: `Ward` is nobody there."""
    if span.layer is Layer.DECLARED:
        return False
    return any(
        start <= span.start and span.end <= end and columns.heads(text[start:end])
        for _, rows in tables
        for start, end in rows[0]
    )


def _measures(text: str, tables: Sequence[_Table]) -> list[tuple[int, int]]:
    """Where decimals stand below headings that speak of no day."""
    return [
        cell
        for _, rows in tables
        for row in rows[1:]
        for head, cell in zip(rows[0], row, strict=True)
        if columns.measured(text[slice(*head)], text[slice(*cell)])
    ]


def _is_measure(span: Span, measures: Sequence[tuple[int, int]]) -> bool:
    """Whether a date was read into one of them."""
    if span.letter != "C" or span.layer is Layer.DECLARED:
        return False
    at = bisect_right(measures, span.start, key=itemgetter(0))
    return at > 0 and span.end <= measures[at - 1][1]


def _in_table(text: str, table: Sequence[_Row], look: Look, known: Sequence[Span]) -> Iterator[Span]:
    """What cells say by themselves, or else below their heading, beside what is known already."""
    below = [
        (text[slice(*head)], *cell) for row in table[1:] for head, cell in zip(table[0], row, strict=True)
    ]
    filled = [(f"{head}: " if head else "", start, end) for head, start, end in below if start < end]
    alone = look([text[start:end] for _, start, end in filled])
    cued = look([cue + text[start:end] for cue, start, end in filled])
    ends = [span.end for span in known]
    for (cue, start, end), by_itself, by_heading in zip(filled, alone, cued, strict=True):
        first = bisect_right(ends, start)  # of those known, which lie apart and in order
        if first == len(known) or known[first].start >= end:
            yield from (moved(span, start) for span in _in_cell(cue, text[start:end], by_itself, by_heading))


def _in_cell(cue: str, cell: str, by_itself: Sequence[Span], by_heading: Sequence[Span]) -> list[Span]:
    """What a cell says by itself, else below its heading, else what the heading alone tells of it.

    The name of a place goes whole: of `Vasc Eden` below `Ward` no half is left.
    """
    cued = [moved(span, -len(cue)) for span in by_heading if span.start >= len(cue)]
    below = columns.without_days(cued, cue, cell)
    told = [span for span in by_itself if not (cue and columns.a_word_there(cell, span, below))] or below
    one = columns.below(cue.removesuffix(": "), cell) if cue else None
    whole = one is not None and (one.letter == "B" and not any(span.layer is Layer.DECLARED for span in told))
    return [one] if one and (whole or not told) else told


# --- YAML -------------------------------------------------------------------------------------

_VALUE = re.compile(
    r"^(?P<head>\s*(?:- +)*(?:[^\s#'\"\[{&*!|>][^#\n]*?: +)?)(?P<value>\[.*?)(?P<tail>\s+#.*|\s*)$"
)


def yaml(text: str, look: Look) -> tuple[str, list[Span]]:
    """Scrub YAML as text, so that comments and layout stay.

    A stand-in in brackets at the start of a value would make it a list: such a value is quoted.
    """
    spans = find(text, look)
    scrubbed = replaced(text, spans)
    before, after = text.splitlines(keepends=True), scrubbed.splitlines(keepends=True)
    if len(before) != len(after):
        return scrubbed, spans
    return "".join(map(_quoted, before, after)), spans


def _quoted(before: str, after: str) -> str:
    if before == after or _VALUE.match(before.rstrip("\r\n")):
        return after
    body = after.rstrip("\r\n")
    found = _VALUE.match(body)
    if not found:
        return after
    value = found["value"].replace("'", "''")
    return f"{found['head']}'{value}'{found['tail']}{after[len(body) :]}"


# --- CSV --------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Cell:
    """One field: where its raw text stands, and what it says."""

    row: int
    column: int
    start: int
    raw: str = field(repr=False)

    @property
    def quoted(self) -> bool:
        """Whether it stands in quotes."""
        return len(self.raw) > 1 and self.raw[0] == self.raw[-1] == '"'

    @property
    def says(self) -> str:
        """Its content, doubled quotes made single."""
        return self.raw[1:-1].replace('""', '"') if self.quoted else self.raw

    def offset(self, place: int) -> int:
        """Where in the file a place in the content stands."""
        if not self.quoted:
            return self.start + place
        doubled = self.says[:place].count('"')
        return self.start + 1 + place + doubled

    def rewritten(self, content: str, delimiter: str) -> str:
        """Raw text for a new content, quoted as before, or where it has become necessary."""
        needed = any(sign in content for sign in (delimiter, '"', "\n", "\r"))
        return '"' + content.replace('"', '""') + '"' if self.quoted or needed else content


def delimiter_of(text: str) -> str:
    """Comma, semicolon or tab: the one the first line has most of."""
    first = re.sub(r'"(?:[^"]|"")*"', "", text.partition("\n")[0])
    return max(",;\t", key=first.count)


def cells(text: str, delimiter: str) -> Iterator[Cell]:
    """Every field, in order; what stands between is delimiters and line ends."""
    pattern = re.compile(rf'"(?:[^"]|"")*"(?=[{delimiter}\r\n]|$)|[^{delimiter}\r\n]*')
    place, row, column = 0, 1, 1
    while place <= len(text):
        found = pattern.match(text, place)
        assert found is not None  # the second branch matches nothing, too
        yield Cell(row, column, place, found[0])
        place = found.end()
        if text.startswith(delimiter, place):
            place, column = place + 1, column + 1
        else:
            place += 2 if text.startswith("\r\n", place) else 1
            row, column = row + 1, 1


def csv(text: str, look: Look) -> tuple[str, list[Span]]:
    """Scrub a table cell by cell; a column's heading tells what its cells are."""
    delimiter = delimiter_of(text)
    table = list(cells(text, delimiter))
    headings = {
        cell.column: f"{cell.says.strip()}: " for cell in table if cell.row == 1 and cell.says.strip()
    }
    cues = [headings.get(cell.column, "") if cell.row > 1 and cell.says.strip() else "" for cell in table]
    alone = look([cell.says for cell in table])
    cued = look([cue + cell.says for cue, cell in zip(cues, table, strict=True)])
    out, place, spans = [], 0, list[Span]()
    for cell, cue, by_itself, by_heading in zip(table, cues, alone, cued, strict=True):
        found = _in_cell(cue, cell.says, by_itself, by_heading)
        if found and not (cell.row == 1 and columns.heads(cell.says)):
            out += [text[place : cell.start], cell.rewritten(replaced(cell.says, found), delimiter)]
            place = cell.start + len(cell.raw)
            spans += [
                replace(span, start=cell.offset(span.start), end=cell.offset(span.end)) for span in found
            ]
    return "".join((*out, text[place:])), spans


Scrub = Callable[[str, Look], tuple[str, list[Span]]]

KINDS: dict[str, Scrub] = {".txt": plain, ".md": plain, ".csv": csv, ".yaml": yaml, ".yml": yaml}
"""How a text is scrubbed, by the ending of its name."""


def texts(data: bytes, suffix: str) -> list[str]:
    """Every text that scrubbing such a file will ask about.

    Raises:
        FileRefused: as for `decoded`.
    """
    asked: list[str] = []

    def record(given: Sequence[str]) -> list[list[Span]]:
        asked.extend(given)
        return [[] for _ in given]

    KINDS[suffix](decoded(data).text, record)
    return asked
