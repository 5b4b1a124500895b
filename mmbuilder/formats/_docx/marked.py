"""A clean Word document, and the marks in its XML that python-docx has no call for.

Source of the elements: ECMA-376, Part 1, WordprocessingML (17.9 numbering, 17.4.49 tblHeader) and
DrawingML (20.4.2.5 docPr, `descr`).
"""

from __future__ import annotations

import io
from collections.abc import Sequence
from math import atan2, cos, pi, sin
from typing import TYPE_CHECKING, Any

from mmbuilder import fonts, labels
from mmbuilder.safe.jpeg import encode
from mmbuilder.safe.terms import PaperSize
from mmbuilder.storyboard.blocks import Picture, Sheet

if TYPE_CHECKING:
    from docx.document import Document

_MM = {PaperSize.A4: (210.0, 297.0), PaperSize.LETTER: (215.9, 279.4)}
_MARGIN_MM = 25.0


def document(sheet: Sheet) -> Document:
    """Return an empty document in our face and language, without the template's own leavings."""
    from docx import Document as new
    from docx.oxml.ns import qn
    from docx.shared import Mm, Pt

    made = new()
    page = made.sections[0]
    page.page_width, page.page_height = map(Mm, _MM[sheet.size])
    page.left_margin = page.right_margin = page.top_margin = page.bottom_margin = Mm(_MARGIN_MM)
    for rel, found in list(made.part.rels.items()):
        if found.reltype.endswith(("/customXml", "/stylesWithEffects")):
            made.part.drop_rel(rel)
            made.part.rels.pop(rel, None)
    for style in made.styles:
        face = getattr(style, "font", None)
        if face is None or style.name not in _FACED:
            continue
        face.name = fonts.FAMILY
        for script in ("asciiTheme", "hAnsiTheme", "eastAsiaTheme", "cstheme"):
            style.element.rPr.rFonts.attrib.pop(qn(f"w:{script}"), None)
    _sized(made.styles["Normal"], Pt(11))
    _language(made)
    return made


def _sized(style: Any, size: Any) -> None:
    style.font.size = size


_FACED = frozenset(
    ("Normal", "Title", "Heading 1", "Heading 2", "Caption", "List Bullet", "List Number", "Table Grid")
)


def _language(made: Document) -> None:
    from docx.oxml.ns import qn

    for found in made.styles.element.iter(qn("w:lang")):
        found.set(qn("w:val"), labels.say("en-GB"))


def footer(made: Document, words: str) -> None:
    """Write the line at the foot of every page."""
    line = made.sections[0].footer.paragraphs[0]
    line.text = words


def numbered(made: Document) -> int:
    """Start a numbered list of its own and return its number: else every list would go on counting."""
    from docx.oxml import OxmlElement
    from docx.oxml.ns import qn

    numbering = made.part.numbering_part.element
    style = made.styles["List Number"].element.pPr.numPr.numId.val
    kind = numbering.num_having_numId(style).abstractNumId.val
    num = numbering.add_num(kind)
    begin = OxmlElement("w:lvlOverride")
    begin.set(qn("w:ilvl"), "0")
    start = OxmlElement("w:startOverride")
    start.set(qn("w:val"), "1")
    begin.append(start)
    num.append(begin)
    return int(num.numId)


def count(line: Any, number: int) -> None:
    """Put a paragraph into a numbered list."""
    numbers = line._p.get_or_add_pPr().get_or_add_numPr()
    numbers.get_or_add_numId().val = number
    numbers.get_or_add_ilvl().val = 0


def heads(row: Any) -> None:
    """Say that a row is a table's head: it is repeated on each page and read out as such."""
    from docx.oxml import OxmlElement

    mark = OxmlElement("w:tblHeader")
    row._tr.get_or_add_trPr().append(mark)


def shared(table: Any, shares: Sequence[float], width_cm: float) -> None:
    """Give each column its share of the width."""
    from docx.shared import Cm

    table.autofit = False
    for column, share in zip(table.columns, shares, strict=True):
        for cell in column.cells:
            cell.width = Cm(width_cm * share / sum(shares))


def picture(made: Document, data: bytes, alt: str, width_cm: float) -> None:
    """Add a picture with its alt text; its name is its number, never that of a file."""
    from docx.shared import Cm

    shape = made.add_picture(io.BytesIO(data), width=Cm(width_cm))
    facts = shape._inline.docPr
    facts.set("descr", alt)
    facts.set("name", f"Figure {facts.id}")
    named = shape._inline.graphic.graphicData.pic.nvPicPr.cNvPr
    named.set("name", f"Figure {facts.id}")


def still(block: Picture) -> bytes:
    """Return a still as JPEG with its arrows and rings drawn into the pixels, light on a dark halo."""
    from PIL import Image, ImageDraw

    shown = block.image
    image = Image.frombytes("RGB", (shown.width, shown.height), shown.pixels)
    pen, unit = ImageDraw.Draw(image), max(shown.width, shown.height) / 320
    for width, ink in ((3 * unit, "black"), (1.5 * unit, "white")):
        for arrow in block.arrows:
            tail = (arrow.x0 * shown.width, arrow.y0 * shown.height)
            tip = (arrow.x1 * shown.width, arrow.y1 * shown.height)
            pen.line([tail, tip], ink, round(width))
            pen.polygon(_head(tail, tip, 9 * unit + width), ink)
        for circle in block.circles:
            x, y, radius = circle.x * shown.width, circle.y * shown.height, circle.radius * shown.width
            pen.ellipse((x - radius, y - radius, x + radius, y + radius), outline=ink, width=round(width))
    return encode(image)


def _head(tail: tuple[float, float], tip: tuple[float, float], size: float) -> list[tuple[float, float]]:
    angle = atan2(tail[1] - tip[1], tail[0] - tip[0])
    sides = (angle - pi / 7, angle + pi / 7)
    return [tip, *((tip[0] + size * cos(side), tip[1] + size * sin(side)) for side in sides)]
