"""Excel workbooks (ECMA-376 SpreadsheetML): visible sheets made anew, everything else left out.

Hidden sheets, rows and columns are removed. Formulas leave their values, dates become
`[date]`, a number under a head such as "MRN" is read with it. Comments, names, checks,
tables, filters, pivots, queries and links to other workbooks go.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from mmbuilder.scrub.containers._ooxml.cells import Sheet, dated_formats, scrub_cells, shared_strings
from mmbuilder.scrub.containers._ooxml.kinds import drawn, holds, office, plain
from mmbuilder.scrub.containers._ooxml.links import relink
from mmbuilder.scrub.containers._ooxml.package import opened
from mmbuilder.scrub.containers._ooxml.pictures import scrub_pictures
from mmbuilder.scrub.containers._ooxml.recorder import texts_of
from mmbuilder.scrub.containers._ooxml.sheets import plain_sheet, plain_styles, visible_sheets
from mmbuilder.scrub.containers._ooxml.strings import Strings
from mmbuilder.scrub.containers._ooxml.structure import prepare, steps
from mmbuilder.scrub.containers._ooxml.values import clean_values
from mmbuilder.scrub.containers._ooxml.work import Scene, Work, main_part
from mmbuilder.scrub.containers._ooxml.xml import Element, local, q, remove
from mmbuilder.scrub.containers.base import Result, Tools

NAME = "Excel workbook"
SUFFIXES = (".xlsx",)
PARTS_NOT_READ = (
    "formulas, comments, names, data checks, tables, pivot tables, queries and links: left out, not read",
    "pictures in EMF, WMF or SVG form and embedded documents: left out, not read",
    "numbers that identify only together with others in their row",
)
_WHAT = "workbook"
_MAIN = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"


def sniff(head: bytes, data: bytes) -> bool:
    """Whether it is a package that holds a workbook."""
    return head.startswith(b"PK") and holds(data, "xl/")


def texts(data: bytes) -> Iterator[str]:
    """Every text in it."""
    yield from texts_of(data, scrub)


def scrub(data: bytes, tools: Tools) -> Result:
    """Make the workbook anew.

    Raises:
        FileRefused: locked, damaged, with macros, beyond the bounds, or with no visible sheet.
    """
    package = opened(data, _WHAT)
    main = main_part(package, {_MAIN: "an .xlsx"}, _WHAT)
    work = Work(package, tools, _KINDS)
    made = Strings()
    kind = office(
        "workbook", f"{_TYPE}.sheet.main", "xl/workbook.xml", partial(_workbook, made), "theme styles"
    )
    workbook = Scene(work, kind, main, "xl/workbook.xml", package.tree(main))
    sheet = partial(_sheet, made, shared_strings(workbook), dated_formats(workbook))
    work.kinds = {
        **_KINDS,
        "worksheet": office("sheet", f"{_TYPE}.worksheet", "xl/worksheets/sheet{}.xml", sheet),
    }
    return work.run(main, kind)


def _sheet(made: Strings, strings: list[Element], dated: frozenset[int], scene: Scene) -> None:
    prepare(scene)
    plain_sheet(scene)
    scrub_cells(scene, Sheet(strings, dated))
    scrub_pictures(scene)
    relink(scene)
    clean_values(scene)
    made.take(scene)


def _workbook(made: Strings, scene: Scene) -> None:
    prepare(scene)
    for child in list(scene.tree):
        if local(child.tag) not in ("workbookPr", "sheets"):
            remove(child)
    for node in scene.tree.findall(q("x:workbookPr")):
        for name in [name for name in node.attrib if name != "date1904"]:
            del node.attrib[name]
    visible_sheets(scene)
    relink(scene)
    clean_values(scene)
    made.hold(scene)


_TYPE = "spreadsheetml"
_KINDS = {
    **drawn("xl"),
    "styles": office(
        "styles", f"{_TYPE}.styles", "xl/styles.xml", steps(prepare, plain_styles, clean_values)
    ),
    "drawing": office("drawing", "drawing", "xl/drawings/drawing{}.xml", plain),
}
