import io
import zipfile
from dataclasses import replace

import pytest
from PIL.PngImagePlugin import PngInfo
from pptx import Presentation
from reportlab.pdfgen.canvas import Canvas

from mmbuilder.errors import FileRefused
from mmbuilder.scrub.inspect import inspect
from mmbuilder.scrub.plan import Decision, PixelBox
from tests.scrub.containers.files import pdf
from tests.scrub.declared_list import DECLARED, SURNAME, packed
from tests.scrub.images.files import EVERY, jpeg, picture, saved
from tests.scrub.images.seeing import nobody_looks, one_looks


@pytest.fixture(autouse=True)
def _nobody_looks_at_pictures(monkeypatch):
    nobody_looks(monkeypatch)


def deck() -> bytes:
    shown = Presentation()
    slide = shown.slides.add_slide(shown.slide_layouts[1])
    slide.shapes.title.text = "What the first sign was"
    frame = slide.placeholders[1].text_frame
    for piece in ("Ring 01632 ", "960417 before noon"):
        frame.paragraphs[0].add_run().text = piece
    slide.notes_slide.notes_text_frame.text = f"Ask Dr {SURNAME}, e-mail theatre@example.org"
    info = PngInfo()
    info.add_text("Author", "somebody")
    slide.shapes.add_picture(io.BytesIO(saved(picture(), "PNG", pnginfo=info)), 0, 0)
    slide.shapes[-1]._element.nvPicPr.cNvPr.set("descr", "seen on 14 March 2024")
    frame.paragraphs[0].runs[0].hyperlink.address = "file:///C:/case"
    shown.core_properties.author = "An Author"
    shown.core_properties.last_modified_by = "An Editor"
    out = io.BytesIO()
    shown.save(out)
    return out.getvalue()


def found(tmp_path, data: bytes, name: str = "a.pptx", declared=DECLARED) -> dict[str, list[str]]:
    path = tmp_path / name
    path.write_bytes(data)
    told: dict[str, list[str]] = {}
    for finding in inspect(path, declared).findings:
        told.setdefault(finding.kind, []).append(finding.where)
    return told


def test_a_deck_is_told_by_part_and_paragraph(tmp_path):
    told = found(tmp_path, deck())
    slide, notes = "ppt/slides/slide1.xml", "ppt/notesSlides/notesSlide1.xml"
    assert [where.split(", ")[0] for where in told["declared phone number"]] == [slide]
    assert [where.split(", ")[0] for where in told["declared name"]] == [notes]
    assert [where.split(", ")[0] for where in told["e-mail address"]] == [notes]
    assert f"{slide}, description 1" in told["date"]
    assert told["author in the properties"] == told["last editor in the properties"] == ["docProps/core.xml"]
    assert told["thumbnail of an earlier state"] == ["docProps/thumbnail.jpeg"]
    assert told["text"] == ["ppt/media/image1.png: metadata"]
    assert told["link out of the file"] == ["ppt/slides/_rels/slide1.xml.rels"]


def test_a_table_in_a_text_is_read_below_its_headings(tmp_path):
    table = b"Case\tPatient\tMRN\tPressure\n1\tVashimburth\t7319944\t24\n"
    told = found(tmp_path, table, "a.txt")
    assert told["record number"] == told["name"] == ["line 2"]


@pytest.mark.parametrize(
    "data",
    [
        b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600) + f"Dr {SURNAME}".encode("utf-16-le"),
        b"before it" + packed({"a.txt": f"Dr {SURNAME}".encode()}),
        b"8BPS\0\1" + bytes(90),
        rb"{\rtf1\ansi Dr \'51uillmarkton}",
    ],
    ids=["an old Office document", "a package after something else", "a drawing program's", "Rich Text"],
)
def test_of_a_kind_that_is_not_read_nothing_found_is_never_said(tmp_path, data):
    with pytest.raises(FileRefused, match="is not read"):
        found(tmp_path, data, "a.doc")


def test_findings_hold_no_text_and_have_the_agreed_keys(tmp_path):
    (tmp_path / "a.pptx").write_bytes(deck())
    told = inspect(tmp_path / "a.pptx", DECLARED).as_dict()
    assert all(
        set(item) == {"kind", "where", "start", "end", "box", "layer", "confidence", "kept"}
        for item in told["findings"]
    )
    assert SURNAME not in repr(told)
    assert "theatre@example.org" not in repr(told)


def test_offsets_are_those_of_the_paragraph(tmp_path):
    data = packed({"word/document.xml": b"<w:p><w:t>call theatre@exam</w:t><w:t>ple.org now</w:t></w:p>"})
    (tmp_path / "a.docx").write_bytes(data)
    (one,) = inspect(tmp_path / "a.docx").findings
    assert "call theatre@example.org now"[one.start : one.end] == "theatre@example.org"
    assert one.where == "word/document.xml, paragraph 1"


def test_a_clean_package_has_no_finding(tmp_path):
    assert (
        found(tmp_path, packed({"ppt/slides/slide1.xml": b"<a:p><a:t>Hand movements, 6/9</a:t></a:p>"})) == {}
    )


def test_nested_workbooks_comments_and_macros_are_told(tmp_path):
    book = packed(
        {"xl/sharedStrings.xml": b"<sst><si><t>theatre@example.org</t></si><si><t>12</t></si></sst>"}
    )
    data = packed(
        {
            "ppt/embeddings/Microsoft_Excel_Sheet1.xlsx": book,
            "ppt/comments/comment1.xml": b"<p:cm><p:text>looks fine</p:text></p:cm>",
            "ppt/vbaProject.bin": b"\0\1\2",
        }
    )
    told = found(tmp_path, data)
    assert any("xl/sharedStrings.xml, paragraph 1" in where for where in told["e-mail address"])
    assert {"embedded file", "comments and their authors", "macros"} <= set(told)


def test_a_part_name_that_may_identify_is_told_by_its_place(tmp_path):
    data = packed({"ppt/media/IMG_Brask_998877.png": EVERY["PNG"], f"ppt/{SURNAME}.xml": b"<a/>"})
    told = found(tmp_path, data)
    assert "the file: part 1: metadata" in told["text"]
    assert told["declared name"] == ["the file: part 1, its name", "the file: part 2, its name"]
    assert SURNAME not in repr(told)
    assert "998877" not in repr(told)


@pytest.mark.parametrize("kind", EVERY)
def test_pictures_are_told_by_kinds_and_their_pixels_are_said_to_be_unread(tmp_path, kind):
    path = tmp_path / "x"
    path.write_bytes(EVERY[kind])
    told = inspect(path)
    assert told.findings
    assert any("text in the picture: not looked for" in note for note in told.notes)


BOX = PixelBox(2, 3, 20, 9, "text in the picture")
KEEP = PixelBox(30, 3, 40, 9, "text in the picture", decision=Decision.KEEP, reason="scale bar")


def moving() -> bytes:
    out = io.BytesIO()
    picture().save(out, "TIFF", save_all=True, append_images=[picture()])
    return out.getvalue()


@pytest.mark.parametrize(
    ("name", "data", "places"),
    [
        ("a.png", lambda: EVERY["PNG"], ["the file: picture"]),
        ("a.tiff", moving, ["the file: picture 1", "the file: picture 2"]),
        ("a.pptx", deck, ["ppt/media/image1.png: picture", "docProps/thumbnail.jpeg: picture"]),
        ("a.zip", lambda: packed({"media/image.png": EVERY["PNG"]}), ["media/image.png: picture"]),
    ],
)
def test_every_picture_in_a_file_is_looked_at(tmp_path, monkeypatch, name, data, places):
    one_looks(monkeypatch, BOX, KEEP)
    path = tmp_path / name
    path.write_bytes(data())
    told = inspect(path)
    for listed, box in ((told.findings, BOX), (told.kept, KEEP)):
        there = [finding for finding in listed if finding.kind == box.kind]
        assert [finding.where for finding in there] == places
        assert {finding.box for finding in there} == {(box.left, box.top, box.right, box.bottom)}
    assert {finding.kept for finding in told.kept if finding.kind == KEEP.kind} == {"scale bar"}
    assert not any("not looked for" in note for note in told.notes)


def marked_pdf() -> bytes:
    """A page with a row of blocks as large as letters, from edge to edge near its top."""
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(400, 300), invariant=1)
    for left in range(0, 400, 6):
        canvas.rect(left, 280, 4, 6, stroke=0, fill=1)
    canvas.save()
    return out.getvalue()


def test_every_page_is_looked_at(tmp_path, monkeypatch):
    boxes = [replace(BOX, right=200, bottom=70), replace(KEEP, left=300, right=500, bottom=70)]
    one_looks(monkeypatch, *boxes)
    path = tmp_path / "a.pdf"
    path.write_bytes(marked_pdf())
    told = inspect(path)
    for listed, box in zip((told.findings, told.kept), boxes, strict=True):
        assert [finding.where for finding in listed if finding.kind == box.kind] == ["page 1"]


def test_position_and_thumbnail_of_a_photograph_are_told(tmp_path):
    assert {"position (GPS)", "thumbnail", "maker note"} <= set(found(tmp_path, jpeg(), "a.jpg"))


@pytest.mark.parametrize(
    ("name", "data", "where"),
    [
        ("a.txt", b"fine\ncall theatre@example.org\n", "line 2"),
        ("a.csv", b"a,b\n1,theatre@example.org\n", "line 2"),
        ("a.json", b'{"to": "theatre@example.org"}', "line 1"),
        ("a.html", b"<html><p>fine</p><p>theatre@<b>example</b>.org</p></html>", "the file, paragraph 2"),
        ("a.svg", b"<svg><text>theatre@<tspan>example.org</tspan></text></svg>", "the file, paragraph 1"),
    ],
)
def test_texts_are_told_by_line_or_paragraph(tmp_path, name, data, where):
    assert found(tmp_path, data, name) == {"e-mail address": [where]}


def test_a_pdf_is_looked_into_as_far_as_it_can_be_and_says_so(tmp_path):
    path = tmp_path / "a.pdf"
    path.write_bytes(pdf(["Write to theatre@example.org"], author="somebody"))
    told = inspect(path)
    assert {(finding.kind, finding.where) for finding in told.findings} == {
        ("e-mail address", "page 1"),
        ("properties (author, title, dates)", "beside the pages"),
    }
    assert any("drawn as lines or pictures" in note for note in told.notes)


def test_damaged_files_are_refused_in_words(tmp_path):
    path = tmp_path / "a.pptx"
    path.write_bytes(deck()[:3000])
    with pytest.raises(FileRefused, match="damaged"):
        inspect(path)
    with pytest.raises(FileRefused):
        inspect(tmp_path / "none.pptx")


def test_the_deck_of_the_test_is_a_package():
    assert zipfile.is_zipfile(io.BytesIO(deck()))


def test_a_page_set_by_a_typesetter_is_read_though_its_streams_are_packed(tmp_path):
    import typst

    path = tmp_path / "a.pdf"
    path.write_bytes(typst.compile(rb"#pagebreak() Write to theatre\@example.org", format="pdf"))
    assert ("e-mail address", "page 2") in {(found.kind, found.where) for found in inspect(path).findings}


@pytest.mark.parametrize("encoding", ["utf-16", "utf-8-sig", "cp1252"])
def test_a_text_is_read_in_its_own_letters(tmp_path, encoding):
    text = f"Größe 180 cm\ncall Dr {SURNAME}\n"
    assert found(tmp_path, text.encode(encoding), "a.txt") == {"declared name": ["line 2"]}


def test_what_cannot_be_read_as_text_is_refused_and_in_a_package_noted(tmp_path):
    strange = f"Dr {SURNAME}".encode("utf-16-le")
    path = tmp_path / "a.txt"
    path.write_bytes(strange)
    with pytest.raises(FileRefused, match="no plain text"):
        inspect(path)
    path.write_bytes(packed({"a.txt": strange}))
    assert any("no plain text" in note for note in inspect(path).notes)


def test_a_table_file_is_read_below_its_headings(tmp_path):
    assert found(tmp_path, b"Pressure,MRN\n18,8841907\n", "a.csv") == {"record number": ["line 2"]}
    nested = packed({"a.csv": b"Pressure,MRN\n18,8841907\n"})
    assert found(tmp_path, nested, "a.zip") == {"record number": ["a.csv, line 2"]}


_SETTING = (
    '<x:workbook xmlns:x="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="urn:r">'
    '<x:sheet name="{}" sheetId="1" r:id="rId1"/><x:cellStyle name="Heading 1"/></x:workbook>'
)


def test_what_a_setting_says_is_told_and_words_of_the_format_are_not(tmp_path):
    made = packed({"xl/workbook.xml": _SETTING.format("Dr Quenby Vellacott").encode()})
    assert found(tmp_path, made, "a.xlsx", None) == {"titled name": ["xl/workbook.xml, setting 1"]}
    assert found(tmp_path, packed({"xl/workbook.xml": _SETTING.format("Readings").encode()}), "a.xlsx") == {}


def test_something_declared_is_told_wherever_it_stands(tmp_path):
    hidden = packed({"word/settings.xml": f"<w:x w:val='{SURNAME}8'>fine</w:x>".encode()})
    assert found(tmp_path, hidden, "a.docx") == {
        "name of the surgeon, out of sight": ["word/settings.xml"],
    }


def test_where_a_drawing_is_fastened_is_no_number(tmp_path):
    drawing = (
        b"<d><from><col>1</col><colOff>0</colOff><row>128</row><rowOff>9525</rowOff></from><t>fine</t></d>"
    )
    assert found(tmp_path, packed({"xl/drawings/drawing1.xml": drawing}), "a.xlsx") == {}


def test_an_archive_s_own_comment_is_told(tmp_path):
    told = found(tmp_path, packed({"a.txt": b"fine"}, comment=b"anything"), "a.zip")
    assert told == {"comment of the archive": ["the archive"]}


def test_further_frames_that_are_not_looked_at_are_noted(tmp_path):
    path = tmp_path / "a.png"
    path.write_bytes(saved(picture(), "PNG", save_all=True, append_images=[picture().rotate(90)]))
    assert any("only the first is used" in note for note in inspect(path).notes)


def test_what_describes_a_picture_of_a_pdf_is_told(tmp_path):
    import typst

    (tmp_path / "a.png").write_bytes(saved(picture(), "PNG"))
    (tmp_path / "a.typ").write_text(f'#image("a.png", alt: "Seen by Dr {SURNAME}")')
    made = typst.compile(tmp_path / "a.typ", format="pdf")
    assert found(tmp_path, made, "a.pdf")["declared name"] == ["words beside the pages"]


def test_a_picture_that_cannot_be_read_is_refused_and_in_a_package_noted(tmp_path):
    path = tmp_path / "a.png"
    path.write_bytes(saved(picture(), "PNG")[:120])
    with pytest.raises(FileRefused, match=r"cut short|damaged"):
        inspect(path)
    path.write_bytes(packed({"a.png": saved(picture(), "PNG")[:120]}))
    assert any("cannot be read" in note for note in inspect(path).notes)


@pytest.mark.parametrize(
    ("name", "kinds"),
    [
        (f"Dr {SURNAME} op.txt", {"declared name"}),
        ("op_MRN_8841907.txt", {"record number"}),
        ("DSC00012.txt", set()),
        ("uro-07-teaching-DRAFT.txt", set()),
    ],
)
def test_the_name_of_a_file_is_looked_at_where_it_is_given(tmp_path, name, kinds):
    path = tmp_path / name
    path.write_bytes(b"fine")
    assert {one.kind for one in inspect(path, DECLARED, path.name).findings} == kinds
    assert inspect(path, DECLARED).findings == ()
