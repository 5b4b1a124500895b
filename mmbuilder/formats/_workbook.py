"""Close a workbook: words in one table, parts sorted, dates fixed, nothing about who, when or with what.

The library writes words into their cells; programs move them to a shared table on the first save,
and a checker asks for it (ECMA-376 Part 1, 18.4.9). Fonts are brought into the order of the schema.
"""

from __future__ import annotations

import io
import zipfile

import lxml.etree as etree

from mmbuilder.formats import _package

_MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006"
_M = f"{{{_MAIN}}}"
_SPACE = "{http://www.w3.org/XML/1998/namespace}space"
_STRINGS = "xl/sharedStrings.xml"
_FONT = ("b", "i", "strike", "condense", "extend", "outline", "shadow", "u", "vertAlign")
_FONT_ORDER = (*_FONT, "sz", "color", "name", "family", "charset", "scheme")
"""ECMA-376 Part 1, 18.8.22, as the transitional schema has it."""


def close(saved: bytes, sheet: str = "xl/worksheets/sheet1.xml") -> bytes:
    """Rewrite a saved workbook of one sheet; the same cells give the same bytes."""
    with zipfile.ZipFile(io.BytesIO(saved)) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    parts[sheet], parts[_STRINGS] = _shared(parts[sheet])
    parts["xl/styles.xml"] = _in_order(parts["xl/styles.xml"])
    parts["[Content_Types].xml"] = _with(
        parts["[Content_Types].xml"],
        "Override",
        PartName=f"/{_STRINGS}",
        ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sharedStrings+xml",
    )
    relations = "xl/_rels/workbook.xml.rels"
    parts[relations] = _with(
        parts[relations],
        "Relationship",
        Id="rIdWords",
        Type=f"{_OFFICE}/relationships/sharedStrings",
        Target=f"/{_STRINGS}",
    )
    return _package.closed(parts, "xl/workbook.xml")


def _shared(sheet: bytes) -> tuple[bytes, bytes]:
    """Return the sheet with numbers of words in place of words, and the table of words."""
    root, places = etree.fromstring(sheet), dict[str, int]()
    cells = root.findall(f".//{_M}c[@t='inlineStr']")
    for cell in cells:
        words = "".join(cell.itertext())
        cell.remove(cell[0])
        cell.set("t", "s")
        etree.SubElement(cell, f"{_M}v").text = str(places.setdefault(words, len(places)))
    return _bytes(root), _bytes(_table(places, len(cells)))


def _table(places: dict[str, int], used: int) -> etree._Element:
    table = etree.Element(f"{_M}sst", {"count": str(used), "uniqueCount": str(len(places))}, {None: _MAIN})
    for words in places:
        text = etree.SubElement(etree.SubElement(table, f"{_M}si"), f"{_M}t")
        text.text = words
        text.set(_SPACE, "preserve")
    return table


def _in_order(styles: bytes) -> bytes:
    root = etree.fromstring(styles)
    for font in root.iter(f"{_M}font"):
        font[:] = sorted(font, key=lambda part: _FONT_ORDER.index(etree.QName(part).localname))
    return _bytes(root)


def _with(part: bytes, name: str, **said: str) -> bytes:
    """Add an entry to a part that lists."""
    root = etree.fromstring(part)
    etree.SubElement(root, f"{{{etree.QName(root).namespace}}}{name}", said)
    return _bytes(root)


def _bytes(root: etree._Element) -> bytes:
    written: bytes = etree.tostring(root, xml_declaration=True, encoding="UTF-8", standalone=True)
    return written
