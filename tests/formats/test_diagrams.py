"""Diagrams on slides and on paper: vector with a picture behind, told in words, whole on as many sheets."""

from __future__ import annotations

import html
import io
import re
from dataclasses import replace
from typing import get_args

import pytest
from PIL import Image
from pptx import Presentation
from pptx.slide import Slide as DeckSlide

from mmbuilder.analysis.causes import Cause, CauseRow, Causes
from mmbuilder.analysis.series import MOST
from mmbuilder.figures import diagram
from mmbuilder.figures.drawn import Size
from mmbuilder.formats import deck_pptx, handout_html
from mmbuilder.formats._pptx import flow, house
from mmbuilder.formats._pptx.pieces import Grid
from mmbuilder.formats._sink import held, plain
from mmbuilder.safe.terms import FactorRole
from mmbuilder.safe.text import wording
from mmbuilder.storyboard.blocks import Diagram, DiagramData, Storyboard
from tests.formats import boards
from tests.formats.invariants import NS, check_deck

SVG = "{http://schemas.microsoft.com/office/drawing/2016/SVG/main}svgBlip"
EMBED = f"{{{NS['r']}}}embed"
EACH = pytest.mark.parametrize("data", boards.DIAGRAMS, ids=lambda data: type(data).__name__)


def board(data: DiagramData) -> Storyboard:
    block = Diagram(data, wording("Said below it."), (wording("Source: a made-up one."),))
    made = boards.slide("cause_diagram", wording("This is how it hangs together."), block)
    return replace(boards.every_block(), slides=(made,))


def crowd() -> Causes:
    """More words than one sheet holds."""
    rows = (
        CauseRow(
            boards.safe(f"row {row}"),
            tuple(
                Cause(boards.safe(f"factor {row}.{n} that is told at some length"), FactorRole.ROOT)
                for n in range(6)
            ),
        )
        for row in range(7)
    )
    return Causes(wording("A change of plan"), tuple(rows))


def drawings(slide: DeckSlide) -> list[tuple[bytes, bytes]]:
    """SVG and PNG of every picture."""
    found = []
    for blip in slide.element.iterfind(".//a:blip", NS):
        vector = slide.part.related_part(blip.find(f".//{SVG}").get(EMBED))
        picture = slide.part.related_part(blip.get(EMBED))
        assert (vector.content_type, picture.content_type) == ("image/svg+xml", "image/png")
        found.append((vector.blob, picture.blob))
    return found


def test_the_samples_have_every_kind_of_data() -> None:
    assert {type(data) for data in boards.DIAGRAMS} == set(get_args(DiagramData))


@EACH
def test_on_a_slide_it_is_vector_with_a_picture_and_told(data: DiagramData) -> None:
    deck = deck_pptx.write(board(data))
    check_deck(deck)
    (slide,) = Presentation(io.BytesIO(deck)).slides
    ((svg, png),) = drawings(slide)
    shape = next(shape for shape in slide.shapes if shape.name.startswith("Diagram"))
    assert shape.element.find(".//p:cNvPr", NS).get("descr") == plain(diagram.draft(data).alt)
    wide, high = map(float, re.search(rb'viewBox="0 0 ([^"]+)"', svg)[1].split())  # type: ignore[index]
    assert shape.width / shape.height == pytest.approx(wide / high, rel=0.001)
    with Image.open(io.BytesIO(png)) as picture:
        assert picture.width / picture.height == pytest.approx(wide / high, rel=0.01)
    # What is drawn at its own size has letters of the size it was laid out for.
    assert shape.width / 12700 == pytest.approx(wide, abs=0.1)
    said = next(shape for shape in slide.shapes if shape.name.startswith("Caption"))
    assert said.text_frame.text == "Said below\u00a0it."
    assert said.top >= shape.top + shape.height
    assert "Source: a made-up one." in slide.notes_slide.notes_text_frame.text


@EACH
def test_on_paper_it_is_drawn_inside_the_page_and_told(data: DiagramData) -> None:
    page = handout_html.write(board(data)).decode()
    told = [
        html.unescape(found)
        for found in re.findall(r'<figure role="img" tabindex="0" aria-label="([^"]*)"', page)
    ]
    # A figure and its unit may be bound by a no-break space.
    assert [words.replace("\u00a0", " ") for words in told] == [
        plain(diagram.draft(data).alt).replace("\u00a0", " ")
    ]
    assert page.count("<svg") == 1
    assert "Said below it." in page
    assert "Source: a made-up one." in page


def test_words_that_need_more_sheets_get_them_and_none_is_lost() -> None:
    deck = deck_pptx.write(board(crowd()))
    check_deck(deck)
    slides = list(Presentation(io.BytesIO(deck)).slides)
    count = len(slides)
    assert count > 1
    drawn = [drawings(slide) for slide in slides]
    assert all(len(found) == 1 for found in drawn)
    words = " ".join(html.unescape(re.sub(r"<[^>]*>", " ", found[0][0].decode())) for found in drawn)
    shown = re.sub(r"\s+", " ", words)
    for row in range(7):
        for n in range(6):
            assert f"factor {row}.{n}" in shown
    for place, slide in enumerate(slides, 1):
        alt = next(s for s in slide.shapes if s.name.startswith("Diagram")).element.find(".//p:cNvPr", NS)
        assert alt.get("descr").endswith(f"Sheet {place} of {count}.")
        assert f"({place}\u00a0of\u00a0{count})" in slide.shapes.title.text_frame.text
    page = handout_html.write(board(crowd())).decode()
    assert page.count("<svg") > 1


@pytest.mark.parametrize("zero", ["Knife to skin.", "A long index event, told in so many words " * 2])
def test_as_many_measures_as_are_ever_drawn_find_room_with_their_caption(zero: str) -> None:
    told = Diagram(boards.series(MOST), boards.safe(zero))
    made = boards.slide("follow_up", wording("Two visits so far."), told, boards.actions())
    deck = deck_pptx.write(replace(boards.every_block(), slides=(made,)))
    check_deck(deck)
    first, *_ = Presentation(io.BytesIO(deck)).slides
    assert len(drawings(first)) == 1


@EACH
def test_where_a_template_leaves_too_little_room_its_rows_are_a_table(data: DiagramData) -> None:
    stage = house.stage()
    low = replace(stage.telling, body=replace(stage.telling.body, h=160))
    (slide,) = board(data).slides
    made = flow.sheets(slide, low, low, stage.face)
    grids = [placed.piece for sheet in made for placed in sheet.placed if isinstance(placed.piece, Grid)]
    told = [cell[0].text for grid in grids for row in grid.rows for cell in row]
    head, *rows = diagram.draft(data).rows
    assert told == [held(cell) for row in rows for cell in row]
    assert [cell[0].text for cell in grids[0].header] == [held(name) for name in head]


@EACH
def test_a_layout_that_fits_says_so_and_one_that_does_not_is_refused(data: DiagramData) -> None:
    made = diagram.draft(data)
    assert made.fits(made.least)
    assert made.sheets(made.least)
    less = Size(made.least.width, made.least.height - 0.1)
    assert not made.fits(less)
    with pytest.raises(ValueError, match="expected at least"):
        made.sheets(less)
