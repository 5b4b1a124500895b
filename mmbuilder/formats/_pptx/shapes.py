"""Native shapes as XML: text boxes, placeholders, strokes."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import count

from mmbuilder import labels
from mmbuilder.formats._pptx.geometry import Box, emu
from mmbuilder.formats._pptx.stage import Holder
from mmbuilder.formats._pptx.style import Colour, Palette
from mmbuilder.formats._pptx.text import Para
from mmbuilder.formats._pptx.xml import Element, el
from mmbuilder.safe.direction import runs_left

DECORATIVE = "{C183D7F6-B498-43B3-948B-1728B52AA6E4}"
"""Extension that tells a screen reader to pass over a shape (MS-ODRAWXML, decorative)."""

_FIELD = "{7B3F1C52-0A64-4D8E-9C11-5E2D7A90B6F3}"
"""Any GUID does for a field; one of our own, the same in each deck."""


def _language() -> str:
    """Return the tag that spelling checkers go by; the catalogue of each language has its own."""
    return labels.say("en-GB")


class Ids:
    """Shape ids of one slide, from 2 (1 is the shape tree's own)."""

    def __init__(self) -> None:
        self._next = count(2)

    def take(self) -> int:
        """Return the next one."""
        return next(self._next)


def properties(ids: Ids, name: str, *, alt: str = "", decorative: bool = False) -> Element:
    """Return id, neutral name and alt text of a shape."""
    number = ids.take()
    made = el("p:cNvPr", id=number, name=f"{name} {number}")
    if alt:
        made.set("descr", alt)
    if decorative:
        flag = el("a:ext", el("adec:decorative", val=1), uri=DECORATIVE)
        made.append(el("a:extLst", flag))
    return made


def frame(box: Box, tag: str = "a:xfrm") -> Element:
    """Return the place of a shape."""
    return el(
        tag,
        el("a:off", x=emu(box.x), y=emu(box.y)),
        el("a:ext", cx=emu(box.w), cy=emu(box.h)),
    )


def geometry(preset: str = "rect") -> Element:
    """Return one of the preset outlines."""
    return el("a:prstGeom", el("a:avLst"), prst=preset)


def text_body(
    paras: Sequence[Para],
    palette: Palette,
    tag: str = "p:txBody",
    *,
    align: str = "l",
    anchor: str = "t",
    headline: bool = False,
) -> Element:
    """Return words set in boxes without insets, so that a box is as large as was measured."""
    cell = tag == "a:txBody"
    body = el("a:bodyPr") if cell else _bare(anchor)
    start = next((para.number for para in paras if para.number and not para.rest), 1)
    mixed = any(runs_left(para.text) for para in paras)
    written = [
        paragraph(
            para, palette, align, headline, start=start, last=place == len(paras), exact=cell, mixed=mixed
        )
        for place, para in enumerate(paras, 1)
    ]
    return el(tag, body, el("a:lstStyle"), *written)


def _bare(anchor: str) -> Element:
    """Return body properties without insets or fitting. Cells of a table have their margins elsewhere."""
    return el("a:bodyPr", el("a:noAutofit"), wrap="square", lIns=0, tIns=0, rIns=0, bIns=0, anchor=anchor)


def paragraph(
    para: Para,
    palette: Palette,
    align: str = "l",
    headline: bool = False,
    *,
    start: int = 1,
    last: bool = True,
    exact: bool = False,
    mixed: bool = False,
) -> Element:
    """Return one paragraph.

    `start` is the number its list begins with, `exact` says its pitch in points; `mixed` that some of its
    box run from the right, so that it has to say which way it runs itself.
    """
    indent = emu(para.indent)
    bulleted = indent and not para.rest
    leftwards = runs_left(para.text)
    props = el(
        "a:pPr",
        el("a:lnSpc", _spacing(para, exact)),
        el("a:spcBef", el("a:spcPts", val=0)),
        el("a:spcAft", el("a:spcPts", val=0 if last else round(para.after * 100))),
        *(_bullet(para, palette, start) if bulleted else (el("a:buNone"),)),
        marL=indent,
        indent=-indent if bulleted else 0,
        algn="r" if leftwards and align == "l" else align,
    )
    if leftwards or mixed:
        props.set("rtl", "1" if leftwards else "0")
    colour = None if headline else palette.text(para.role)
    written = run(para.text, para.size, bold=para.bold, colour=colour, inherit_face=headline)
    return el("a:p", props, written)


def _spacing(para: Para, exact: bool) -> Element:
    if exact:
        return el("a:spcPts", val=round(para.pitch * 100))
    return el("a:spcPct", val=100000)


def _bullet(para: Para, palette: Palette, start: int) -> tuple[Element, ...]:
    colour = el("a:buClr", palette.accent.element())
    if para.number is None:
        return colour, el("a:buFont", typeface="Arial"), el("a:buChar", char="•")
    face = el("a:buFont", typeface="+mj-lt")
    numbering = el("a:buAutoNum", type="arabicPeriod")
    if start > 1:
        numbering.set("startAt", str(start))
    return colour, face, numbering


def run(
    text: str, size: float, *, bold: bool = False, colour: Colour | None = None, inherit_face: bool = False
) -> Element:
    """Return one run, in the theme's body face unless it is to take its placeholder's."""
    props = el(
        "a:rPr",
        colour.fill() if colour else None,
        None if inherit_face else el("a:latin", typeface="+mn-lt"),
        lang=_language(),
        sz=round(size * 100),
        b=int(bold),
        dirty=0,
    )
    return el("a:r", props, el("a:t", text=text))


def text_box(
    ids: Ids,
    name: str,
    box: Box,
    body: Element,
    *,
    ground: Colour | None = None,
    outline: Colour | None = None,
) -> Element:
    """Return a text box; `ground` and `outline` make it a label or a stamp."""
    edge = el("a:ln", outline.fill(), w=emu(1.5)) if outline else el("a:ln", el("a:noFill"))
    return el(
        "p:sp",
        el("p:nvSpPr", properties(ids, name), el("p:cNvSpPr", txBox=1), el("p:nvPr")),
        el("p:spPr", frame(box), geometry(), ground.fill() if ground else el("a:noFill"), edge),
        body,
    )


def placeholder(ids: Ids, name: str, holder: Holder, body: Element, box: Box | None = None) -> Element:
    """Return a shape that belongs to a placeholder of its layout; `box` moves it."""
    mark = el("p:ph", type=holder.kind)
    if holder.idx:
        mark.set("idx", str(holder.idx))
    return el(
        "p:sp",
        el(
            "p:nvSpPr",
            properties(ids, name),
            el("p:cNvSpPr", el("a:spLocks", noGrp=1)),
            el("p:nvPr", mark),
        ),
        el("p:spPr", frame(box)) if box else el("p:spPr"),
        body,
    )


def slide_number(colour: Colour, number: int) -> Element:
    """Return a text body whose one field is the slide's number."""
    face = el("a:latin", typeface="+mn-lt")
    props = el("a:rPr", colour.fill(), face, lang=_language(), sz=1200, b=1)
    field = el("a:fld", props, el("a:t", text=str(number)), id=_FIELD, type="slidenum")
    return el("p:txBody", _bare("t"), el("a:lstStyle"), el("a:p", el("a:pPr", algn="r"), field))


def stroke(ids: Ids, name: str, box: Box, colour: Colour) -> Element:
    """Return a filled bar without words, passed over by screen readers."""
    props = properties(ids, name, decorative=True)
    return el(
        "p:sp",
        el("p:nvSpPr", props, el("p:cNvSpPr"), el("p:nvPr")),
        el("p:spPr", frame(box), geometry(), colour.fill(), el("a:ln", el("a:noFill"))),
    )
