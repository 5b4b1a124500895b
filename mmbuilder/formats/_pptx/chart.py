"""A timeline or a diagram on a sheet: drawn as vectors, with a picture for software that cannot show them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from pptx.parts.slide import SlidePart

from mmbuilder import figures
from mmbuilder.figures import Drawing, diagram
from mmbuilder.formats._pptx import text
from mmbuilder.formats._pptx.geometry import CM, Box
from mmbuilder.formats._pptx.media import Media
from mmbuilder.formats._pptx.picture import blip
from mmbuilder.formats._pptx.pieces import CAPTION_GAP, Plate
from mmbuilder.formats._pptx.shapes import Ids, text_body, text_box
from mmbuilder.formats._pptx.style import Palette
from mmbuilder.formats._pptx.xml import Element, el
from mmbuilder.storyboard.blocks import TimeChart

_SVG = "{96DAC541-7B7A-43D3-8B79-37D633B846F1}"
"""Extension of a picture that names its vector original (MS-ODRAWXML, svgBlip)."""


def chart(ids: Ids, source: TimeChart, alt: str, box: Box, slide: SlidePart, media: Media) -> Element:
    """Draw the chart at the size of its place and return it as a picture shape."""
    drawing = figures.draw(source.chart, box.w / CM, box.h / CM)
    return _shape(ids, "Timeline", alt, box, drawing, slide, media)


def plate(
    ids: Ids, source: Plate, box: Box, palette: Palette, where: tuple[SlidePart, Media]
) -> Iterator[Element]:
    """Draw one sheet of a diagram as a picture shape, and its caption as text below it."""
    drawing = diagram.draw(source.source, source.size).pictures[source.place]
    shown = replace(box, h=source.size.height * CM)
    yield _shape(ids, "Diagram", source.alt, shown, drawing, *where)
    if source.caption:
        tall = text.height(source.caption, box.w)
        told = replace(box, y=shown.bottom + CAPTION_GAP, h=tall)
        yield text_box(ids, "Caption", told, text_body(source.caption, palette))


def _shape(
    ids: Ids, name: str, alt: str, box: Box, drawing: Drawing, slide: SlidePart, media: Media
) -> Element:
    vector = el("asvg:svgBlip", r__embed=media.relate(slide, drawing.svg, "svg"))
    image = el(
        "a:blip",
        el("a:extLst", el("a:ext", vector, uri=_SVG)),
        r__embed=media.relate(slide, drawing.png, "png"),
    )
    return blip(ids, name, alt, box, image)
