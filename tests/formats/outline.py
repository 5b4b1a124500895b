"""A deck as text a person can review in a diff: layout, shapes with place in mm, words, alt, notes."""

from __future__ import annotations

import io
from collections.abc import Iterator

from lxml import etree
from pptx import Presentation
from pptx.slide import Slide

from tests.formats.invariants import NS

MM = 36000


def outline(data: bytes) -> str:
    """Return the outline of every slide."""
    deck = Presentation(io.BytesIO(data))
    return (
        "\n".join(line for number, slide in enumerate(deck.slides, 1) for line in _slide(number, slide))
        + "\n"
    )


def _slide(number: int, slide: Slide) -> Iterator[str]:
    yield f"## {number}  [{slide.slide_layout.name}]"
    for shape in slide.shapes:
        kind = etree.QName(shape.element).localname
        holder = f" <{shape.placeholder_format.type.name.lower()}>" if shape.is_placeholder else ""
        place = " ".join(f"{value / MM:.0f}" for value in (shape.left, shape.top, shape.width, shape.height))
        yield f"- {kind} {shape.name}{holder} at {place}"
        alt = shape.element.find(".//p:cNvPr", NS).get("descr")
        if alt:
            yield f"    alt: {alt}"
        for row in shape.element.iterfind(".//a:tr", NS):
            yield "    | " + " | ".join(" / ".join(_runs(cell)) for cell in row.iterfind("a:tc", NS)) + " |"
        if kind == "sp":
            yield from (f"    {text}" for text in _runs(shape.element))
    yield "  notes:"
    yield from (f"    {line}" for line in slide.notes_slide.notes_text_frame.text.splitlines())
    yield ""


def _runs(element: etree._Element) -> list[str]:
    made = []
    for para in element.iterfind(".//a:p", NS):
        mark = "• " if para.find("a:pPr/a:buChar", NS) is not None else ""
        mark = "# " if para.find("a:pPr/a:buAutoNum", NS) is not None else mark
        for run in [*para.iterfind("a:r", NS), *para.iterfind("a:fld", NS)]:
            props = run.find("a:rPr", NS)
            bold = "b" if props.get("b") == "1" else ""
            made.append(f"{mark}{int(props.get('sz')) / 100:g}{bold}: {run.findtext('a:t', '', NS)}")
    return made
