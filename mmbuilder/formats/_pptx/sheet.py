"""Write one sheet into the deck as a slide."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import assert_never

from pptx.parts.slide import SlidePart
from pptx.slide import Slide as DeckSlide

from mmbuilder import labels
from mmbuilder.formats._pptx import chart, picture, shapes, table
from mmbuilder.formats._pptx.flow import Sheet
from mmbuilder.formats._pptx.footer import footer
from mmbuilder.formats._pptx.geometry import Box
from mmbuilder.formats._pptx.media import Media
from mmbuilder.formats._pptx.pieces import BAR, Figure, Grid, Placed, Plate, Text
from mmbuilder.formats._pptx.shapes import Ids
from mmbuilder.formats._pptx.stage import Seat, Stage
from mmbuilder.formats._pptx.style import STAMP, Face, Role
from mmbuilder.formats._pptx.text import Para
from mmbuilder.formats._pptx.xml import Element
from mmbuilder.safe.direction import runs_left
from mmbuilder.storyboard.blocks import TimeChart


def write(stage: Stage, sheet: Sheet, media: Media, band: tuple[str, str], *, draft: bool) -> DeckSlide:
    """Add a slide with everything that stands on the sheet.

    Args:
        stage: the open template.
        sheet: what stands where.
        media: picture parts of the deck.
        band: confidentiality line and use.
        draft: whether DRAFT is stamped on it.
    """
    slide: DeckSlide = stage.deck.slides.add_slide(sheet.seat.layout)
    tree = slide.shapes._spTree
    for shape in list(slide.shapes):  # the empty placeholders that came with the layout
        tree.remove(shape.element)
    tree.extend(_drawn(stage, sheet, slide.part, media, band, len(stage.deck.slides), draft))
    return slide


def _drawn(
    stage: Stage,
    sheet: Sheet,
    part: SlidePart,
    media: Media,
    band: tuple[str, str],
    number: int,
    draft: bool,
) -> Iterator[Element]:
    """Yield shapes in reading order: headline, body, then what stands on every slide."""
    ids, seat = Ids(), sheet.seat
    yield _headline(ids, sheet)
    for placed in sheet.placed:
        yield from _piece(ids, sheet, placed, stage.face, part, media)
    if seat.bar:
        yield from _pause(ids, seat, stage.face)
    if draft:
        word = Para(labels.say("DRAFT"), STAMP, True, Role.STAMP, face=stage.face)
        body = shapes.text_body((word,), seat.palette, align="ctr", anchor="ctr")
        yield shapes.text_box(ids, "Stamp", seat.draft, body, outline=seat.palette.stamp)
    yield from footer(ids, seat, band, number, stage.face)


def _headline(ids: Ids, sheet: Sheet) -> Element:
    seat = sheet.seat
    box = seat.moved
    if sheet.raised:
        box = replace(seat.headline, h=sheet.headline.height(seat.headline.w))
    anchor = "b" if seat.title.kind == "ctrTitle" else "t"
    body = shapes.text_body((sheet.headline,), seat.palette, anchor=anchor, headline=True)
    return shapes.placeholder(ids, "Headline", seat.title, body, box)


def _piece(
    ids: Ids, sheet: Sheet, placed: Placed, face: Face, part: SlidePart, media: Media
) -> Iterator[Element]:
    palette, box = sheet.seat.palette, placed.box
    match placed.piece:
        case Text() as text:
            yield from _text(ids, sheet, text, box)
        case Grid() as grid:
            yield table.table(ids, grid, box, palette)
        case Figure(source=source) as figure:
            if isinstance(source, TimeChart):
                yield chart.chart(ids, source, figure.alt, box, part, media)
            else:
                yield from picture.picture(ids, figure, source, box, palette, face, (part, media))
        case Plate() as plate:
            yield from chart.plate(ids, plate, box, palette, (part, media))
        case _ as never:
            assert_never(never)


_BAR = 5
"""Width of the bar where a text that stands alone begins: at the right, if it runs from there; points."""


def _text(ids: Ids, sheet: Sheet, text: Text, box: Box) -> Iterator[Element]:
    seat = sheet.seat
    if text.barred:
        leftwards = all(runs_left(para.text) for para in text.paras)
        beside = box.right - _BAR if leftwards else box.x
        yield shapes.stroke(ids, "Stroke", Box(beside, box.y, _BAR, box.h), seat.palette.accent)
        box = Box(box.x + (0 if leftwards else BAR), box.y, box.w - BAR, box.h)
    body = shapes.text_body(text.apart, seat.palette)
    if seat.text and len(sheet.placed) == 1:
        usual = not (text.barred or sheet.raised or seat.moved) and box.y == seat.body.y
        yield shapes.placeholder(ids, "Text", seat.text, body, None if usual else box)
    else:
        yield shapes.text_box(ids, "Text", box, body)


def _pause(ids: Ids, seat: Seat, face: Face) -> Iterator[Element]:
    """Draw the pause bar where the template has no layout for it."""
    assert seat.bar
    yield shapes.stroke(ids, "Bar", seat.bar, seat.palette.halo)
    word = Para("PAUSE", 20, True, Role.ON_HALO, face=face)
    top = Box(seat.bar.x, seat.bar.y + 24, seat.bar.w, 40)
    body = shapes.text_body((word,), seat.palette, align="ctr", anchor="ctr")
    yield shapes.text_box(ids, "Word", top, body, ground=seat.palette.halo)
