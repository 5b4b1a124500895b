"""Text runs the way its first letter does. Source: Unicode Standard Annex 9, rules P2 and P3."""

from __future__ import annotations

import io
from dataclasses import replace

import pytest
from pptx import Presentation
from pptx.oxml.ns import qn

from mmbuilder.formats import deck_pptx
from mmbuilder.formats._pptx.shapes import paragraph
from mmbuilder.formats._pptx.style import LIGHT
from mmbuilder.formats._pptx.text import Para
from mmbuilder.safe.mint import KEY
from mmbuilder.safe.text import SafeText
from mmbuilder.storyboard.blocks import Cell, Slide, Table
from tests.formats import boards


@pytest.mark.parametrize(
    ("text", "way", "side"),
    [
        ("(1) حدث أمر عند T+0:35.", "1", "r"),
        ("הלחץ ירד ל-64 mmHg.", "1", "r"),
        ("Кого звать на помощь?", None, "l"),
        ("The pressure (ضغط) fell.", None, "l"),
        ("64", None, "l"),
    ],
)
def test_a_eachof_the_deck(text: str, way: str | None, side: str) -> None:
    props = paragraph(Para(text, 20), LIGHT)[0]
    assert (props.get("rtl"), props.get("algn")) == (way, side)


def test_headlines_and_cells_of_a_written_deck() -> None:
    hebrew, english = SafeText(KEY, "המשאבה נמצאה עומדת"), SafeText(KEY, "Pump found still")
    table = Table((english, hebrew), ((Cell(hebrew), Cell(english)),), (1, 1), english)
    board = replace(boards.every_block(), slides=(Slide("actions", hebrew, (table,)),))
    deck = Presentation(io.BytesIO(deck_pptx.write(board)))
    ways = {
        (text, each.find(qn("a:pPr")).get("rtl"))
        for each in deck.slides[0].element.iter(qn("a:p"))
        if (text := "".join(run.text or "" for run in each.iter(qn("a:t"))))
    }
    assert {(hebrew.reveal(), "1"), (english.reveal(), None)} <= ways
    assert (hebrew.reveal(), None) not in ways
