"""The texts of a workbook's cells in the part that Excel keeps them in: it would move them there at the next save."""

from __future__ import annotations

import lxml.etree as etree

from mmbuilder.scrub.containers._ooxml.work import Scene
from mmbuilder.scrub.containers._ooxml.xml import NAMESPACES, Element, dump, named, q

PART = "xl/sharedStrings.xml"
_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.sharedStrings+xml"


class Strings:
    """The shared strings of the workbook that is made."""

    def __init__(self) -> None:
        self._table = etree.Element(q("x:sst"), nsmap={"x": NAMESPACES["x"]})
        self._known: dict[bytes, int] = {}

    def hold(self, workbook: Scene) -> None:
        """Give the workbook its table of strings."""
        workbook.relate("sharedStrings", PART)
        self._write(workbook)

    def take(self, sheet: Scene) -> None:
        """Move the texts of a sheet's cells, scrubbed before, into the table."""
        for inline in named(sheet.tree, "x:is"):
            cell = inline.getparent()
            if cell is not None:
                cell.remove(inline)
                cell.set("t", "s")
                etree.SubElement(cell, q("x:v")).text = str(self._number(inline))
        self._write(sheet)

    def _number(self, inline: Element) -> int:
        inline.tag = q("x:si")
        said = etree.tostring(inline, method="c14n")
        if said not in self._known:
            self._known[said] = len(self._table)
            self._table.append(inline)
        return self._known[said]

    def _write(self, scene: Scene) -> None:
        scene.work.add(PART, _TYPE, dump(self._table))
