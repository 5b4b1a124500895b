"""A frame on a sheet: the picture as large as it goes, its marks, its caption."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from pptx.parts.slide import SlidePart

from mmbuilder.formats._pptx import marks, text
from mmbuilder.formats._pptx.convert import labels
from mmbuilder.formats._pptx.geometry import Box
from mmbuilder.formats._pptx.media import Media, encoded
from mmbuilder.formats._pptx.pieces import CAPTION_GAP, Figure
from mmbuilder.formats._pptx.printed import printed
from mmbuilder.formats._pptx.shapes import Ids, frame, geometry, properties, text_body, text_box
from mmbuilder.formats._pptx.style import Face, Palette
from mmbuilder.formats._pptx.xml import Element, el
from mmbuilder.storyboard.blocks import Picture

_SIDE, _SHORT = 190.0, 2
"""A caption stands beside the picture where this much width is left; else below, as one of so few lines."""


def picture(
    ids: Ids,
    figure: Figure,
    source: Picture,
    box: Box,
    palette: Palette,
    face: Face,
    where: tuple[SlidePart, Media],
) -> Iterator[Element]:
    """Return picture, marks, labels and caption."""
    slide, media = where
    shown, told = arrange(figure, source, box)
    relation = media.relate(slide, encoded(source.image), "jpg")
    yield blip(ids, "Picture", figure.alt, shown, el("a:blip", r__embed=relation))
    yield from marks.marks(ids, shown, source.arrows, source.circles, palette)
    yield from marks.label_shapes(ids, labelled(source, shown, labels(source), face), palette, face)
    if figure.caption:
        yield text_box(ids, "Caption", told, text_body(figure.caption, palette))


def labelled(source: Picture, shown: Box, words: Sequence[str], face: Face) -> tuple[marks.Label, ...]:
    """Return the labels of a picture shown in `shown`, each in its place."""
    letters = printed(source.image, shown) if source.arrows or source.circles else ()
    return marks.placed_labels(shown, source.arrows, source.circles, words, face, letters)


def arrange(figure: Figure, source: Picture, box: Box) -> tuple[Box, Box]:
    """Return the places of picture and caption: side by side where a long one has room, else one below it.

    A short one below takes little of the picture, which so stays where it stands without one.
    """
    width, height = source.image.width, source.image.height
    if not figure.caption:
        return box.contain(width, height), box
    whole = box.contain(width, height)
    left = replace(whole, x=box.x)
    beside = Box(left.right + 24, box.y, box.right - left.right - 24, box.h)
    tall = text.height(figure.caption, box.w)
    short = tall <= _SHORT * figure.caption[0].pitch
    if not short and beside.w >= _SIDE and text.height(figure.caption, beside.w) <= beside.h:
        return left, replace(beside, y=left.y, h=text.height(figure.caption, beside.w))
    upper = Box(box.x, box.y, box.w, box.h - tall - CAPTION_GAP).contain(width, height)
    under = Box(upper.x, upper.bottom + CAPTION_GAP, box.right - upper.x, tall)
    fits = text.height(figure.caption, under.w) <= tall
    return upper, under if fits else replace(under, x=box.x, w=box.w)


def blip(ids: Ids, name: str, alt: str, box: Box, image: Element) -> Element:
    """Return a picture shape around an image reference."""
    locks = el("p:cNvPicPr", el("a:picLocks", noChangeAspect=1))
    fill = el("p:blipFill", image, el("a:stretch", el("a:fillRect")))
    return el(
        "p:pic",
        el("p:nvPicPr", properties(ids, name, alt=alt), locks, el("p:nvPr")),
        fill,
        el("p:spPr", frame(box), geometry()),
    )
