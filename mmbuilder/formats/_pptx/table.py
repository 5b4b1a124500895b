"""Grids as native tables, with hairlines of our own instead of a built-in style."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.formats._pptx.geometry import Box, emu
from mmbuilder.formats._pptx.pieces import PAD, CellText, Grid
from mmbuilder.formats._pptx.shapes import Ids, frame, properties, text_body
from mmbuilder.formats._pptx.style import Palette
from mmbuilder.formats._pptx.text import Para
from mmbuilder.formats._pptx.xml import Element, el

_URI = "http://schemas.openxmlformats.org/drawingml/2006/table"
_NO_STYLE = "{2D5ABB26-0587-4C30-8999-92F81FD0307C}"
"""'No Style, No Grid', built into slide software, so that none of its colours mix with ours."""

_HAIR, _RULE = 0.75, 2.0


def table(ids: Ids, grid: Grid, box: Box, palette: Palette) -> Element:
    """Return the table as a graphic frame; row heights are what was measured."""
    widths = grid.columns(box.w)
    made = list(_rows(grid, box.w, palette))
    kind = {"firstRow": "1"} if grid.header else {"firstCol": "1"}
    body = el(
        "a:tbl",
        el("a:tblPr", el("a:tableStyleId", text=_NO_STYLE)),
        el("a:tblGrid", *(el("a:gridCol", w=emu(width)) for width in widths)),
        *made,
    )
    body[0].attrib.update(kind)
    return el(
        "p:graphicFrame",
        el(
            "p:nvGraphicFramePr",
            properties(ids, "Table", alt=grid.caption),
            el("p:cNvGraphicFramePr", el("a:graphicFrameLocks", noGrp=1)),
            el("p:nvPr"),
        ),
        frame(box, "p:xfrm"),
        el("a:graphic", el("a:graphicData", body, uri=_URI)),
    )


def _rows(grid: Grid, width: float, palette: Palette) -> Iterator[Element]:
    """Yield the rows, a rule below the heading and hairlines between the others."""
    heights = [grid.row_height(row, width) for row in grid.rows]
    above = 0.0
    if grid.header:
        yield _row(grid.header, grid.heading(width), palette, (0, _RULE), PAD)
        above = _RULE
    for place, (row, height) in enumerate(zip(grid.rows, heights, strict=True), 1):
        below = _HAIR if place < len(heights) and grid.header else 0
        yield _row(row, height + grid.air, palette, (above, below), PAD + grid.air / 2)
        above = below


def _row(
    cells: tuple[CellText, ...], height: float, palette: Palette, lines: tuple[float, float], pad: float
) -> Element:
    made = (_cell(cell, palette, lines, pad, first=not place) for place, cell in enumerate(cells))
    return el("a:tr", *made, h=emu(height))


def _cell(
    paras: CellText, palette: Palette, lines: tuple[float, float], pad: float, *, first: bool
) -> Element:
    body = text_body(paras or (Para("", 18),), palette, "a:txBody")
    above, below = lines
    props = el(
        "a:tcPr",
        _edge("a:lnL", 0, palette),
        _edge("a:lnR", 0, palette),
        # An edge belongs to two cells; both say the same, or slide software takes either.
        _edge("a:lnT", above, palette),
        _edge("a:lnB", below, palette),
        el("a:noFill"),
        # The first column stands on the same left edge as the headline.
        marL=0 if first else emu(PAD),
        marR=emu(PAD),
        marT=emu(pad),
        marB=emu(pad),
    )
    return el("a:tc", body, props)


def _edge(tag: str, width: float, palette: Palette) -> Element:
    colour = palette.accent if width == _RULE else palette.line
    return el(tag, colour.fill() if width else el("a:noFill"), w=emu(width or _HAIR))
