"""The end of a paper: its last sections share a page, so that none of them is a page of a line or two."""

from __future__ import annotations

import io
from dataclasses import replace

import pytest
from pypdf import PdfReader

from mmbuilder.formats import handout_pdf
from mmbuilder.safe.text import number
from mmbuilder.storyboard.blocks import Bullets, Callout, Facts, Paragraph
from tests.formats import boards


# Common practice, no source. With so many lines before it, the end meets the foot of the first page.
@pytest.mark.parametrize("lines", range(20, 26))
def test_the_take_away_stands_with_what_was_learned_and_what_to_read(lines: int) -> None:
    slides = (
        boards.slide("events", boards.safe("Before"), *(Paragraph(number(n)) for n in range(lines))),
        boards.slide("learning", boards.safe("Learned"), Bullets((boards.safe("one"), boards.safe("two")))),
        boards.slide("take_away", boards.safe("Taken away"), Callout(boards.safe("Feel the eye."))),
        boards.slide("references", boards.safe("To be read"), Bullets((boards.safe("BMJ"),), numbered=True)),
    )
    board = replace(boards.every_block(), slides=slides, paper=boards.safe("handout"))
    pages = [page.extract_text() for page in PdfReader(io.BytesIO(handout_pdf.write(board))).pages]
    (end,) = [page for page in pages if "Taken away" in page]
    assert "Learned" in end
    assert "To be read" in end


# With so many lines before it, an answer of five lines meets the foot of the page.
@pytest.mark.parametrize("lines", range(36, 42))
def test_an_answer_is_not_torn_from_page_to_page(lines: int) -> None:
    answer = boards.safe(f"Begun {'and told at some length ' * 16}ended.")
    facts = Facts(tuple((boards.safe("Is it asked?"), answer) for _ in range(3)))
    before = (Paragraph(number(n)) for n in range(lines))
    slides = (boards.slide("questions", boards.safe("Asked"), *before, facts),)
    board = replace(boards.every_block(), slides=slides)
    pages = [page.extract_text() for page in PdfReader(io.BytesIO(handout_pdf.write(board))).pages]
    assert len(pages) > 1
    assert all(page.count("Begun") == page.count("ended.") for page in pages)
