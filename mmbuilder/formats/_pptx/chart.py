"""A timeline on a sheet: drawn as vectors, with a picture for software that cannot show them."""

from __future__ import annotations

from pptx.parts.slide import SlidePart

from mmbuilder import figures
from mmbuilder.formats._pptx.geometry import CM, Box
from mmbuilder.formats._pptx.media import Media
from mmbuilder.formats._pptx.picture import blip
from mmbuilder.formats._pptx.shapes import Ids
from mmbuilder.formats._pptx.xml import Element, el
from mmbuilder.storyboard.blocks import TimeChart

_SVG = "{96DAC541-7B7A-43D3-8B79-37D633B846F1}"
"""Extension of a picture that names its vector original (MS-ODRAWXML, svgBlip)."""


def chart(ids: Ids, source: TimeChart, alt: str, box: Box, slide: SlidePart, media: Media) -> Element:
    """Draw the chart at the size of its place and return it as a picture shape."""
    drawing = figures.draw(source.chart, box.w / CM, box.h / CM)
    vector = el("asvg:svgBlip", r__embed=media.relate(slide, drawing.svg, "svg"))
    image = el(
        "a:blip",
        el("a:extLst", el("a:ext", vector, uri=_SVG)),
        r__embed=media.relate(slide, drawing.png, "png"),
    )
    return blip(ids, "Timeline", alt, box, image)
