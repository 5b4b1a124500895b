"""What a PDF carries beside its pages, by the names its format has for it: kinds, never content.

Source: ISO 32000-1:2008, 7.5.6 (updates), 7.5.7 (object streams), 7.11.4 (embedded files), 12.3 (outlines),
12.6 (actions), 12.7 (forms), 14.3 (metadata); from memory.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from typing import Any

from mmbuilder.errors import FileRefused
from mmbuilder.scrub.containers._ooxml.xml import Element, local, parse
from mmbuilder.scrub.images import metadata

METADATA, BOOKMARKS, PROPERTIES = "metadata (XMP)", "bookmarks", "properties (author, title, dates)"
_MARKS = (
    (re.compile(rb"/EmbeddedFiles?\b|/Filespec\b"), "attached files"),
    (re.compile(rb"/AcroForm\b"), "form fields and what is filled in"),
    (re.compile(rb"/JavaScript\b|/JS\b"), "scripts"),
    (re.compile(rb"/Metadata\b|<x:xmpmeta|<rdf:RDF"), METADATA),
    (re.compile(rb"/Outlines\b"), BOOKMARKS),
    (re.compile(rb"/OCGs\b"), "layers that can be hidden"),
    (re.compile(rb"/Launch\b|/URI\b|/GoToR\b"), "links out of the file"),
    (re.compile(rb"/PieceInfo\b"), "private data of a program"),
)
_WORD = re.compile(r"[^\W\d_]{3}")
"""What no time and no number of a cell in a table has: `D:2024...Z`, `U1x0y0`."""
_OBJECTS = re.compile(rb"(?:\d+\s+\d+\s+)+[<\[(]")
"""How a stream of objects begins: their numbers and places (7.5.7)."""
_XMP = re.compile(rb"<x:xmpmeta\b.*?</x:xmpmeta>|<rdf:RDF\b.*?</rdf:RDF>", re.DOTALL)
_SAYS_WHO_OR_WHEN = frozenset({"Author", "CreationDate", "ModDate"})
_READ = frozenset({"title", "CreatorTool", "Producer", "language", "li"})
_LANGUAGE = re.compile("[a-z]{2}")
_STRUCTURE = frozenset({"xmpmeta", "RDF", "Description", "Alt", "Bag", "Seq"})
_ATTRIBUTES = {
    "about": re.compile(""),
    "lang": re.compile("x-default|[a-z]{2}"),
    "xmptk": re.compile("xmp-writer"),
}
_TECHNICAL = {
    **dict.fromkeys(("part", "NPages"), re.compile(r"\d{1,4}")),
    "PDFVersion": re.compile(r"\d\.\d"),
    "conformance": re.compile("[A-Z]"),
    "format": re.compile("application/pdf"),
    "RenditionClass": re.compile("proof|default"),
    **dict.fromkeys(("InstanceID", "DocumentID"), re.compile(r"[A-Za-z0-9+/]{22}==")),
}
"""What a program says of a file besides its title, and what it may say there: no person, no time."""


def carried(data: bytes, document: Any) -> tuple[str, ...]:
    """Name each kind of thing that the pages do not show and that a new file will not have."""
    seen = _unpacked(data)
    found = [kind for pattern, kind in _MARKS if pattern.search(seen)]
    if any(document.get_metadata_dict(skip_empty=True).values()):
        found.append(PROPERTIES)
    if document.count_attachments() and "attached files" not in found:
        found.append("attached files")
    if data.count(b"%%EOF") > 1:
        found.append("earlier states of the file")
    return tuple(found)


def telling(data: bytes, document: Any, identifies: Callable[[str], bool]) -> tuple[str, ...]:
    """Name what of `carried` may identify: a title, bookmarks and a program's own marks in which nobody is, do not.

    Args:
        data: the file.
        document: the same, opened.
        identifies: whether somebody is found in a text.
    """
    harmless = {
        METADATA: lambda: _plain_metadata(_unpacked(data), identifies),
        BOOKMARKS: lambda: not any(map(identifies, _bookmarks(document))),
        PROPERTIES: lambda: _plain_properties(document.get_metadata_dict(skip_empty=True), identifies),
    }
    return tuple(kind for kind in carried(data, document) if kind not in harmless or not harmless[kind]())


def said(data: bytes, document: Any) -> tuple[str, ...]:
    """Return what else is said outside the pages: what describes a picture, labels a page, fills a field."""
    from mmbuilder.scrub.sweep.parts import apart, pieces

    objects = (
        replace(piece, syntax="file")
        for piece in pieces("the file", data)
        if piece.syntax == "file" or (piece.syntax and _OBJECTS.match(piece.data))
    )
    strings = (part.data.decode() for piece in objects for part in apart(piece) if not part.structure)
    lines = dict.fromkeys(line for words in strings for line in words.splitlines() if _WORD.search(line))
    told = {*_bookmarks(document), *document.get_metadata_dict(skip_empty=True).values()}
    return tuple(line for line in lines if line not in told)


def of_pictures(data: bytes) -> tuple[str, ...]:
    """Return the kinds of metadata that pictures of the pages carry."""
    from mmbuilder.scrub.sweep.parts import pieces

    pictures = (piece.data for piece in pieces("the file", data) if piece.structure)
    return tuple(dict.fromkeys(kind for picture in pictures for kind in metadata.kinds(picture)))


def _unpacked(data: bytes) -> bytes:
    from mmbuilder.scrub.sweep.parts import pieces

    return b"\n".join(piece.data for piece in pieces("the file", data))


def _bookmarks(document: Any) -> Iterable[str]:
    return (mark.get_title() for mark in document.get_toc())


def _plain_properties(told: dict[str, str], identifies: Callable[[str], bool]) -> bool:
    return _SAYS_WHO_OR_WHEN.isdisjoint(told) and not any(map(identifies, told.values()))


def _plain_metadata(seen: bytes, identifies: Callable[[str], bool]) -> bool:
    """Whether every word of it is a title in which nobody is found, or a mark of a program."""
    records = {found[0] for found in _XMP.finditer(seen)}
    try:
        trees = [parse(record, "the metadata") for record in records]
    except FileRefused:
        return False
    return bool(trees) and all(_plain(node, identifies) for tree in trees for node in tree.iter())


def _plain(node: Element, identifies: Callable[[str], bool]) -> bool:
    name, said = local(node.tag), (node.text or "").strip()
    if (node.tail or "").strip() or not all(_technical(_ATTRIBUTES, *each) for each in node.attrib.items()):
        return False
    if name in _READ:
        return _LANGUAGE.fullmatch(said) is not None or not identifies(said)
    return (name in _STRUCTURE and not said) or _technical(_TECHNICAL, node.tag, said)


def _technical(known: Mapping[str, re.Pattern[str]], tag: str, said: str) -> bool:
    form = known.get(local(tag))
    return form is not None and form.fullmatch(said) is not None
