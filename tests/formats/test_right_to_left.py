"""Text runs the way its first letter does. Source: Unicode Standard Annex 9, rules P2 and P3."""

from __future__ import annotations

import io
from dataclasses import replace

import docx
import pytest
from pptx import Presentation
from pptx.oxml.ns import qn

from mmbuilder import fonts
from mmbuilder.formats import deck_pptx, handout_html, manuscript_docx
from mmbuilder.formats._pptx.shapes import paragraph
from mmbuilder.formats._pptx.style import LIGHT
from mmbuilder.formats._pptx.text import Para
from mmbuilder.formats._sink import held, read
from mmbuilder.safe.direction import runs_left
from mmbuilder.safe.mint import KEY
from mmbuilder.safe.text import SafeText, fill
from mmbuilder.scrub.crossing.words import replace_all
from mmbuilder.scrub.plan import Span
from mmbuilder.storyboard.blocks import Bullets, Callout, Cell, Facts, Paragraph, Slide, Table
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


def test_a_page_says_the_way_of_each_text_itself() -> None:
    # A browser's own guess (`dir="auto"`) counts letters within an isolate: HTML standard, 3.2.6.4.
    hebrew = SafeText(KEY, "המשאבה נמצאה עומדת")
    graded = fill("{what} (graded by {given})", what=hebrew, given=SafeText(KEY, "registrar"))
    slide = Slide("learning", hebrew, (Bullets((graded, hebrew)),))
    page = handout_html.write(replace(boards.every_block(), slides=(slide,))).decode()
    assert f'<h2 dir="rtl">{hebrew.reveal()}</h2>' in page
    assert f'<li dir="ltr">{graded.reveal()}</li>' in page
    assert f'<li dir="rtl">{hebrew.reveal()}</li>' in page


def test_marks_of_direction_have_no_width() -> None:
    assert fonts.width("\u2068שלום\u2069", 20) == fonts.width("שלום", 20)


def test_in_a_text_from_the_right_a_stand_in_is_apart_also_where_it_comes_first() -> None:
    gone = Span(0, 8, "name", "A", "the surgeon", 1.0)
    told = replace_all("Velkonar ראה אותה", [gone]).reveal()
    assert told == "\u2068the surgeon\u2069 ראה אותה"
    assert runs_left(told)
    assert replace_all("Velkonar saw (ראה)", [gone]).reveal() == "the surgeon saw (ראה)"


def test_a_word_document_runs_each_text_from_where_it_begins() -> None:
    """ECMA-376, Part 1, 17.3.1.6 (bidi) and 17.3.2.30 (rtl)."""
    hebrew, english = SafeText(KEY, "הלחץ ירד ל-64 mmHg."), SafeText(KEY, "The pressure fell.")
    table = Table((english,), ((Cell(hebrew, strong=True),),), (1,), english)
    blocks = (Paragraph(hebrew), Paragraph(english), Bullets((hebrew, english)), table)
    board = replace(boards.every_block(), slides=(Slide("learning", hebrew, blocks),))
    document = docx.Document(io.BytesIO(manuscript_docx.write(board)))
    lines = [*document.paragraphs, *document.tables[0].rows[1].cells[0].paragraphs]
    ways = [
        (line.text, bool(line._p.xpath("./w:pPr/w:bidi")), bool(line._p.xpath(".//w:rtl"))) for line in lines
    ]
    told = [way for way in ways if way[0] in (read(hebrew), english.reveal())]
    assert told.count((read(hebrew), True, True)) == 4  # heading, paragraph, bullet, cell
    assert told.count((english.reveal(), False, False)) == 2
    assert len(told) == 6


@pytest.mark.parametrize(
    ("words", "at_the_right"), [("חפש סיבה שנייה", True), ("Look for a second cause", False)]
)
def test_the_bar_of_the_one_sentence_stands_where_it_begins(words: str, at_the_right: bool) -> None:
    slide = Slide("take_away", SafeText(KEY, "Keep this."), (Callout(SafeText(KEY, words)),))
    board = replace(boards.every_block(), slides=(slide,))
    deck = Presentation(io.BytesIO(deck_pptx.write(board)))
    (bar,) = (shape for shape in deck.slides[0].shapes if shape.name.startswith("Stroke"))
    (text,) = (shape for shape in deck.slides[0].shapes if shape.name.startswith("Text"))
    assert (bar.left > text.left + text.width // 2) == at_the_right
    assert "border-inline-start" in handout_html.write(board).decode()


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("دم داكن, 200 mL", "دم داكن, \u2068200\u00a0mL\u2069"),
        ("הלחץ 58 mmHg ירד", "הלחץ \u206858\u00a0mmHg\u2069 ירד"),
        ("creatinine 98 µmol/L", "creatinine 98\u00a0µmol/L"),
    ],
)
def test_a_figure_stands_before_its_unit(text: str, shown: str) -> None:
    # Annex 9 alone shows them as "mL 200": a figure beside letters from the right goes with those.
    assert held(SafeText(KEY, text)) == shown


def test_a_figure_of_a_manuscript_stands_before_its_unit() -> None:
    told = SafeText(KEY, "הלחץ 58 mmHg ירד")
    facts = Facts(((SafeText(KEY, "T+0:50"), fill("Recognised: {what}", what=told)),))
    slide = Slide("outcome", told, (Paragraph(told), facts))
    document = docx.Document(
        io.BytesIO(manuscript_docx.write(replace(boards.every_block(), slides=(slide,))))
    )
    said = [line.text for line in document.paragraphs if "58" in line.text]
    assert len(said) == 3
    assert all("\u206858 mmHg\u2069" in line for line in said[1:])
