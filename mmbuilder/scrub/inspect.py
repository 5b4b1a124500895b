"""Look into a finished file for what may identify, and tell kinds and places, never the text."""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from mmbuilder.case.identifiers import Declared
from mmbuilder.scrub import textfile
from mmbuilder.scrub.declared import Index
from mmbuilder.scrub.findings import Finding, spans_of
from mmbuilder.scrub.images import metadata, regions, sniff
from mmbuilder.scrub.images.decode import read
from mmbuilder.scrub.layers import NoNameModel
from mmbuilder.scrub.sweep.fold import fold, humps, tokens
from mmbuilder.scrub.sweep.needle import markup_words
from mmbuilder.scrub.sweep.parts import Piece, is_zip, pieces
from mmbuilder.scrub.sweep.views import is_text, texts

_PDF = (
    "text in a PDF is often drawn with codes of its own fonts: what was not found here may still be "
    "there. Open it, select all, and read"
)
_PARAGRAPH = re.compile(
    r"</(?:\w+:)?(?:p|text|title|desc|si|li|td|th|h[1-6]|cell|comment|is)\s*>|<(?:\w+:)?br\s*/?>"
)
_TAG = re.compile(r"<[^>]*>")
_SHOWN = re.compile(r'\b(?:descr|title|alt|tooltip)="([^"]+)"')
_EXTERNAL = re.compile(r'TargetMode\s*=\s*"External"')
_PROPERTIES = {
    "creator": "author in the properties",
    "lastModifiedBy": "last editor in the properties",
    "Company": "company in the properties",
    "Manager": "manager in the properties",
    "HyperlinkBase": "link base in the properties",
    "Template": "template in the properties",
    "keywords": "keywords in the properties",
    "description": "description in the properties",
}
_PROPERTY = re.compile(rf"<(?:\w+:)?({'|'.join(_PROPERTIES)})(?:\s[^>]*)?>\s*[^<\s]")
_PLAIN_TEMPLATES = re.compile(r"<Template>(?:Office Theme|Normal(?:\.dotm)?)?</Template>")
_PARTS = (
    (re.compile(r"docProps/thumbnail\."), "thumbnail of an earlier state"),
    (re.compile(r"(?:comments?|commentAuthors|authors)\d*\.xml$|/comments/"), "comments and their authors"),
    (re.compile(r"docProps/custom\.xml$"), "custom properties"),
    (re.compile(r"customXml/item\d+\.xml$"), "custom data"),
    (re.compile(r"printerSettings"), "printer settings"),
    (re.compile(r"vbaProject\.bin$"), "macros"),
    (re.compile(r"/tags/tag\d+\.xml$"), "data of an add-in"),
    (re.compile(r"/embeddings/"), "embedded file"),
)


@dataclass(frozen=True)
class Inspection:
    """What was found in one file.

    Attributes:
        file: its name as given.
        findings: kinds and places.
        notes: what could not be looked at.
    """

    file: Path
    findings: tuple[Finding, ...] = ()
    notes: tuple[str, ...] = ()

    def as_dict(self) -> dict[str, object]:
        """Plain values for JSON."""
        return {
            "file": str(self.file),
            "findings": [finding.as_dict() for finding in self.findings],
            "notes": list(self.notes),
        }


def inspect(path: Path, declared: Declared | None = None) -> Inspection:
    """Look into a file.

    Args:
        path: a deck, document, workbook, zip, picture, PDF or text.
        declared: the private list; without it only patterns are found.

    Raises:
        FileRefused: it cannot be opened, is damaged, or unpacks beyond the bounds.
    """
    data = read(path)
    index = Index(declared or Declared())
    findings: list[Finding] = []
    notes = list(NoNameModel.unchecked)
    for piece in pieces("the file", data):
        findings += _in_piece(piece, index, packed=is_zip(data))
        notes += _unread(piece)
    return Inspection(path, tuple(dict.fromkeys(findings)), tuple(dict.fromkeys(notes)))


def _unread(piece: Piece) -> Iterator[str]:
    if piece.data.startswith(b"%PDF"):
        yield _PDF
    elif sniff.container(piece.data[: sniff.HEAD]) is not None:
        yield from (f"pictures: {words}" for words in regions.unchecked())
    elif piece.data and not piece.structure and not is_text(piece.data):
        yield "parts that are neither text nor a picture of a kind that is read"


def _in_piece(piece: Piece, index: Index, *, packed: bool) -> Iterator[Finding]:
    where = place_of(piece)
    if piece.label and not piece.data:
        yield from _named(piece, where, index)
    elif sniff.container(piece.data[: sniff.HEAD]) is not None:
        yield from (Finding(kind, f"{where}: metadata") for kind in metadata.kinds(piece.data))
    elif piece.structure or (piece.data and not is_text(piece.data)):
        return
    else:
        yield from _in_text(next(texts(piece.data)), where, index, packed)


def place_of(piece: Piece) -> str:
    """The name of a part where it is one of the format's own, else its number: a name can identify."""
    words = [fold(part) for word in tokens(piece.label) for part in humps(word)]
    usual = all(len(word) < 4 or word.isdigit() or word in markup_words() | _PART_WORDS for word in words)
    long = any(word.isdigit() and len(word) > 3 for word in words)
    return piece.label if piece.label and usual and not long else piece.name


_PART_WORDS = frozenset(
    [
        *("jpeg", "webp", "tiff", "xlsx", "docx", "pptx", "content", "types", "rels", "json", "html", "yaml"),
        *(
            "word",
            "media",
            "document",
            "styles",
            "settings",
            "fonts",
            "font",
            "numbering",
            "footnotes",
            "endnotes",
        ),
        *(
            "comments",
            "comment",
            "authors",
            "people",
            "glossary",
            "workbook",
            "worksheets",
            "sheet",
            "shared",
        ),
        *(
            "strings",
            "calc",
            "chain",
            "microsoft",
            "excel",
            "object",
            "diagrams",
            "drawings",
            "drawing",
            "colors",
        ),
        *(
            "embeddings",
            "item",
            "custom",
            "props",
            "printer",
            "tags",
            "model",
            "charts",
            "chart",
            "tables",
            "table",
        ),
        *("project", "pivot", "connections", "metadata", "manifest", "mimetype", "activex", "handout"),
    ]
)
"""Words that names of parts are made of, besides those in `markup_words.txt`."""


def _named(piece: Piece, where: str, index: Index) -> Iterator[Finding]:
    last = piece.label.rpartition(" > ")[2]
    yield from (Finding(kind, where) for pattern, kind in _PARTS if pattern.search(last))
    (spans,) = spans_of([last.replace("_", " ")], index)
    yield from (Finding(span.kind, f"{piece.name}, its name", span.start, span.end) for span in spans)


def _in_text(text: str, where: str, index: Index, packed: bool) -> Iterator[Finding]:
    marked_up = text.lstrip("\ufeff \r\n\t").startswith("<")
    if not marked_up:
        spans = textfile.find(text, index)
        lines = textfile.located(text, spans)
        prefix = f"{where}, " if packed else ""
        yield from (Finding(line.kind, prefix + line.where, line.start, line.end) for line in lines)
        return
    yield from _properties(text, where)
    if _EXTERNAL.search(text):
        yield Finding("link out of the file", where)
    listed = list(_paragraphs(text))
    found = spans_of([words for _, words in listed], index)
    for (number, _), spans in zip(listed, found, strict=True):
        yield from (Finding(span.kind, f"{where}, {number}", span.start, span.end) for span in spans)


def _properties(text: str, where: str) -> Iterator[Finding]:
    if "docProps/" not in where and "properties" not in text[:600].lower():
        return
    for found in _PROPERTY.finditer(_PLAIN_TEMPLATES.sub("", text)):
        yield Finding(_PROPERTIES[found[1]], where)


def _paragraphs(text: str) -> Iterator[tuple[str, str]]:
    """Words of each paragraph with its number, runs joined; then alternative texts and titles."""
    for number, part in enumerate(_PARAGRAPH.split(text), 1):
        words = html.unescape(_TAG.sub("" if _RUN.search(part) else " ", part)).strip()
        if words and not words.replace(".", "").isdigit():
            yield f"paragraph {number}", words
    for number, words in enumerate(_SHOWN.findall(text), 1):
        yield f"description {number}", html.unescape(words)


_RUN = re.compile(r"<(?:\w+:t|tspan|span|b|i|em|strong)\b")
