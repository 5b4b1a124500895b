"""XML parts: read with nothing fetched or expanded, written with our own prefixes and nothing unused."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TypeAlias

import lxml.etree as etree

from mmbuilder.errors import FileRefused

Element: TypeAlias = etree._Element

_DRAWING = "http://schemas.openxmlformats.org/drawingml/2006"
_OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006"
_WORD_2010 = "http://schemas.microsoft.com/office/word/2010"

NAMESPACES: dict[str, str] = {
    "a": f"{_DRAWING}/main",
    "c": f"{_DRAWING}/chart",
    "cdr": f"{_DRAWING}/chartDrawing",
    "dgm": f"{_DRAWING}/diagram",
    "dsp": "http://schemas.microsoft.com/office/drawing/2008/diagram",
    "m": f"{_OFFICE}/math",
    "o": "urn:schemas-microsoft-com:office:office",
    "p": "http://schemas.openxmlformats.org/presentationml/2006/main",
    "pic": f"{_DRAWING}/picture",
    "r": f"{_OFFICE}/relationships",
    "v": "urn:schemas-microsoft-com:vml",
    "w": "http://schemas.openxmlformats.org/wordprocessingml/2006/main",
    "w10": "urn:schemas-microsoft-com:office:word",
    "wp": f"{_DRAWING}/wordprocessingDrawing",
    "wpc": f"{_WORD_2010}/wordprocessingCanvas",
    "wpg": f"{_WORD_2010}/wordprocessingGroup",
    "wps": f"{_WORD_2010}/wordprocessingShape",
    "x": "http://schemas.openxmlformats.org/spreadsheetml/2006/main",
    "xdr": f"{_DRAWING}/spreadsheetDrawing",
}
"""Every namespace that is kept; elements and attributes of any other are left out."""

MC = "http://schemas.openxmlformats.org/markup-compatibility/2006"
XML_SPACE = "{http://www.w3.org/XML/1998/namespace}space"


def q(name: str) -> str:
    """`a:t` as lxml spells it."""
    prefix, _, local = name.partition(":")
    return f"{{{NAMESPACES[prefix]}}}{local}"


def qs(names: str) -> frozenset[str]:
    """Several, parted by spaces."""
    return frozenset(map(q, names.split()))


def several(words: str) -> frozenset[str]:
    """Words parted by spaces."""
    return frozenset(words.split())


def local(tag: str) -> str:
    """The name without its namespace."""
    return tag.rpartition("}")[2]


def space(tag: str) -> str:
    """The namespace alone; empty where there is none."""
    return tag[1:].partition("}")[0] if tag.startswith("{") else ""


def parse(data: bytes, place: str) -> Element:
    """Read one part; comments and processing instructions are gone.

    Raises:
        FileRefused: damaged, or with a document type, which no Office part has.
    """
    parser = etree.XMLParser(
        resolve_entities=False, no_network=True, load_dtd=False, remove_comments=True, remove_pis=True
    )
    try:
        root = etree.fromstring(data, parser)
    except (etree.XMLSyntaxError, ValueError):
        # `from None`: the fault quotes the text.
        raise FileRefused(f"{place} is damaged: it is no well-formed XML") from None
    if root.getroottree().docinfo.internalDTD is not None:
        raise FileRefused(f"{place} declares a document type, which no Office part has; not read")
    return root


def dump(root: Element) -> bytes:
    """Write a part anew, node by node: prefixes are ours, whatever they were called."""
    made = etree.Element(root.tag, nsmap=_prefixes(root))
    pending = [(root, made)]
    while pending:
        old, new = pending.pop()
        new.text, new.tail = old.text, old.tail
        for name, value in old.attrib.items():
            new.set(name, value)
        for child in old:
            pending.append((child, etree.SubElement(new, child.tag)))
    etree.cleanup_namespaces(made)
    return bytes(etree.tostring(made, xml_declaration=True, encoding="UTF-8", standalone=True))


def _prefixes(root: Element) -> dict[str | None, str]:
    prefixes: dict[str | None, str] = {key: uri for key, uri in NAMESPACES.items() if key != "x"}
    if space(root.tag) not in prefixes.values():
        prefixes[None] = space(root.tag)
    return prefixes


def remove(node: Element) -> None:
    """Take an element out; text after it stays."""
    parent = node.getparent()
    if parent is None:
        return
    if node.tail and node.tail.strip():
        before = node.getprevious()
        holder, kind = (before, "tail") if before is not None else (parent, "text")
        setattr(holder, kind, (getattr(holder, kind) or "") + node.tail)
    node.tail = None
    parent.remove(node)


def unwrap(node: Element) -> None:
    """Put the children of an element in its place."""
    parent = node.getparent()
    if parent is None:
        return
    place = parent.index(node)
    for child in reversed(list(node)):
        parent.insert(place, child)
    remove(node)


def named(root: Element, names: str) -> Iterator[Element]:
    """All elements of these names, in order; safe to change while going through them."""
    yield from list(root.iter(*qs(names)))


def above(node: Element, names: str) -> Element | None:
    """The nearest element around this one that has one of these names."""
    return next(iter(node.iterancestors(*qs(names))), None)
