"""Sheets of a workbook: what is hidden goes, and all that computes, checks or fetches."""

from __future__ import annotations

import re

import lxml.etree as etree

from mmbuilder.errors import FileRefused
from mmbuilder.scrub.containers._ooxml.charts import SHEET
from mmbuilder.scrub.containers._ooxml.paragraphs import scrub_runs
from mmbuilder.scrub.containers._ooxml.work import Scene
from mmbuilder.scrub.containers._ooxml.xml import Element, local, named, q, remove, several

_KEPT = several(
    """sheetPr dimension sheetViews sheetFormatPr cols sheetData mergeCells conditionalFormatting
    printOptions pageMargins pageSetup headerFooter rowBreaks colBreaks drawing picture"""
)
_LONGEST = 31
"""Characters of a sheet's name, and the signs it cannot have: Excel's own limits (MEM)."""

_BARRED = re.compile(r"[\[\]:*?/\\']")
_PARTS = re.compile(r"(&[LCRPN])")
_CODES = re.compile(r'(&(?:"[^"]*"|\d+|K[0-9A-F+-]{6}|.))')
"""Codes of headers (ECMA-376-1, 18.3.1.46): first those between which stands a text of its own, then all."""

_KEPT_CODES = re.compile(r'&(?:"[\w ,+-]*"|\d{1,3}|K[0-9A-F+-]{6}|[LCRPNBIUEXYSOH&])')
"""All but those for the file, its folder, the sheet, date and time."""

_FORMULA = re.compile(r"(?:\$?[A-Z]{1,3}\$?\d{1,7}(?!\d)|[A-Z]{2,12}\(|TRUE|FALSE|[-\d.,:<>=+*/() ])*")
"""Cells, functions and figures: no words and no names."""


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
        scene.vouch(node, "name")
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
        plain = _FORMULA.fullmatch(formulas)
        if rule.get("text") is not None or not plain or scene.text(formulas) != formulas:
            remove(rule)
        for node in rule.iter(q("x:formula")):
            scene.vouch(node)
    for group in named(scene.tree, "x:conditionalFormatting"):
        if group.find(q("x:cfRule")) is None:
            remove(group)
    for node in named(scene.tree, "x:headerFooter"):
        for line in node:
            line.text = "".join(_headed(scene, part) for part in _PARTS.split(line.text or ""))
            scene.vouch(line)


def _headed(scene: Scene, text: str) -> str:
    """One text of a header: its codes stand between the letters, so it is scrubbed as runs are."""
    words = etree.Element(q("x:is"))
    for piece in _CODES.split(text):
        etree.SubElement(words, q("x:r" if _CODES.fullmatch(piece) else "x:t")).text = piece
    scrub_runs(scene, words, ())
    return "".join(node.text or "" for node in words if node.tag == q("x:t") or _kept(scene, node.text or ""))


def _kept(scene: Scene, code: str) -> bool:
    return _KEPT_CODES.fullmatch(code) is not None and scene.text(code[1:].strip('"')) == code[1:].strip('"')


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


_BUILT_IN = re.compile(
    r"(?:\d\d% - )?Accent\d|(?:Comma|Currency)(?: \[0\])?|Percent|Normal|Good|Bad|Neutral|Calculation|Check Cell"
    r"|Explanatory Text|Input|Linked Cell|Note|Output|Warning Text|Heading \d|Title|Total|(?:Followed )?Hyperlink"
)
"""Excel's own cell styles (ECMA-376-1, 18.8.7 cellStyle); MEM."""


def plain_styles(scene: Scene) -> None:
    """Give styles of cells neutral names; table styles go with the tables."""
    for number, node in enumerate(named(scene.tree, "x:cellStyle"), 1):
        if node.get("builtinId") is None or not _BUILT_IN.fullmatch(node.get("name", "")):
            node.set("name", f"Style {number}")
        scene.vouch(node, "name")
    for node in named(scene.tree, "x:tableStyles"):
        remove(node)
