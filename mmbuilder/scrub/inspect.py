"""Look into a finished file for what may identify, and tell kinds and places, never the text."""

from __future__ import annotations

import html
import io
import re
import zipfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import islice
from pathlib import Path, PurePath
from typing import TYPE_CHECKING, Protocol, cast

from mmbuilder.case.identifiers import Declared
from mmbuilder.errors import FileRefused, MissingDependency
from mmbuilder.scrub import textfile
from mmbuilder.scrub.containers._ooxml import vocabulary
from mmbuilder.scrub.containers._ooxml.values import passes, shows_a_number
from mmbuilder.scrub.containers._ooxml.words import built_in
from mmbuilder.scrub.containers.base import CleanText, Tools
from mmbuilder.scrub.containers.tools import Leaf, Scrubber, in_name, leaf_for, not_read, unchecked, unread
from mmbuilder.scrub.containers.zip import carried
from mmbuilder.scrub.declared import Index
from mmbuilder.scrub.findings import Finding, Look, of_box, of_span, parted, replaced
from mmbuilder.scrub.images import metadata, regions, sniff
from mmbuilder.scrub.images.decode import decode_all, read
from mmbuilder.scrub.images.drawings import alike, is_drawing
from mmbuilder.scrub.images.finders import _allow
from mmbuilder.scrub.images.finders.text import KIND as WRITING
from mmbuilder.scrub.images.flat import without_covers
from mmbuilder.scrub.keep.lists import load
from mmbuilder.scrub.plan import Decision, Layer, PixelBox, Span
from mmbuilder.scrub.printed import nameless, spared
from mmbuilder.scrub.sweep import Known, sweep
from mmbuilder.scrub.sweep.fold import fold, humps, tokens
from mmbuilder.scrub.sweep.needle import markup_words
from mmbuilder.scrub.sweep.parts import MAX_PART, Piece, is_zip, pieces
from mmbuilder.scrub.sweep.views import is_text

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray
    from PIL.Image import Image

_PARAGRAPH = re.compile(
    r"</(?:\w+:)?(?:p|text|title|desc|si|li|td|th|h[1-6]|cell|c|oddHeader|oddFooter|comment|is|tableStyleId)\s*>|<(?:\w+:)?br\s*/?>"
)
_MEASURE = re.compile(r"\d{1,5}|\d*\.\d+")
"""Figures too few to be somebody's number, or a length."""
_CSS = re.compile(r"(?<=<style)[^<]*(?=</style>)")
_STYLE = re.compile(r"\{[0-9A-F]{8}(?:-[0-9A-F]{4}){3}-[0-9A-F]{12}\}")
"""The number of a table's style (ECMA-376-1, 21.1.3.11 tableStyleId)."""
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
        kept: what was found and may stay, with its reason.
        notes: what could not be looked at.
    """

    file: Path
    findings: tuple[Finding, ...] = ()
    kept: tuple[Finding, ...] = ()
    notes: tuple[str, ...] = ()

    def as_dict(self) -> dict[str, object]:
        """Plain values for JSON."""
        return {
            "file": str(self.file),
            "findings": [finding.as_dict() for finding in self.findings],
            "kept": [finding.as_dict() for finding in self.kept],
            "notes": list(self.notes),
        }


def inspect(path: Path, declared: Declared | None = None, name: str = "") -> Inspection:
    """Look into a file.

    Args:
        path: a deck, document, workbook, zip, picture, PDF or text.
        declared: the private list; without it only patterns are found.
        name: what the file goes by, which is looked at too.

    Raises:
        FileRefused: it cannot be opened, is damaged, of a kind that is not read, or unpacks beyond the bounds.
    """
    data = read(path)
    if len(list(islice(pieces("the file", data), 2))) == 1 and not _is_read(data):
        raise FileRefused(unread(data))
    drawings = [piece.data for piece in pieces("the file", data) if is_drawing(piece.data)]
    look = Looker(declared, drawings)
    for piece in pieces("the file", data):
        look.into(piece, packed=is_zip(data), suffix=path.suffix)
    look.round_about(name, data)
    if declared is not None:
        look.behind(data, declared)
    return Inspection(path, *parted(dict.fromkeys(look.findings)), tuple(dict.fromkeys(look.notes)))


def _is_read(data: bytes) -> bool:
    """Whether there is anything to look into: of what is not, "nothing found" would be no finding."""
    head = data[: sniff.HEAD]
    if sniff.container(head) is not None or _looking(data) is not None:
        return True
    # Rich Text writes letters as figures.
    return not data or (is_text(data) and sniff.other(head) != sniff.RICH_TEXT)


class Looker:
    """Looks into one piece after another, and keeps what was found and what was not looked at.

    Args:
        declared: the private list.
        drawings: of the same file, whose words are looked at as text: a picture of one may show them.
    """

    def __init__(self, declared: Declared | None, drawings: Sequence[bytes] = ()) -> None:
        self._drawings = drawings
        self._scrubber = _Sparing(Index(declared or Declared()))
        self.findings: list[Finding] = []
        self.notes = list(unchecked())

    def into(self, piece: Piece, *, packed: bool, suffix: str = "") -> None:
        """Look into a piece, by its kind.

        Args:
            piece: one of the file's.
            packed: whether it is a part of a package.
            suffix: the ending of the file's name: it tells how a text that is no part is read.
        """
        where = place_of(piece)
        if piece.label and not piece.data:
            self.findings += _named(piece, where, self._scrubber.look)
        elif piece.structure or _STREAM.search(piece.name):
            return  # a PDF's streams are read by its leaf, as a reader would see them
        elif sniff.container(piece.data[: sniff.HEAD]) is not None:
            self._picture(piece, where, packed)
        elif (leaf := _looking(piece.data)) is not None:
            self._leaf(leaf, piece, where if packed else "")
        elif is_text(piece.data):
            self._text(piece, where, packed, suffix)
        elif piece.data:
            self.notes.append("parts that are neither text nor a picture of a kind that is read")

    def _text(self, piece: Piece, where: str, packed: bool, suffix: str) -> None:
        try:
            text = textfile.decoded(piece.data, MAX_PART).text
        except FileRefused as refused:
            if not packed:
                raise
            self.notes.append(f"{where}: {refused}")
            return
        kind = PurePath(piece.label).suffix if packed else suffix
        self.findings += _in_text(text, where, self._scrubber.look, packed, kind.lower())

    def round_about(self, name: str, data: bytes) -> None:
        """Tell what is in the file's own name, and what an archive carries beside its members."""
        self.findings += [of_span(span, "its name") for span in in_name(PurePath(name).stem, self._scrubber)]
        if is_zip(data):
            with zipfile.ZipFile(io.BytesIO(data)) as archive:
                self.findings += carried(archive)

    def behind(self, data: bytes, declared: Declared) -> None:
        """Tell of parts in which something declared stands where no reader sees it, as in a setting."""
        places = {piece.label: place_of(piece) for piece in pieces("the file", data)}
        told = [finding.where for finding in self.findings if finding.kind.startswith("declared")]
        for leak in sweep("the file", data, Known.from_declared(declared)):
            place = places.get(leak.part, leak.part)
            seen = any(place in where for where in told) if is_zip(data) else told
            if not seen:
                self.findings.append(Finding(f"{leak.kind}, out of sight", place))

    def _picture(self, piece: Piece, where: str, packed: bool) -> None:
        self.findings += [Finding(kind, f"{where}: metadata") for kind in metadata.kinds(piece.data)]
        self.notes += [f"pictures: {words}" for words in regions.unchecked()]
        try:
            frames = decode_all(piece.data)
        except (FileRefused, MissingDependency) as refused:
            if not packed:
                raise
            self.notes.append(f"{where}: {refused}")
            return
        self.notes += [f"{where}: {note}" for frame in frames for note in frame.notes]
        for number, frame in enumerate(frames, 1):
            name = f"picture {number}" if len(frames) > 1 else "picture"
            self.findings += [of_box(box, f"{where}: {name}") for box in self._seen(frame.image)]

    def _seen(self, image: Image) -> tuple[PixelBox, ...]:
        if not any(finder.LOOKS_FOR for finder in regions.finders()):
            return ()
        maps = [like for drawing in self._drawings if (like := alike(image, drawing)) is not None]
        if any(
            like.all() for like in maps
        ):  # whatever would be found there may stay, and looking takes seconds
            return (_whole(image),)
        drawn = partial(_drawn, maps)
        found = regions.find_read(without_covers(image), self._passes, drawn)
        return tuple(_explained(box, drawn(box)) for box in found)

    def _passes(self, words: str) -> str:
        """Return why a line that was read in a picture may stay; nothing if it may not."""
        if _allow.allowed(words):
            return READ
        (found,) = self._scrubber.look([words])
        gone = any(span.decision is Decision.REPLACE for span in found)
        return READ if not gone and nameless(words) else ""

    def _leaf(self, leaf: Looking, piece: Piece, where: str) -> None:
        try:
            self._scrubber.learn(leaf.texts(piece.data))
            found = list(leaf.look(piece.data, self._scrubber))
        except (FileRefused, MissingDependency) as refused:
            if not where:
                raise
            self.notes.append(f"{where}: {refused}")
            return
        self.findings += [
            replace(finding, where=f"{where}, {finding.where}" if where else finding.where)
            for finding in found
        ]
        self.notes += [*not_read(leaf), *(f"pictures: {words}" for words in regions.unchecked())]


def _whole(image: Image) -> PixelBox:
    """Return all of a picture that is just as a drawing of the same file."""
    return PixelBox(0, 0, *image.size, WRITING, Layer.MODEL, Decision.KEEP, DRAWN)


def _drawn(maps: Sequence[NDArray[np.uint8]], box: PixelBox) -> str:
    """Return why a box may stay: the picture there is just as a drawing of the same file; nothing if it is not."""
    rows, columns = slice(box.top, box.bottom), slice(box.left, box.right)
    return DRAWN if any(like[rows, columns].all() for like in maps) else ""


def _explained(box: PixelBox, why: str) -> PixelBox:
    gone = box.decision is Decision.REPLACE
    return replace(box, decision=Decision.KEEP, reason=why) if gone and why else box


DRAWN = "as the drawing beside it has it, whose words are looked at as text"
READ = "read: known words and short numbers, in which nobody is found"


class _Sparing(Scrubber):
    """Looks as the scrubber does, and leaves what in a finished file is no name."""

    def look(self, texts: Sequence[str]) -> list[Sequence[Span]]:
        """Return what was found in each text, with what may stay among it."""
        return [spared(text, spans) for text, spans in zip(texts, super().look(texts), strict=True)]

    def text(self, text: str) -> CleanText:
        """Scrub one text; what may stay is no finding."""
        spans = tuple(span for span in textfile.find(text, self.look) if span.decision is Decision.REPLACE)
        return CleanText(replaced(text, list(spans)), spans)


class Looking(Leaf, Protocol):
    """A leaf that can say what is in a file without making it anew."""

    def look(self, data: bytes, tools: Tools) -> Iterator[Finding]:
        """Yield what was found."""
        ...


_STREAM = re.compile(r": (?:stream \d+|strings)$")


def _looking(data: bytes) -> Looking | None:
    leaf = leaf_for(data)
    return cast(Looking, leaf) if hasattr(leaf, "look") else None


def place_of(piece: Piece) -> str:
    """The name of a part where it is one of the format's own, else its number: a name can identify."""
    words = [fold(part) for word in tokens(piece.label) for part in humps(word)]
    usual = all(len(word) < 4 or word.isdigit() or _usual(word) for word in words)
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
        *("ppt", "xl", "xml", "app", "svg", "png", "jpg", "emf", "gif", "tif", "bmp", "heic", "dcm"),
        *("csv", "txt", "pdf", "yml", "zip"),
    ]
)
"""Words that names of parts are made of, besides those in `markup_words.txt`."""


def _own(text: str) -> str:
    """Return a text without the words of the formats themselves."""
    return _LETTERS.sub(lambda found: "" if _usual(found[0]) else found[0], text)


def _usual(word: str) -> bool:
    return fold(word) in markup_words() | _PART_WORDS


_LETTERS = re.compile(r"[^\W\d_]+")
_COUNTED = re.compile(r"(?<!\w)\d{1,3}(?=\.)")
"""The number of a part among its kind: `slide12.xml`."""


def _named(piece: Piece, where: str, look: Look) -> Iterator[Finding]:
    last = piece.label.rpartition(" > ")[2]
    yield from (Finding(kind, where) for pattern, kind in _PARTS if pattern.search(last))
    (spans,) = look([_COUNTED.sub("", _own(last.replace("_", " ")))])
    yield from (of_span(span, f"{piece.name}, its name") for span in spans)


def _in_text(text: str, where: str, look: Look, packed: bool, suffix: str) -> Iterator[Finding]:
    marked_up = text.lstrip("\ufeff \r\n\t").startswith("<")
    if not marked_up:
        _, spans = textfile.KINDS.get(suffix, textfile.plain)(text, look)
        lines = textfile.located(text, spans)
        prefix = f"{where}, " if packed else ""
        yield from (replace(line, where=prefix + line.where) for line in lines)
        return
    yield from _properties(text, where)
    if _EXTERNAL.search(text):
        yield Finding("link out of the file", where)
    listed = list(_paragraphs(text))
    found = look([words for _, words in listed])
    for (number, _), told in zip(listed, found, strict=True):
        yield from (of_span(span, f"{where}, {number}") for span in told)


def _properties(text: str, where: str) -> Iterator[Finding]:
    if "docProps/" not in where and "properties" not in text[:600].lower():
        return
    for found in _PROPERTY.finditer(_PLAIN_TEMPLATES.sub("", text)):
        yield Finding(_PROPERTIES[found[1]], where)


def _paragraphs(text: str) -> Iterator[tuple[str, str]]:
    """Words of each paragraph with its number, runs joined; then alternative texts and titles."""
    shown = _CSS.sub(lambda found: _own(found[0]), _ANCHOR.sub(" ", text))
    shown = _SHEET_FOOT.sub(" ", shown)
    for number, part in enumerate(_PARAGRAPH.split(shown), 1):
        words = html.unescape(_TAG.sub("" if _RUN.search(part) else " ", part)).strip()
        if words and not _MEASURE.fullmatch(words) and not _STYLE.fullmatch(words):
            yield f"paragraph {number}", words
    for number, words in enumerate(_SHOWN.findall(text), 1):
        yield f"description {number}", html.unescape(words)
    if _OFFICE.search(text[:_HEAD]) and not _LISTS.search(text[:_HEAD]):
        for number, words in enumerate(_settings(text), 1):
            yield f"setting {number}", words


def _settings(text: str) -> Iterator[str]:
    """What stands in the attributes of an Office part and is nothing of the format's own.

    Names of sheets, shapes, styles and people stand there, and what a filter or a query holds.
    """
    bare = _SHOWN.sub("", _NO_SETTING.sub("", text))
    for found in dict.fromkeys(_ATTRIBUTE.findall(bare)):
        words = html.unescape(found[0] or found[1]).strip()
        if _TELLING.search(_own(words)) and not _is_usual(words):
            yield words


def _is_usual(words: str) -> bool:
    """Whether it is a word, number, font or style of the format, or a label of one word that is not only a name."""
    label = words.isalpha() and (load().known(fold(words)) or fold(words) in load().word_names)
    own = words in vocabulary.FONTS or passes(words) or shows_a_number(words)
    return label or own or built_in(words.replace("-", " "))


_ATTRIBUTE = re.compile(
    r"""(?<=\s)(?!(?:xmlns|r|\w+:(?:ascii|hAnsi|cs|eastAsia)|typeface)\b)[\w:.-]+\s*=\s*(?:"([^"<]*)"|'([^'<]*)')"""
)
"""All but namespaces, references to other parts and fonts."""
_NO_SETTING = re.compile(r"<\?xml[^>]*\?>|<w:(?:font|altName)\b[^>]*>")
"""What a part says of itself; fonts."""
_OFFICE = re.compile(r"schemas\.(?:openxmlformats\.org|microsoft\.com)")
_LISTS = re.compile(r"<(?:\w+:)?(?:Relationships|Types)\b")
"""Lists of the parts themselves, whose names are looked at as names, and links out of the file as links."""
_HEAD = 4000
_TELLING = re.compile(r"[^\W\d_]{3}|\d{6}")
_ANCHOR = re.compile(r"<((?:\w+:)?(?:col|row|colOff|rowOff|posOffset))>[^<]*</\1>")
"""Where a drawing is fastened: figures that would run together with one another."""
_SHEET_FOOT = re.compile(r"&amp;[LCRPNDTFAGZ](?![a-z])")
"""Codes in the head and foot of a printed sheet: its page, the number of pages (ECMA-376 part 1, 18.3.1.46)."""
_RUN = re.compile(r"<(?:\w+:t|tspan|span|b|i|em|strong)\b")
