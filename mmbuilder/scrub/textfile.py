"""Text files: bytes to text and back with nothing changed but what identifies."""

from __future__ import annotations

import codecs
import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import accumulate, pairwise

from mmbuilder.case.tidy import seen
from mmbuilder.errors import FileRefused
from mmbuilder.scrub.findings import Finding, Look, of_span, replaced
from mmbuilder.scrub.plan import Span

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


def decoded(data: bytes) -> Text:
    """Read text: by its byte-order mark, else as UTF-8, else as Windows-1252.

    Raises:
        FileRefused: too large, or no text at all.
    """
    if len(data) > MAX_TEXT:
        raise FileRefused(
            f"the text holds {len(data) / 2**20:.0f} MB; at most {MAX_TEXT // 2**20} MB are read"
        )
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
    """Scrub running text, and the tables that stand in it as in Markdown."""
    spans = find(text, look)
    spans = sorted([*spans, *_in_tables(text, look, spans)], key=lambda span: span.start)
    return replaced(text, spans), spans


_RULE = r"[ \t]*\|?[ \t]*:?-+:?[ \t]*(?:\|[ \t:-]*)+"
_TABLE = re.compile(
    rf"^(?P<head>[^\n]*\|[^\n]*)\n{_RULE}\r?\n(?P<rows>(?:[^\n]*\|[^\n]*(?:\n|\Z))+)", re.MULTILINE
)
_FIELD = re.compile(r"[^|\n]*[^|\s][^|\n]*")


def _in_tables(text: str, look: Look, known: Sequence[Span]) -> Iterator[Span]:
    """What a column's heading tells of its cells, beside what is known already."""
    for table in _TABLE.finditer(text):
        headings = [field.strip() for field in table["head"].strip().strip("|").split("|")]
        fields = list(_below(text, table, headings))
        found = look([cue + text[start:end] for cue, start, end in fields])
        for (cue, start, end), spans in zip(fields, found, strict=True):
            if not any(span.start < end and start < span.end for span in known):
                yield from (moved(span, start - len(cue)) for span in spans if span.start >= len(cue))


def _below(text: str, table: re.Match[str], headings: Sequence[str]) -> Iterator[tuple[str, int, int]]:
    """(heading as a cue, start, end) of every filled cell below a heading."""
    start = table.start("rows")
    for line in table["rows"].splitlines(keepends=True):
        shift = 1 if line.lstrip().startswith("|") else 0
        for cell in _FIELD.finditer(line):
            column = line.count("|", 0, cell.start()) - shift
            if column < len(headings) and headings[column]:
                bare = start + cell.start() + len(cell[0]) - len(cell[0].lstrip())
                yield f"{headings[column]}: ", bare, start + cell.start() + len(cell[0].rstrip())
        start += len(line)


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
        found = list(by_itself) or [moved(span, -len(cue)) for span in by_heading if span.start >= len(cue)]
        if found:
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
