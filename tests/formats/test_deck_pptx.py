from __future__ import annotations

import io
import re
import subprocess
import sys
import zipfile
from dataclasses import replace
from pathlib import Path

import pytest
from lxml import etree
from pptx import Presentation
from pytest_regressions.file_regression import FileRegressionFixture

from mmbuilder.errors import FileRefused
from mmbuilder.formats import deck_pptx
from mmbuilder.safe.text import wording
from mmbuilder.storyboard.blocks import Bullets, Callout, Paragraph, Picture, Slide
from tests.formats import boards
from tests.formats.invariants import NS, check_deck
from tests.formats.outline import outline
from tests.office import pages

GOLDEN = Path(__file__).parents[1] / "golden"


def test_every_block_as_outline(sample: bytes, file_regression: FileRegressionFixture) -> None:
    file_regression.check(outline(sample), extension=".txt", fullpath=GOLDEN / "deck_every_block.txt")


def test_invariants_hold(sample: bytes) -> None:
    check_deck(sample)


def test_same_storyboard_same_bytes(sample: bytes) -> None:
    assert deck_pptx.write(boards.every_block()) == sample


def test_a_reviewed_deck_bears_no_draft_mark(sample: bytes) -> None:
    final = deck_pptx.write(replace(boards.every_block(), draft=False))
    check_deck(final)
    assert all("DRAFT" in _words(slide) for slide in Presentation(io.BytesIO(sample)).slides)
    assert all("DRAFT" not in _words(slide) for slide in Presentation(io.BytesIO(final)).slides)


def test_draft_mark_moves_nothing_else(sample: bytes) -> None:
    final = outline(deck_pptx.write(replace(boards.every_block(), draft=False)))
    kept = [line for line in outline(sample).splitlines() if "Stamp" not in line and "DRAFT" not in line]
    assert [_unnumbered(line) for line in kept] == [_unnumbered(line) for line in final.splitlines()]


def _unnumbered(line: str) -> str:
    """Drop the shape number from `- sp Use 9 at ...`."""
    return re.sub(r"^(- \w+ [A-Za-z ]+?) \d+", r"\1", line)


def test_banner_use_and_number_stand_on_every_slide(sample: bytes) -> None:
    for slide in Presentation(io.BytesIO(sample)).slides:
        words = _words(slide)
        assert "Confidential." in words
        assert "department review" in words
        assert slide.element.find(".//a:fld[@type='slidenum']", NS) is not None


def test_notes_begin_with_the_time(sample: bytes) -> None:
    for slide in Presentation(io.BytesIO(sample)).slides:
        assert slide.notes_slide.notes_text_frame.text.startswith("Time: 0:45\nRead the headline")


def test_chart_is_vector_with_a_picture_for_older_software(sample: bytes) -> None:
    slide = Presentation(io.BytesIO(sample)).slides[2]
    blip = slide.element.find(".//a:blip", NS)
    svg = "{http://schemas.microsoft.com/office/drawing/2016/SVG/main}svgBlip"
    embed = f"{{{NS['r']}}}embed"
    assert slide.part.related_part(blip.get(embed)).content_type == "image/png"
    vector = slide.part.related_part(blip.find(f".//{svg}").get(embed))
    assert vector.content_type == "image/svg+xml"
    # Source: MS-ODRAWXML 2.3.2, uri of the extension that holds svgBlip.
    assert blip.find("a:extLst/a:ext", NS).get("uri") == "{96DAC541-7B7A-43D3-8B79-37D633B846F1}"


def test_a_picture_used_again_is_one_part(sample: bytes) -> None:
    with zipfile.ZipFile(io.BytesIO(sample)) as archive:
        assert sum(name.endswith(".jpg") for name in archive.namelist()) == 1


def test_picture_parts_keep_the_picture_s_own_size(sample: bytes) -> None:
    from PIL import Image

    with zipfile.ZipFile(io.BytesIO(sample)) as archive:
        name = next(name for name in archive.namelist() if name.endswith(".jpg"))
        with Image.open(io.BytesIO(archive.read(name))) as picture:
            assert picture.size == (640, 480)
            # 4:4:4: one sampling factor for all three components (ITU-T T.81, B.2.2).
            assert {layer[1:3] for layer in picture.layer} == {(1, 1)}


def test_a_picture_is_not_stretched(sample: bytes) -> None:
    shown = [
        shape
        for slide in Presentation(io.BytesIO(sample)).slides
        for shape in slide.shapes
        if shape.name.startswith("Picture")
    ]
    assert len(shown) == 3
    assert all(abs(shape.width / shape.height - 640 / 480) < 0.001 for shape in shown)


def test_marks_are_native_and_lie_on_a_dark_halo(sample: bytes) -> None:
    slide = Presentation(io.BytesIO(sample)).slides[4]
    lines = [shape for shape in slide.shapes if shape.element.tag.endswith("cxnSp")]
    widths = [int(shape.element.find(".//a:ln", NS).get("w")) for shape in lines]
    assert len(lines) == 4  # two arrows, each a halo and a core
    assert widths[0] > widths[1]
    assert all(shape.element.find(".//a:tailEnd", NS).get("type") == "triangle" for shape in lines)


def test_the_arrow_points_where_the_author_said(sample: bytes) -> None:
    slide = Presentation(io.BytesIO(sample)).slides[4]
    picture = next(shape for shape in slide.shapes if shape.name.startswith("Picture"))
    core = [shape for shape in slide.shapes if shape.element.tag.endswith("cxnSp")][1]
    assert core.end_x == pytest.approx(picture.left + 0.47 * picture.width, abs=2)
    assert core.end_y == pytest.approx(picture.top + 0.45 * picture.height, abs=2)


def test_a_stamp_is_bold_and_of_another_colour(sample: bytes) -> None:
    slide = Presentation(io.BytesIO(sample)).slides[8]
    run = next(
        run for run in slide.element.iter(f"{{{NS['a']}}}r") if "INCOMPLETE" in run.findtext("a:t", "", NS)
    )
    assert run.find("a:rPr", NS).get("b") == "1"
    assert run.find("a:rPr/a:solidFill/a:schemeClr", NS).get("val") == "accent2"


def test_many_labels_become_numbers_told_below() -> None:
    arrows = tuple(
        replace(boards.ARROWS[0], x1=0.1 * n, label=boards.safe(f"structure {n}")) for n in range(1, 7)
    )
    picture = Picture(boards.still(), wording("Six arrows."), arrows=arrows)
    data = deck_pptx.write(_board(boards.slide("frame", wording("Six structures."), picture)))
    check_deck(data)
    slide = Presentation(io.BytesIO(data)).slides[0]
    labels = [shape.text_frame.text for shape in slide.shapes if shape.name.startswith("Label")]
    assert labels == list("123456")
    assert "6 = structure 6." in _words(slide)


@pytest.mark.parametrize("size", [(64, 48), (2000, 60), (60, 2000), (1, 1)])
def test_pictures_of_odd_shapes(size: tuple[int, int]) -> None:
    picture = Picture(boards.still(*size), wording("An odd shape."), wording("Odd."))
    check_deck(deck_pptx.write(_board(boards.slide("frame", wording("An odd shape."), picture))))


def test_a_pause_looks_like_a_pause(sample: bytes) -> None:
    deck = Presentation(io.BytesIO(sample))
    paused = [
        slide for slide, meant in zip(deck.slides, boards.every_block().slides, strict=True) if meant.pause
    ]
    assert len(paused) == 4
    for slide in paused:
        words = [shape.text_frame.text for shape in slide.slide_layout.shapes if shape.has_text_frame]
        assert "PAUSE" in words


def test_a_long_slide_goes_on_and_says_so() -> None:
    items = tuple(
        boards.safe(f"Item number {n}, told at some length so that it takes a whole line or two of it")
        for n in range(40)
    )
    data = deck_pptx.write(
        _board(boards.slide("held", wording("Twenty things."), Bullets(items, numbered=True)))
    )
    check_deck(data)
    deck = Presentation(io.BytesIO(data))
    count = len(deck.slides)
    assert count >= 3
    titles = [slide.shapes.title.text_frame.text for slide in deck.slides]
    assert titles == [f"Twenty things. ({n}\u00a0of\u00a0{count})" for n in range(1, count + 1)]
    times = [slide.notes_slide.notes_text_frame.text.splitlines()[0] for slide in deck.slides]
    assert sum(int(time[-2:]) for time in times) == 45


def test_numbers_go_on_where_the_sheet_before_stopped() -> None:
    items = tuple(
        boards.safe(f"Question {n} of many, told at some length so that it takes more than a line")
        for n in range(1, 15)
    )
    data = deck_pptx.write(_board(boards.slide("questions", wording("Many."), Bullets(items, numbered=True))))
    second = Presentation(io.BytesIO(data)).slides[1]
    first = second.element.find(".//a:buAutoNum", NS)
    said = (
        next(shape for shape in second.shapes if shape.name.startswith("Text")).text_frame.paragraphs[0].text
    )
    assert f"Question {first.get('startAt')} of" in said


def test_each_slide_is_told_how_many_sheets_it_took() -> None:
    items = (wording("Something that goes on for a while, and then ends."),) * 40
    long = Slide("held", wording("It goes on."), (Bullets(items),))
    short = Slide("held", wording("It ends."), (Paragraph(wording("Short.")),))
    deck = deck_pptx.lay_out(replace(boards.every_block(), slides=(short, long, short)))
    first, middle, last = (slide.sheets for slide in deck.board.slides)
    assert first == last == 1 < middle
    assert len(Presentation(io.BytesIO(deck.pptx)).slides) == first + middle + last


def test_too_long_a_headline_goes_on_in_the_body() -> None:
    long = boards.safe(" ".join(f"word{n}" for n in range(60)))
    data = deck_pptx.write(_board(boards.slide("held", long, boards.BULLETS)))
    check_deck(data)
    words = _words(Presentation(io.BytesIO(data)).slides[0]).split()
    assert all(words.count(f"word{n}") == 1 for n in range(60))


def test_what_xml_cannot_hold_is_left_out() -> None:
    callout = Callout(boards.safe("be\x00fore\x0b after\ud800 <&> \u2028 end"))
    data = deck_pptx.write(_board(boards.slide("take_away", wording("Odd letters."), callout)))
    check_deck(data)
    assert "before after <&>\u00a0end" in _words(Presentation(io.BytesIO(data)).slides[0])


def test_a_confidentiality_line_that_cannot_be_read_is_refused() -> None:
    board = replace(
        _board(boards.slide("held", wording("Short."), boards.BULLETS)), banner=boards.safe("word " * 200)
    )
    with pytest.raises(FileRefused, match="two lines of 12 pt"):
        deck_pptx.write(board)


def test_no_finding_by_the_schema_validator(sample: bytes, tmp_path: Path) -> None:
    from openxml_audit import OpenXmlValidator

    path = tmp_path / "deck.pptx"
    path.write_bytes(sample)
    result = OpenXmlValidator().validate(path)
    assert result.is_valid, result.errors
    assert not list(result.errors)


def test_no_finding_by_the_layout_checker(sample: bytes, tmp_path: Path) -> None:
    path = tmp_path / "deck.pptx"
    path.write_bytes(sample)
    tool = Path(sys.executable).with_name("ooxml-integrity")
    done = subprocess.run(
        [tool, "check", "--no-config", "--fail-on", "info", path], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout


def test_the_house_template_is_what_its_script_draws(tmp_path: Path) -> None:
    import runpy

    from mmbuilder import resources

    script = resources.templates() / "make_deck.py"
    runpy.run_path(str(script))["save"](tmp_path / "deck.pptx")
    assert (tmp_path / "deck.pptx").read_bytes() == (resources.templates() / "deck.pptx").read_bytes()


@pytest.mark.office
def test_converts_with_a_page_a_slide(sample: bytes, tmp_path: Path) -> None:
    deck = tmp_path / "deck.pptx"
    deck.write_bytes(sample)
    assert pages(deck, tmp_path) == len(boards.every_block().slides)


def _board(*slides: object) -> object:
    return replace(boards.every_block(), slides=slides)


def _words(slide: object) -> str:
    return " ".join(found.text or "" for found in slide.element.iter(f"{{{NS['a']}}}t"))  # type: ignore[attr-defined]


def test_xml_is_well_formed_and_names_no_producer(sample: bytes) -> None:
    with zipfile.ZipFile(io.BytesIO(sample)) as archive:
        for name in archive.namelist():
            data = archive.read(name)
            if name.endswith((".xml", ".rels")):
                etree.fromstring(data)
            for word in (b"python-pptx", b"Steve Canny", b"Office Theme", b"mmbuilder"):
                assert word not in data, (name, word)
