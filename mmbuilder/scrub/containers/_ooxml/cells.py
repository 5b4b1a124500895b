"""Cells of a sheet: texts and numbers scrubbed under their column's head, dates and formulas gone."""

from __future__ import annotations

import copy
import re
from dataclasses import dataclass, field

import lxml.etree as etree

from mmbuilder.scrub.containers._ooxml.charts import as_read, is_date_format
from mmbuilder.scrub.containers._ooxml.paragraphs import beside, may_head, scrub_runs, text_of
from mmbuilder.scrub.containers._ooxml.work import Scene
from mmbuilder.scrub.containers._ooxml.xml import Element, named, q, remove
from mmbuilder.scrub.findings import replaced

_DATES = frozenset([*range(14, 18), 22, *range(27, 32), 36, *range(50, 59)])
"""Number formats that show a calendar date (ECMA-376-1, 18.8.30 numFmt; from 27 on for East Asia)."""

_FIRST_DAY = 1
"""Below it is a time of day."""


@dataclass
class Sheet:
    """What the cells of one sheet are read with.

    Attributes:
        strings: the shared strings of the workbook.
        dated: numbers of the cell formats that show a calendar date.
        heads: the first text of each column, where it may head it.
    """

    strings: list[Element]
    dated: frozenset[int]
    heads: dict[str, str] = field(default_factory=dict)


def shared_strings(scene: Scene) -> list[Element]:
    """The strings that cells point to, from the workbook's links."""
    return [node for tree in _linked(scene, "sharedStrings") for node in tree.findall(q("x:si"))]


def dated_formats(scene: Scene) -> frozenset[int]:
    """Numbers of the cell formats that show a calendar date."""
    found: set[int] = set()
    for tree in _linked(scene, "styles"):
        codes = {node.get("numFmtId"): node.get("formatCode", "") for node in tree.iter(q("x:numFmt"))}
        for table in tree.findall(q("x:cellXfs")):
            for number, form in enumerate(table.findall(q("x:xf"))):
                key = form.get("numFmtId", "0")
                if is_date_format(codes[key]) if key in codes else key.isdecimal() and int(key) in _DATES:
                    found.add(number)
    return frozenset(found)


def _linked(scene: Scene, kind: str) -> list[Element]:
    package = scene.work.package
    targets = [relation.target for relation in scene.sources.values() if relation.type == kind]
    scene.work.used.update(targets)
    return [package.tree(target) for target in targets if target in package.parts]


def scrub_cells(scene: Scene, sheet: Sheet) -> None:
    """Scrub every cell; formulas leave the value they show."""
    if next(scene.tree.iter(q("x:f")), None) is not None:
        scene.found("formulas (their values stay)")
    for row in named(scene.tree, "x:row"):
        before, known = "", set(sheet.heads)
        for cell in row.findall(q("x:c")):
            before = _cell(scene, cell, sheet, before) or before
        first = sheet.heads.keys() - known
        if not all(sheet.heads[column] for column in first):
            # The first row of a form: labels, each with its value.
            sheet.heads |= dict.fromkeys(first, "")


def _cell(scene: Scene, cell: Element, sheet: Sheet, before: str) -> str:
    """Scrub one cell and return its text, if it was one."""
    for node in cell.findall(q("x:f")):
        remove(node)
    value = cell.findtext(q("x:v")) or ""
    kind = cell.get("t", "n")
    column = re.sub(r"\d", "", cell.get("r", ""))
    if kind in ("s", "str", "inlineStr"):
        words = _as_text(cell, value, sheet)
        original = text_of(words)
        head = sheet.heads.get(column, "")
        scrub_runs(scene, words, (head, beside(before, original, headed=bool(head))))
        stays = may_head(original) and text_of(words) == original
        sheet.heads.setdefault(column, original if stays else "")
        return original
    if kind == "d" or (kind == "n" and _is_date(cell, value, sheet)):
        scene.found("date")
        _write(scene, cell, "[date]")
    elif kind == "n":
        _number(scene, cell, value, (sheet.heads.get(column, ""), before))
    elif kind not in ("b", "e") or not re.fullmatch(r"[01]|#[A-Z0-9/!?]{2,12}", value):
        _write(scene, cell, "")
    else:
        _keep(scene, cell)
    return ""


def _is_date(cell: Element, value: str, sheet: Sheet) -> bool:
    style = cell.get("s", "0")
    try:
        return style.isdecimal() and int(style) in sheet.dated and float(value) >= _FIRST_DAY
    except ValueError:
        return False


def _number(scene: Scene, cell: Element, value: str, labels: tuple[str, str]) -> None:
    """A number that identifies becomes its stand-in; what is no number goes."""
    if not value:
        return
    if not re.fullmatch(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?", value):
        _write(scene, cell, scene.text(value, labels))
        return
    plain = as_read(value)
    spans = scene.spans_in(plain, labels)
    if spans:
        _write(scene, cell, replaced(plain, list(spans)))
    else:
        _keep(scene, cell)


def _as_text(cell: Element, value: str, sheet: Sheet) -> Element:
    """The cell with its text in itself, runs and all."""
    inline = cell.find(q("x:is"))
    if cell.get("t") == "s" and re.fullmatch(r"\d{1,9}", value) and int(value) < len(sheet.strings):
        inline = copy.deepcopy(sheet.strings[int(value)])
        inline.tag = q("x:is")
    elif inline is None:
        inline = etree.Element(q("x:is"))
        etree.SubElement(inline, q("x:t")).text = value if cell.get("t") == "str" else ""
    for node in named(inline, "x:rPh x:phoneticPr"):
        remove(node)
    for node in named(inline, "x:t"):
        node.text = _ESCAPE.sub(_meant, node.text or "")
    _empty(cell)
    cell.append(inline)
    return inline


_ESCAPE = re.compile(r"_x000[Dd]_\n?|_x([0-9A-Fa-f]{4})_")
"""The end of a line from an older program; any other sign that XML cannot hold (ECMA-376-1, 22.9.2.19 ST_Xstring)."""


def _meant(escape: re.Match[str]) -> str:
    """The sign itself; a space for one that leaves room, nothing for one that is not shown."""
    sign = chr(int(escape[1], 16)) if escape[1] else "\n"
    room = " " if sign.isspace() else ""
    return sign if sign.isprintable() or sign in "\n\t" else room


def _keep(scene: Scene, cell: Element) -> None:
    """The first value is the one that was looked at."""
    value = cell.find(q("x:v"))
    if value is not None:
        scene.vouch(value)


def _write(scene: Scene, cell: Element, text: str) -> None:
    _empty(cell)
    words = etree.SubElement(etree.SubElement(cell, q("x:is")), q("x:t"))
    words.text = text
    scene.vouch(words)


def _empty(cell: Element) -> None:
    for child in list(cell):
        cell.remove(child)
    cell.set("t", "inlineStr")
