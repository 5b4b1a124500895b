"""A clean Word document, and the marks in its XML that python-docx has no call for.

Source of the elements: ECMA-376, Part 1, WordprocessingML (17.9 numbering, 17.4.49 tblHeader) and
DrawingML (20.4.2.5 docPr, `descr`).
"""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any

from mmbuilder import fonts, labels
from mmbuilder.formats._pptx.geometry import Box
from mmbuilder.formats._pptx.marks import line, ring
from mmbuilder.safe.jpeg import jpeg
from mmbuilder.safe.terms import PaperSize
from mmbuilder.storyboard.blocks import Picture, Sheet

if TYPE_CHECKING:
    from docx.document import Document

_MM = {PaperSize.A4: (210.0, 297.0), PaperSize.LETTER: (215.9, 279.4)}
_MARGIN_MM = 25.0
_FOOT = 8
"""Points: of the line at the foot, and of the space above it."""


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
    """Write the line at the foot of every page: small, and apart from the text above it."""
    from docx.shared import Pt

    line = made.sections[0].footer.paragraphs[0]
    line.paragraph_format.space_before = Pt(_FOOT)
    line.add_run(words).font.size = Pt(_FOOT)


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


def from_the_right(line: Any, words: str, *, bold: bool, italic: bool) -> None:
    """Write words that run from the right into a paragraph that then does, its bullet or number with it.

    Source: ECMA-376, Part 1, 17.3.1.6 (bidi), 17.3.2.30 (rtl). Bold and italic of such letters have marks
    of their own.
    """
    from docx.oxml import OxmlElement

    line._p.get_or_add_pPr().insert_element_before(OxmlElement("w:bidi"), *_BEHIND_BIDI)
    face = line.add_run(words).font
    face.rtl, face.cs_bold, face.cs_italic = True, bold or None, italic or None


_BEHIND_BIDI = (
    *("w:adjustRightInd", "w:snapToGrid", "w:spacing", "w:ind", "w:contextualSpacing", "w:mirrorIndents"),
    *("w:suppressOverlap", "w:jc", "w:textDirection", "w:textAlignment", "w:textboxTightWrap"),
    *("w:outlineLvl", "w:divId", "w:cnfStyle", "w:rPr", "w:sectPr", "w:pPrChange"),
)
"""What stands behind it among the properties of a paragraph (17.3.1.26)."""


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


def whole(table: Any) -> None:
    """Keep a table on one page: each row but the last with the one after it."""
    for row in table.rows[:-1]:
        for cell in row.cells:
            for paragraph in cell.paragraphs:
                paragraph.paragraph_format.keep_with_next = True


def picture(made: Document, data: bytes, alt: str, width_cm: float) -> Any:
    """Add a picture with its alt text and return its place; its name is its number, never that of a file."""
    from docx.shared import Cm

    shape = made.add_picture(io.BytesIO(data), width=Cm(width_cm))
    made.paragraphs[-1].paragraph_format.keep_with_next = True  # its caption stands below it
    facts = shape._inline.docPr
    facts.set("descr", alt)
    facts.set("name", f"Figure {facts.id}")
    named = shape._inline.graphic.graphicData.pic.nvPicPr.cNvPr
    named.set("name", f"Figure {facts.id}")
    return shape._inline


def beside(made: Document, place: Any, svg: bytes) -> None:
    """Put a drawing beside the picture of it: Word shows the drawing, and what reads the file its words."""
    from docx.opc.constants import RELATIONSHIP_TYPE as RT
    from docx.opc.packuri import PackURI
    from docx.opc.part import Part
    from docx.oxml import parse_xml

    package = made.part.package
    assert package is not None
    name = PackURI(f"/word/media/drawing{place.docPr.id}.svg")
    relation = made.part.relate_to(Part(name, "image/svg+xml", svg, package), RT.IMAGE)
    place.graphic.graphicData.pic.blipFill.blip.append(
        parse_xml(
            f'<a:extLst xmlns:a="{_A}"><a:ext uri="{_SVG}"><asvg:svgBlip xmlns:asvg="{_ASVG}" '
            f'xmlns:r="{_R}" r:embed="{relation}"/></a:ext></a:extLst>'
        )
    )


_A = "http://schemas.openxmlformats.org/drawingml/2006/main"
_R = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_WPG, _WPS = (
    f"http://schemas.microsoft.com/office/word/2010/wordprocessing{kind}" for kind in ("Group", "Shape")
)
_ASVG = "http://schemas.microsoft.com/office/drawing/2016/SVG/main"
_SVG = "{96DAC541-7B7A-43D3-8B79-37D633B846F1}"
"""Extension of a picture that names its vector original (MS-ODRAWXML, svgBlip)."""


def still(made: Document, block: Picture, alt: str, width_cm: float) -> None:
    """Add a still with its arrows and rings as shapes over it, light on a dark halo; its pixels stay clean.

    Source of the group: MS-ODRAWXML 2.7, wordprocessingGroup and wordprocessingShape.
    """
    from docx.oxml import parse_xml

    place = picture(made, jpeg(block.image), alt, width_cm)
    if not (block.arrows or block.circles):
        return
    size = (int(place.extent.cx), int(place.extent.cy))
    content = place.graphic.graphicData
    shown = content.pic
    group = parse_xml(
        f'<wpg:wgp xmlns:wpg="{_WPG}" xmlns:a="{_A}"><wpg:cNvGrpSpPr/><wpg:grpSpPr><a:xfrm>'
        f'<a:off x="0" y="0"/><a:ext cx="{size[0]}" cy="{size[1]}"/>'
        f'<a:chOff x="0" y="0"/><a:chExt cx="{size[0]}" cy="{size[1]}"/></a:xfrm></wpg:grpSpPr></wpg:wgp>'
    )
    content.set("uri", _WPG)
    group.append(shown)
    content.append(group)
    for shape in _marks(block, size):
        group.append(parse_xml(shape.format(id=made.part.next_id)))


def _marks(block: Picture, size: tuple[int, int]) -> Iterator[str]:
    whole = Box(0, 0, *size)
    unit = max(size) / 320
    for width, ink, head in ((3 * unit, "000000", "med"), (1.5 * unit, "FFFFFF", "lg")):
        pen = f'<a:ln w="{round(width)}" cap="rnd"><a:solidFill><a:srgbClr val="{ink}"/></a:solidFill>'
        for arrow in block.arrows:
            x0, y0, x1, y1 = line(whole, arrow)
            turn = f'flipH="{int(x1 < x0)}" flipV="{int(y1 < y0)}"'
            box = Box(min(x0, x1), min(y0, y1), abs(x1 - x0), abs(y1 - y0))
            tip = f'<a:round/><a:tailEnd type="triangle" w="{head}" len="{head}"/></a:ln>'
            yield _shape("line", box, pen + tip, turn)
        for circle in block.circles:
            yield _shape("ellipse", ring(whole, circle), f"<a:noFill/>{pen}</a:ln>")


def _shape(kind: str, box: Box, look: str, turn: str = "") -> str:
    x, y, width, height = map(round, (box.x, box.y, box.w, box.h))
    return (
        f'<wps:wsp xmlns:wps="{_WPS}" xmlns:a="{_A}"><wps:cNvPr id="{{id}}" name="Mark"/><wps:cNvSpPr/>'
        f'<wps:spPr><a:xfrm {turn}><a:off x="{x}" y="{y}"/><a:ext cx="{width}" cy="{height}"/></a:xfrm>'
        f'<a:prstGeom prst="{kind}"><a:avLst/></a:prstGeom>{look}</wps:spPr><wps:bodyPr/></wps:wsp>'
    )
