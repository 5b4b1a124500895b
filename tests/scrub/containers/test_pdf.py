import io
from types import SimpleNamespace

import numpy as np
import pypdfium2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader, PdfWriter

from mmbuilder.errors import FileRefused, MissingDependency
from mmbuilder.scrub.containers import pdf as leaf
from mmbuilder.scrub.containers import tools
from mmbuilder.scrub.containers._pdf import reading
from mmbuilder.scrub.containers.tools import Scrubber
from mmbuilder.scrub.declared import Index
from mmbuilder.scrub.images import regions
from mmbuilder.scrub.images.cover import COVER
from mmbuilder.scrub.layers import NoNameModel
from mmbuilder.scrub.plan import PixelBox
from mmbuilder.scrub.sweep import Known, sweep
from tests.scrub.containers.files import CAPTION, laden_pdf, pdf
from tests.scrub.declared_list import DECLARED, SURNAME


@pytest.fixture(autouse=True)
def _no_finders(monkeypatch):
    """Pixel finders and the name model have tests of their own, and take their time."""
    monkeypatch.setattr(regions, "finders", lambda: ())
    monkeypatch.setattr(tools, "name_model", NoNameModel)


def scrubbed(data: bytes):
    scrubber = Scrubber(Index(DECLARED))
    scrubber.learn(leaf.texts(data))
    return leaf.scrub(data, scrubber)


def drawn(data: bytes, page: int = 0) -> np.ndarray:
    with pypdfium2.PdfDocument(data) as document:
        return np.asarray(document[page].render(scale=reading.DPI / 72).to_pil().convert("RGB")).astype(int)


def is_cover(pixels: np.ndarray) -> np.ndarray:
    return np.abs(pixels - COVER).max(axis=-1) < 16


def test_nothing_is_left_in_any_channel():
    data = laden_pdf()
    assert data.count(SURNAME.encode()) > 2
    assert sweep("a", data, Known.from_declared(DECLARED))
    made = scrubbed(data)
    assert sweep("a", made.data, Known.from_declared(DECLARED)) == ()
    for told in ("attached files", "scripts", "bookmarks", "metadata (XMP)", "earlier states of the file"):
        assert told in made.dropped
    assert any("annotations" in told for told in made.dropped)
    assert SURNAME not in repr(made)


def test_the_result_opens_in_two_libraries_and_holds_pictures_only():
    made = scrubbed(laden_pdf())
    read = PdfReader(io.BytesIO(made.data), strict=True)
    assert len(read.pages) == 1
    assert not read.metadata
    assert read.pages[0].extract_text().strip() == ""
    assert list(read.trailer["/Root"]) == ["/Type", "/Pages"]
    assert [float(side) for side in read.pages[0].mediabox] == [0, 0, 400, 300]
    assert drawn(made.data).shape == drawn(pdf(["x"])).shape


def test_the_name_is_covered_and_the_rest_looks_the_same():
    data = pdf([f"Seen by Dr {SURNAME}", CAPTION])
    made = scrubbed(data)
    before, after = drawn(data), drawn(made.data)
    left, top, right, bottom = made.findings[0].box
    assert is_cover(after[top + 1 : bottom - 1, left + 1 : right - 1]).mean() > 0.98
    ink = before.min(axis=-1) < 128
    assert ink[top:bottom, left:right].any()
    assert not ink[top:bottom, right:].any()  # no ink of the name stands out behind it
    assert ink[top:bottom, :left].any()  # `Seen by` stands before it, and stays
    elsewhere = np.ones(before.shape[:2], bool)
    elsewhere[top - 12 : bottom + 12, left - 12 : right + 12] = False
    assert np.abs(before - after).max(axis=-1)[elsewhere].max() < 80  # the noise of JPEG at edges
    assert np.abs(before - after).mean(axis=-1)[elsewhere].mean() < 0.5


@pytest.mark.parametrize("rotate", [0, 90, 180, 270])
def test_a_turned_page_is_covered_in_the_right_place(rotate):
    data = pdf([f"Dr {SURNAME}"], rotate=rotate)
    before, after = drawn(data), drawn(scrubbed(data).data)
    ink = before.min(axis=-1) < 128
    assert (ink & is_cover(after)).sum() > 0.98 * ink.sum()


@pytest.mark.parametrize("parted", [("Quillmark-", "ton was told"), ("Ondréa", "Quillmarkton came")])
def test_a_name_over_two_lines_is_covered_on_both(parted):
    made = scrubbed(pdf(parted))
    assert len({finding.box[1] for finding in made.findings}) == 2


def test_text_that_nobody_sees_is_gone_with_the_rest():
    from reportlab.pdfgen.canvas import Canvas

    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(300, 200))
    text = canvas.beginText(20, 100)
    text.setTextRenderMode(3)  # neither filled nor stroked, as a scan's text layer is
    text.textLine(f"Dr {SURNAME}")
    canvas.drawText(text)
    canvas.save()
    made = scrubbed(out.getvalue())
    assert [finding.kind for finding in made.findings] == ["declared name"]
    assert (np.abs(drawn(made.data) - COVER).max(axis=-1) < 12).any()


def test_regions_that_a_finder_sees_are_covered(monkeypatch):
    finder = SimpleNamespace(LOOKS_FOR=regions.PIXEL_RISKS)
    monkeypatch.setattr(regions, "finders", lambda: (finder,))
    monkeypatch.setattr(regions, "find_regions", lambda image: (PixelBox(10, 10, 60, 60, "text"),))
    made = scrubbed(pdf(["clean words"]))
    assert [finding.box for finding in made.findings] == [(10, 10, 60, 60)]
    assert np.abs(drawn(made.data)[20:50, 20:50] - COVER).max() < 12


def test_every_page_is_kept_and_the_same_file_gives_the_same_bytes():
    data = pdf([CAPTION], pages=3)
    assert len(PdfReader(io.BytesIO(scrubbed(data).data)).pages) == 3
    assert scrubbed(data).data == scrubbed(data).data


def test_a_locked_document_is_refused():
    writer = PdfWriter(clone_from=PdfReader(io.BytesIO(pdf([CAPTION]))))
    for words in ("", "a word"):
        writer.encrypt(user_password=words, owner_password="another", algorithm="RC4-128")
        out = io.BytesIO()
        writer.write(out)
        with pytest.raises(FileRefused, match="password"):
            scrubbed(out.getvalue())


@pytest.mark.parametrize("cut", [8, 60, 300])
def test_a_damaged_document_is_refused(cut):
    with pytest.raises(FileRefused, match="damaged"):
        scrubbed(pdf([CAPTION])[:cut])


def test_too_many_pages_and_too_large_a_page_are_refused(monkeypatch):
    monkeypatch.setattr(reading, "MAX_PAGES", 2)
    with pytest.raises(FileRefused, match="3 pages"):
        scrubbed(pdf([CAPTION], pages=3))
    monkeypatch.setattr(reading, "MAX_PAGE_PIXELS", 1000)
    with pytest.raises(FileRefused, match="too large"):
        scrubbed(pdf([CAPTION]))


def test_without_the_library_it_says_what_to_install(monkeypatch):
    import sys

    monkeypatch.setitem(sys.modules, "pypdfium2", None)
    with pytest.raises(MissingDependency, match=r"mmbuilder\[pdf\]"):
        list(leaf.texts(b"%PDF-1.7"))


SOUND = pdf([f"Dr {SURNAME}"])


@given(st.integers(0, len(SOUND) - 1), st.binary(min_size=1, max_size=8))
@settings(max_examples=40, deadline=None)
def test_a_spoilt_document_is_refused_or_clean(at, junk):
    data = SOUND[:at] + junk + SOUND[at + len(junk) :]
    try:
        made = scrubbed(data)
    except FileRefused:
        return
    assert sweep("a", made.data, Known.from_declared(DECLARED)) == ()


_RDF = (
    '<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">'
    '<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" '
    'xmlns:xmp="http://ns.adobe.com/xap/1.0/">{}</rdf:Description></rdf:RDF></x:xmpmeta>'
)
_TITLE = '<dc:title><rdf:Alt><rdf:li xml:lang="x-default">{}</rdf:li></rdf:Alt></dc:title>'
_WHO = f"<dc:creator><rdf:Seq><rdf:li>{SURNAME}</rdf:li></rdf:Seq></dc:creator>"
_WHEN = "<xmp:CreateDate>2024-03-14T09:00:00</xmp:CreateDate>"


def _said(told: dict[str, str], mark: str, record: str) -> set[str]:
    """What is told of a page with these properties, this bookmark and these metadata."""
    writer = PdfWriter()
    writer.add_blank_page(200, 200)
    writer.add_metadata(told)
    writer.add_outline_item(title=mark, page_number=0)
    writer.xmp_metadata = _RDF.format(record).encode()
    out = io.BytesIO()
    writer.write(out)
    return {finding.kind for finding in leaf.look(out.getvalue(), Scrubber(Index(DECLARED)))}


def test_a_title_in_which_nobody_is_and_marks_of_a_program_are_no_finding():
    assert _said({"/Title": "Drainage device"}, "References", _TITLE.format("Drainage device")) == set()


@pytest.mark.parametrize(
    ("told", "mark", "record", "kind"),
    [
        ({"/Author": "Anyone"}, "References", _TITLE, "properties (author, title, dates)"),
        ({"/Title": f"List of {SURNAME}"}, "References", _TITLE, "properties (author, title, dates)"),
        ({"/ModDate": "D:20240314"}, "References", _TITLE, "properties (author, title, dates)"),
        ({}, f"Seen by {SURNAME}", _TITLE, "bookmarks"),
        ({}, "References", _TITLE.format(SURNAME), "metadata (XMP)"),
        ({}, "References", _WHO, "metadata (XMP)"),
        ({}, "References", _WHEN, "metadata (XMP)"),
        ({}, "References", f'<dc:title rdf:note="{SURNAME}"/>', "metadata (XMP)"),
        ({}, "References", "<dc:title", "metadata (XMP)"),
    ],
)
def test_who_and_when_are_told_wherever_they_stand(told, mark, record, kind):
    assert _said(told, mark, record) == {kind}


def test_fields_of_a_line_are_parted_and_words_are_not() -> None:
    line = [(0, 0, 10, 20), (11, 0, 20, 20), None, (26, 0, 36, 20), None, (80, 0, 90, 20)]
    assert reading._parted("AB C D", line) == "AB C\tD"
    below = [(0, 0, 10, 20), None, (40, 30, 50, 50)]
    assert reading._parted("A B", below) == "A B"
