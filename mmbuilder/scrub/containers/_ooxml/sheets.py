"""Sheets of a workbook: what is hidden goes, and all that computes, checks or fetches."""

from __future__ import annotations

import re

from mmbuilder.errors import FileRefused
from mmbuilder.scrub.containers._ooxml.charts import SHEET
from mmbuilder.scrub.containers._ooxml.work import Scene
from mmbuilder.scrub.containers._ooxml.xml import Element, local, named, q, remove, several

_KEPT = several(
    """sheetPr dimension sheetViews sheetFormatPr cols sheetData mergeCells conditionalFormatting
    printOptions pageMargins pageSetup headerFooter rowBreaks colBreaks drawing picture"""
)
_LONGEST = 31
"""Characters of a sheet's name, and the signs it cannot have: Excel's own limits (MEM)."""

_BARRED = re.compile(r"[\[\]:*?/\\']")
_FILE_CODES = re.compile(r"&[FZADT](?![a-z])")
"""Codes of headers for the file, its folder, the sheet, date and time (ECMA-376-1, 18.3.1.46)."""


def visible_sheets(scene: Scene) -> None:
    """Keep the sheets that are shown, each under a scrubbed name of its own.

    Raises:
        FileRefused: none is shown.
    """
    taken: set[str] = set()
    for node in named(scene.tree, "x:sheet"):
        relation = scene.sources.get(node.get(q("r:id"), ""))
        if node.get("state", "visible") != "visible":
            scene.found("hidden sheet")
            if relation is not None:
                scene.work.refused.add(relation.target)
            remove(node)
            continue
        old = node.get("name", "")
        node.set("name", _free(scene.text(old), taken))
        scene.work.shared[SHEET + old] = node.get("name")
    if not taken:
        raise FileRefused("the workbook shows no sheet at all; unhide what is to be scrubbed")


def _free(name: str, taken: set[str]) -> str:
    bare = _BARRED.sub(lambda found: {"[": "(", "]": ")"}.get(found[0], " "), name).strip() or "Sheet"
    number, unique = 1, bare[:_LONGEST]
    while unique.lower() in taken:
        number += 1
        unique = f"{bare[: _LONGEST - 5]} {number}"
    taken.add(unique.lower())
    return unique


def plain_sheet(scene: Scene) -> None:
    """Leave cells and their looks."""
    for child in list(scene.tree):
        if local(child.tag) not in _KEPT:
            if local(child.tag) in ("dataValidations", "hyperlinks", "tableParts", "autoFilter"):
                scene.found("checks, links, tables and filters of a sheet (the cells stay)")
            remove(child)
    _without_hidden(scene)
    for rule in named(scene.tree, "x:cfRule"):
        formulas = " ".join(node.text or "" for node in rule.iter(q("x:formula")))
        if rule.get("text") is not None or not re.fullmatch(r"[-\d.,$A-Z:<>=+*/() ]*", formulas):
            remove(rule)
    for group in named(scene.tree, "x:conditionalFormatting"):
        if group.find(q("x:cfRule")) is None:
            remove(group)
    for node in named(scene.tree, "x:headerFooter"):
        for line in node:
            line.text = scene.text(_FILE_CODES.sub("", line.text or ""))


def _without_hidden(scene: Scene) -> None:
    hidden = [node for node in named(scene.tree, "x:row") if _is_hidden(node)]
    columns = [_range(node) for node in named(scene.tree, "x:col") if _is_hidden(node)]
    cells = [
        cell
        for cell in named(scene.tree, "x:c")
        if any(low <= _column(cell) <= high for low, high in columns)
    ]
    if hidden or cells:
        scene.found("hidden rows or columns")
    for node in (*hidden, *cells):
        remove(node)


def _range(column: Element) -> tuple[int, int]:
    first, last = column.get("min", ""), column.get("max", "")
    if not (first.isdecimal() and last.isdecimal()):
        raise FileRefused("a sheet of the workbook is damaged: a hidden column does not say which it is")
    return int(first), int(last)


def _is_hidden(node: Element) -> bool:
    return node.get("hidden") in ("1", "true")


def _column(cell: Element) -> int:
    number = 0
    for letter in re.sub(r"[^A-Z]", "", cell.get("r", "")):
        number = number * 26 + ord(letter) - 64
    return number


def plain_styles(scene: Scene) -> None:
    """Give styles of cells neutral names; table styles go with the tables."""
    for number, node in enumerate(named(scene.tree, "x:cellStyle"), 1):
        if node.get("builtinId") is None or not re.fullmatch(
            r"[A-Z][a-z]+(?: ?-? ?\w{1,8}){0,3}", node.get("name", "")
        ):
            node.set("name", f"Style {number}")
    for node in named(scene.tree, "x:tableStyles"):
        remove(node)
