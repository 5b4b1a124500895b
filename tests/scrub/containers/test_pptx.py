"""Every hiding place of a .pptx: something is planted in it, and a search of the result finds nothing."""

from __future__ import annotations

import io
from collections.abc import Callable

import pytest

from mmbuilder.errors import FileRefused
from mmbuilder.scrub.containers import pptx as leaf
from mmbuilder.scrub.containers.base import Result
from tests.scrub.containers import office_kit as kit
from tests.scrub.containers.office_kit import NAME, OFFICE, RECORD, SURNAME

_P = "application/vnd.openxmlformats-officedocument.presentationml."
_SLIDE = "ppt/slides/slide1.xml"
_CLOSE = "</p:spTree>"
_XMLNS = (
    'xmlns:p="http://schemas.openxmlformats.org/presentationml/2006/main" '
    'xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main" '
    f'xmlns:r="{OFFICE}"'
)


def scrub(data: bytes) -> Result:
    return leaf.scrub(data, kit.SmallScrubber())


def shape(text: str = "", x: int = 914400, extra: str = "", number: int = 900) -> str:
    return (
        f'<p:sp {_XMLNS}><p:nvSpPr><p:cNvPr id="{number}" name="Box" {extra}/><p:cNvSpPr/><p:nvPr/></p:nvSpPr>'
        f'<p:spPr><a:xfrm><a:off x="{x}" y="914400"/><a:ext cx="914400" cy="914400"/></a:xfrm>'
        '<a:prstGeom prst="rect"><a:avLst/></a:prstGeom></p:spPr>'
        f"<p:txBody><a:bodyPr/><a:p><a:r><a:t>{text}</a:t></a:r></a:p></p:txBody></p:sp>"
    )


@pytest.fixture(scope="module")
def deck() -> bytes:
    """Two slides with a title, table, group, cut picture, chart and notes; nothing in it identifies."""
    from pptx import Presentation
    from pptx.chart.data import CategoryChartData
    from pptx.enum.chart import XL_CHART_TYPE
    from pptx.util import Inches

    show = Presentation()
    for number, layout in enumerate(list(show.slide_layouts), 1):
        if number not in (3, 6):  # the others only cost time
            show.slide_layouts.remove(layout)
    plain = show.slide_layouts[1]
    first = show.slides.add_slide(plain)
    first.shapes.title.text = "Anastomotic leak"
    table = first.shapes.add_table(2, 2, Inches(1), Inches(2), Inches(4), Inches(1)).table
    table.cell(0, 0).text, table.cell(1, 0).text = "Record", "none"
    first.shapes.add_group_shape().shapes.add_textbox(0, 0, Inches(1), Inches(1)).text = "Grouped words"
    picture = first.shapes.add_picture(io.BytesIO(kit.png(text=NAME)), Inches(5), Inches(2))
    picture.crop_left, picture.crop_bottom = 0.25, 0.5
    data = CategoryChartData()
    data.categories = ["Before", "After"]
    data.add_series("Pressure", (20.0, 12.5))
    first.shapes.add_chart(XL_CHART_TYPE.COLUMN_CLUSTERED, Inches(1), Inches(4), Inches(4), Inches(3), data)
    first.notes_slide.notes_text_frame.text = "Say this slowly"
    show.slides.add_slide(plain).shapes.title.text = "What we learnt"
    out = io.BytesIO()
    show.save(out)
    return out.getvalue()


_ = None


def _in_slide(xml: str) -> Callable[[bytes], bytes]:
    return lambda deck: kit.changed(deck, _SLIDE, _CLOSE, xml + _CLOSE)


def _swap(part: str, old: str, new: str) -> Callable[[bytes], bytes]:
    return lambda deck: kit.changed(deck, part, old, new)


def _extra(source: str, name: str, content: str, kind: str, relation: str) -> Callable[[bytes], bytes]:
    return lambda deck: kit.with_part(deck, source, name, content.encode(), kind, relation)


def _link(xml: str, target: str, relation: str) -> Callable[[bytes], bytes]:
    return lambda deck: kit.with_link(_in_slide(xml)(deck), _SLIDE, target, f"{OFFICE}/{relation}")


_SPLIT = shape(f"Seen by {SURNAME[:5]}</a:t></a:r><a:r><a:rPr b='1'/><a:t>{SURNAME[5:]} today")
_CLICK = '<a:hlinkClick r:id="rId901"/>'
_LINKED = shape("here").replace('name="Box" />', f'name="Box">{_CLICK}</p:cNvPr>')
_PICTURE = (
    f'<p:pic {_XMLNS}><p:nvPicPr><p:cNvPr id="901" name="P"/><p:cNvPicPr/><p:nvPr/></p:nvPicPr><p:blipFill>'
    '<a:blip r:link="rId901"/><a:stretch><a:fillRect/></a:stretch></p:blipFill><p:spPr><a:xfrm><a:off x="1" y="1"/>'
    '<a:ext cx="9" cy="9"/></a:xfrm><a:prstGeom prst="rect"><a:avLst/></a:prstGeom></p:spPr></p:pic>'
)
_EXT = f'<p:extLst><p:ext uri="{{AAAAAAAA-0000-0000-0000-000000000000}}"><s:x xmlns:s="urn:s" n="{NAME}"/></p:ext></p:extLst>'
_TITLE = "<a:t>Anastomotic leak</a:t>"
_PRES = "ppt/presentation.xml"
_CHART_END = "</c:chartSpace>"

PLACES: dict[str, Callable[[bytes], bytes]] = {
    "text": _swap(_SLIDE, _TITLE, f"<a:t>{NAME}, {RECORD}</a:t>"),
    "text split across runs": _in_slide(_SPLIT),
    "text with entities": _in_slide(shape("".join(f"&#{ord(sign)};" for sign in NAME))),
    "table": _swap(_SLIDE, "<a:t>none</a:t>", f"<a:t>{RECORD}</a:t>"),
    "grouped text": _swap(_SLIDE, "<a:t>Grouped words</a:t>", f"<a:t>{NAME}</a:t>"),
    "alt text": _in_slide(shape(extra=f'descr="Photograph of {NAME}"')),
    "alt title": _in_slide(shape(extra=f'title="{NAME}"')),
    "shape name": _in_slide(shape().replace('name="Box"', f'name="{SURNAME}.jpg"')),
    "file name as alt text": _in_slide(shape(extra=f'descr="{RECORD}.jpg"')),
    "shape outside the slide": _in_slide(shape(NAME, x=-9_000_000)),
    "hidden shape": _in_slide(shape(NAME, extra='hidden="1"')),
    "slide name": _swap(_SLIDE, "<p:cSld>", f'<p:cSld name="{SURNAME}">'),
    "unknown extension": _swap(_SLIDE, "</p:sld>", f"{_EXT}</p:sld>"),
    "unknown element": _in_slide(f'<s:x {_XMLNS} xmlns:s="urn:s">{NAME}</s:x>'),
    "element the format does not have": _in_slide(f"<p:secret {_XMLNS}>{NAME}</p:secret>"),
    "attribute the format does not have": _in_slide(shape(extra=f'owner="{SURNAME}"')),
    "prefix": _in_slide(f'<p:sp xmlns:{SURNAME}="urn:s" {_XMLNS}/>'),
    "comment in XML": _in_slide(f"<!-- {NAME} -->"),
    "processing instruction": _in_slide(f"<?note {NAME}?>"),
    "text where none belongs": _in_slide(f"<p:sp {_XMLNS}>{NAME}</p:sp>"),
    "notes": _swap("ppt/notesSlides/notesSlide1.xml", "Say this slowly", f"Ask {NAME}"),
    "notes master": _swap("ppt/notesMasters/notesMaster1.xml", "<a:t>", f"<a:t>{NAME} "),
    "slide master": _swap("ppt/slideMasters/slideMaster1.xml", "<a:t>", f"<a:t>{NAME} "),
    "layout": _swap("ppt/slideLayouts/slideLayout3.xml", "<a:t>", f"<a:t>{NAME} "),
    "layout name": _swap("ppt/slideLayouts/slideLayout3.xml", '<p:cSld name="', f'<p:cSld name="{SURNAME} '),
    "theme name": _swap("ppt/theme/theme1.xml", ' name="', f' name="{SURNAME} '),
    "chart category": _swap("ppt/charts/chart1.xml", "<c:v>Before</c:v>", f"<c:v>{NAME}</c:v>"),
    "chart series": _swap("ppt/charts/chart1.xml", "<c:v>Pressure</c:v>", f"<c:v>{NAME}</c:v>"),
    "chart number": _swap("ppt/charts/chart1.xml", "<c:v>20.0</c:v>", "<c:v>9994765919</c:v>"),
    "chart reference": _swap("ppt/charts/chart1.xml", "<c:f>Sheet1!", f"<c:f>{SURNAME}!"),
    "chart number format": _swap("ppt/charts/chart1.xml", "<c:formatCode>General", f'<c:formatCode>"{SURNAME}"0'),
    "section names": _swap(_PRES, "</p:presentation>", f"{_EXT}</p:presentation>"),
    "custom show": _swap(
        _PRES,
        "<p:notesSz",
        f'<p:custShowLst><p:custShow name="{SURNAME}" id="0"><p:sldLst/></p:custShow></p:custShowLst><p:notesSz',
    ),
    "core properties": _swap("docProps/core.xml", "</cp:coreProperties>", f"<!----><dc:identifier>{NAME}</dc:identifier></cp:coreProperties>"),
    "app properties": _swap("docProps/app.xml", "</Properties>", f"<Company>{NAME}</Company></Properties>"),
    "custom properties": _extra("", "docProps/custom.xml", f"<x>{NAME}</x>", "application/vnd.openxmlformats-officedocument.custom-properties+xml", f"{OFFICE}/custom-properties"),
    "comment authors": _extra(_PRES, "ppt/commentAuthors.xml", f'<x n="{NAME}"/>', f"{_P}commentAuthors+xml", f"{OFFICE}/commentAuthors"),
    "comments": _extra(_SLIDE, "ppt/comments/comment1.xml", f"<x>{NAME}</x>", f"{_P}comments+xml", f"{OFFICE}/comments"),
    "threaded comments": _extra(_SLIDE, "ppt/comments/modern.xml", f"<x>{NAME}</x>", "application/vnd.ms-powerpoint.comments+xml", "http://schemas.microsoft.com/office/2018/10/relationships/comments"),
    "handout master": _extra(_PRES, "ppt/handoutMasters/h.xml", f"<x>{NAME}</x>", f"{_P}handoutMaster+xml", f"{OFFICE}/handoutMaster"),
    "tags": _extra(_SLIDE, "ppt/tags/tag1.xml", f"<x>{NAME}</x>", f"{_P}tags+xml", f"{OFFICE}/tags"),
    "custom XML": _extra(_PRES, "customXml/item1.xml", f"<x>{NAME}</x>", "application/xml", f"{OFFICE}/customXml"),
    "changes": _extra(_PRES, "ppt/changesInfos/c.xml", f"<x>{NAME}</x>", "application/vnd.ms-powerpoint.changesinfo+xml", "http://schemas.microsoft.com/office/2016/11/relationships/changesInfo"),
    "revisions": _extra(_PRES, "ppt/revisionInfo.xml", f"<x>{NAME}</x>", "application/vnd.ms-powerpoint.revisioninfo+xml", "http://schemas.microsoft.com/office/2015/10/relationships/revisionInfo"),
    "printer settings": _extra(_PRES, "ppt/printerSettings/p.bin", NAME, "application/vnd.openxmlformats-officedocument.presentationml.printerSettings", f"{OFFICE}/printerSettings"),
    "embedded document": _extra(_SLIDE, "ppt/embeddings/o.bin", NAME, "application/vnd.openxmlformats-officedocument.oleObject", f"{OFFICE}/oleObject"),
    "video": _extra(_SLIDE, "ppt/media/v.mp4", NAME, "video/mp4", f"{OFFICE}/video"),
    "embedded font": _extra(_PRES, "ppt/fonts/f.fntdata", NAME, "application/x-fontdata", f"{OFFICE}/font"),
    "unknown kind": _extra(_SLIDE, "ppt/other.xml", f"<x>{NAME}</x>", "application/vnd.unheard-of+xml", "urn:unheard-of"),
    "known relationship to a wrong kind": _extra(_SLIDE, "ppt/other.xml", f"<x>{NAME}</x>", "application/xml", f"{OFFICE}/chart"),
    "link to a file": _link(_LINKED, f"file:///C:/Users/{SURNAME}/a.docx", "hyperlink"),
    "link to mail": _link(_LINKED, f"mailto:{SURNAME}@example.org", "hyperlink"),
    "picture outside": _link(_PICTURE, f"file:///S:/{SURNAME}.png", "image"),
    "part that nothing refers to": lambda deck: kit.packed({**kit.parts(deck), f"ppt/{SURNAME}.xml": b"<x/>"}),
    "extra member": lambda deck: kit.packed({**kit.parts(deck), "notes.txt": NAME.encode()}),
    "comment of the zip": lambda deck: kit.packed(kit.parts(deck), NAME.encode()),
    "bytes after the end": lambda deck: deck + NAME.encode(),
}  # fmt: skip


@pytest.mark.parametrize("place", PLACES)
def test_nothing_planted_survives(place: str, deck: bytes) -> None:
    planted = PLACES[place](deck)
    assert kit.leaks(planted), "the search does not find what was planted, so the test would prove nothing"
    assert not kit.leaks(scrub(planted).data)


def test_what_identifies_nobody_is_kept(deck: bytes) -> None:
    result = scrub(deck)
    words = b"".join(kit.parts(result.data).values()).decode("utf-8", "ignore")
    for kept in (
        "Anastomotic leak",
        "Grouped words",
        "Say this slowly",
        "Before",
        "Pressure",
        "What we learnt",
    ):
        assert kept in words
    assert not [finding for finding in result.findings if finding.where.startswith("slide")]


def test_a_hidden_slide_goes_with_its_notes_and_is_told(deck: bytes) -> None:
    from pptx import Presentation

    result = scrub(kit.changed(deck, _SLIDE, "<p:sld ", '<p:sld show="0" '))
    assert len(Presentation(io.BytesIO(result.data)).slides) == 1
    assert "Say this slowly" not in str(kit.parts(result.data))
    assert any(finding.kind == "hidden slide" for finding in result.findings)


def test_a_crop_is_cut_for_real(deck: bytes) -> None:
    tools = kit.SmallScrubber()
    files = kit.parts(leaf.scrub(deck, tools).data)
    assert tools.crops == [(0.25, 0.0, 0.0, 0.5)]
    assert b"srcRect" not in files[_SLIDE]
    assert files["ppt/media/image1.png"] != kit.png()


def test_stand_in_takes_the_format_of_the_first_run(deck: bytes) -> None:
    slide = kit.parts(scrub(_in_slide(_SPLIT)(deck)).data)[_SLIDE].decode()
    assert "<a:r><a:t>Seen by the surgeon</a:t></a:r>" in slide
    assert '<a:rPr b="1"/><a:t> today</a:t>' in slide


def test_dates_on_an_axis_become_days_from_the_first(deck: bytes) -> None:
    planted = kit.changed(deck, "ppt/charts/chart1.xml", "<c:formatCode>General", "<c:formatCode>dd/mm/yyyy")
    planted = kit.changed(planted, "ppt/charts/chart1.xml", "<c:v>20.0</c:v>", "<c:v>45366</c:v>")
    planted = kit.changed(planted, "ppt/charts/chart1.xml", "<c:v>12.5</c:v>", "<c:v>45369.5</c:v>")
    chart = kit.parts(scrub(planted).data)["ppt/charts/chart1.xml"]
    assert b"<c:v>0</c:v>" in chart
    assert b"<c:v>3.5</c:v>" in chart
    assert b"yyyy" not in chart


def test_the_same_file_gives_the_same_bytes_and_a_second_scrub_changes_nothing(deck: bytes) -> None:
    once = scrub(deck).data
    assert scrub(deck).data == once
    assert scrub(once).data == once


def test_every_entry_is_of_1980(deck: bytes) -> None:
    import zipfile

    with zipfile.ZipFile(io.BytesIO(scrub(deck).data)) as package:
        assert {entry.date_time for entry in package.infolist()} == {(1980, 1, 1, 0, 0, 0)}
        assert all(not entry.extra and not entry.comment for entry in package.infolist())


def test_every_part_is_referred_to_and_no_link_leads_out(deck: bytes) -> None:
    from mmbuilder.scrub.containers._ooxml.package import opened

    package = opened(scrub(PLACES["link to mail"](deck)).data, "deck")
    links = [link for name in ("", *package.parts) for link in package.relations(name).values()]
    assert not [link for link in links if link.external]
    parts = {name for name in package.parts if not name.endswith(".rels") and name != "[Content_Types].xml"}
    assert parts == {link.target for link in links}


def test_texts_are_those_that_are_scrubbed(deck: bytes) -> None:
    found = list(leaf.texts(PLACES["text split across runs"](deck)))
    assert f"Seen by {SURNAME} today" in found
    assert "Say this slowly" in found


@pytest.mark.parametrize(
    "place", ["text split across runs", "picture outside", "hidden shape", "link to a file"]
)
def test_the_schema_validator_finds_nothing(place: str, deck: bytes, tmp_path: object) -> None:
    from pathlib import Path

    from openxml_audit import OpenXmlValidator

    path = Path(str(tmp_path)) / "deck.pptx"
    path.write_bytes(scrub(PLACES[place](deck)).data)
    assert not list(OpenXmlValidator().validate(path).errors)


def _bomb() -> bytes:
    return kit.packed({"[Content_Types].xml": b"<Types/>", "ppt/a.xml": b"\0" * (8 * 2**20)})


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (bytes.fromhex("d0cf11e0a1b11ae1") + bytes(600), "password"),
        (b"PK\x03\x04 broken", "damaged"),
        (kit.packed({"a.txt": b"x"}), "content types"),
        (_bomb(), "zip bomb"),
    ],
    ids=["locked", "damaged", "no Office file", "zip bomb"],
)
def test_bad_files_are_refused_in_words(data: bytes, words: str) -> None:
    with pytest.raises(FileRefused, match=words):
        scrub(data)


def test_cut_short_macros_and_entities_are_refused(deck: bytes) -> None:
    with pytest.raises(FileRefused, match="cut short"):
        scrub(deck[: len(deck) // 2])
    with pytest.raises(FileRefused, match="macros"):
        scrub(kit.packed({**kit.parts(deck), "ppt/vbaProject.bin": b"x"}))
    evil = kit.changed(
        deck, _SLIDE, "<p:sld ", '<!DOCTYPE p [<!ENTITY e SYSTEM "file:///etc/hostname">]><p:sld '
    )
    with pytest.raises(FileRefused, match="document type"):
        scrub(evil)
