"""The notes of a timeline on paper: all of them in words under it, where the paper may take the pages it needs."""

from __future__ import annotations

import html
import io
import re
from dataclasses import replace

from pypdf import PdfReader

from mmbuilder.analysis.timeline import Chart, build_timeline
from mmbuilder.formats import handout_html, handout_pdf
from mmbuilder.formats._paper.drawings import drawings
from mmbuilder.storyboard.blocks import Sheet, Storyboard, TimeChart
from tests.figures.samples import ward
from tests.formats import boards

CHART = TimeChart(Chart(build_timeline(ward())), boards.safe("a ward"))
ROOM = (27.0, 13.5)
"""What a drawing has on upright A4 before it is set smaller; the same as on the page."""


def board() -> Storyboard:
    slides = (
        boards.slide("timeline_whole", boards.safe("The whole"), CHART),
        boards.slide("take_away", boards.safe("The end"), *boards.every_block().slides[0].blocks[:1]),
    )
    return replace(boards.every_block(), slides=slides, paper=boards.safe("handout"))


def printed(sheet: Sheet) -> str:
    pages = PdfReader(io.BytesIO(handout_pdf.write(board(), sheet))).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


# Common practice, no source: a reader of paper has time, and may look a note up.
def test_every_note_is_told_once_under_the_drawing() -> None:
    made = drawings(CHART, *ROOM)
    notes = made.notes.reveal().split("  ·  ")
    assert len(notes) > 3
    page = " ".join(re.sub("<[^>]+>", " ", html.unescape(handout_html.write(board()).decode())).split())
    paper = printed(Sheet(upright=True))
    for note in notes:
        assert paper.replace("\u00a0", " ").count(note) == 1, note
        assert page.replace("\u00a0", " ").count(note) == 1, note


def test_a_paper_of_so_many_pages_keeps_them_on_the_drawing() -> None:
    assert not drawings(CHART, *ROOM, noted=True).notes
    first = drawings(CHART, *ROOM).notes.reveal().split("  ·  ")[0]
    assert first in printed(Sheet(pages=1)).replace("\u00a0", " ")
