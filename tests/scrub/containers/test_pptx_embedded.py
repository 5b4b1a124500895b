"""What a slide holds of other kinds: SmartArt, documents, video, second forms of pictures; and its looks."""

from __future__ import annotations

import io
import shutil
import subprocess
from pathlib import Path

import pytest

from mmbuilder.scrub.containers import pptx as leaf
from tests.office import as_pdf
from tests.scrub.containers import office_kit as kit
from tests.scrub.containers.office_kit import MICROSOFT, NAME, OFFICE, SURNAME
from tests.scrub.containers.test_pptx import _CLOSE, _SLIDE, _XMLNS, deck, scrub, shape

__all__ = ["deck"]

_DRAWING = "http://schemas.openxmlformats.org/drawingml/2006"
_DSP = "http://schemas.microsoft.com/office/drawing/2008/diagram"
_A = f'xmlns:a="{_DRAWING}/main"'
_FRAME = (
    f'<p:graphicFrame {_XMLNS}><p:nvGraphicFramePr><p:cNvPr id="910" name="D"/><p:cNvGraphicFramePr/><p:nvPr/>'
    '</p:nvGraphicFramePr><p:xfrm><a:off x="914400" y="914400"/><a:ext cx="914400" cy="914400"/></p:xfrm>'
    "<a:graphic>{0}</a:graphic></p:graphicFrame>"
)
_IDS = f'<a:graphicData uri="{_DRAWING}/diagram"><dgm:relIds xmlns:dgm="{_DRAWING}/diagram" r:dm="rId910" r:lo="x" r:qs="x" r:cs="x"/></a:graphicData>'
_DATA = (
    f'<dgm:dataModel xmlns:dgm="{_DRAWING}/diagram" {_A}><dgm:ptLst><dgm:pt modelId="1"><dgm:t><a:p><a:r><a:t>{NAME}'
    f'</a:t></a:r></a:p></dgm:t></dgm:pt></dgm:ptLst><dgm:extLst><a:ext uri="u"><dsp:dataModelExt xmlns:dsp="{_DSP}" '
    'relId="rId911" minVer="x"/></a:ext></dgm:extLst></dgm:dataModel>'
)
_DRAWN = (
    f'<dsp:drawing xmlns:dsp="{_DSP}" {_A}><dsp:spTree><dsp:nvGrpSpPr><dsp:cNvPr id="0" name=""/><dsp:cNvGrpSpPr/>'
    f'</dsp:nvGrpSpPr><dsp:grpSpPr/><dsp:sp modelId="1"><dsp:nvSpPr><dsp:cNvPr id="0" name="{SURNAME}"/><dsp:cNvSpPr/>'
    '</dsp:nvSpPr><dsp:spPr><a:xfrm><a:off x="0" y="0"/><a:ext cx="900" cy="900"/></a:xfrm><a:prstGeom prst="rect">'
    f"<a:avLst/></a:prstGeom></dsp:spPr><dsp:txBody><a:bodyPr/><a:p><a:r><a:t>Shown to {NAME}</a:t></a:r></a:p>"
    "</dsp:txBody></dsp:sp></dsp:spTree></dsp:drawing>"
)


def _smartart(deck: bytes) -> bytes:
    planted = kit.changed(deck, _SLIDE, _CLOSE, _FRAME.format(_IDS) + _CLOSE)
    kind = "application/vnd.openxmlformats-officedocument.drawingml.diagramData+xml"
    planted = kit.with_part(
        planted, _SLIDE, "ppt/diagrams/d1.xml", _DATA.encode(), kind, f"{OFFICE}/diagramData", "rId910"
    )
    kind = "application/vnd.ms-office.drawingml.diagramDrawing+xml"
    return kit.with_part(
        planted, _SLIDE, "ppt/diagrams/w1.xml", _DRAWN.encode(), kind, f"{MICROSOFT}/diagramDrawing", "rId911"
    )


def test_smartart_becomes_the_shapes_it_shows(deck: bytes) -> None:
    planted = _smartart(deck)
    assert kit.leaks(planted)
    result = scrub(planted)
    assert not kit.leaks(result.data)
    files = kit.parts(result.data)
    assert b"Shown to the surgeon" in files[_SLIDE]
    assert not [name for name in files if "diagram" in name]


def _embedded(deck: bytes) -> bytes:
    picture = (
        '<p:pic><p:nvPicPr><p:cNvPr id="0" name=""/><p:cNvPicPr/><p:nvPr/></p:nvPicPr><p:blipFill><a:blip '
        'r:embed="rId921"/><a:stretch><a:fillRect/></a:stretch></p:blipFill><p:spPr><a:xfrm><a:off x="914400" '
        'y="914400"/><a:ext cx="914400" cy="914400"/></a:xfrm><a:prstGeom prst="rect"><a:avLst/></a:prstGeom>'
        "</p:spPr></p:pic>"
    )
    uri = "http://schemas.openxmlformats.org/presentationml/2006/ole"
    held = f'<a:graphicData uri="{uri}"><p:oleObj name="{SURNAME}" r:id="rId920" progId="Word.Document.12"><p:embed/>{picture}</p:oleObj></a:graphicData>'
    planted = kit.changed(deck, _SLIDE, _CLOSE, _FRAME.format(held) + _CLOSE)
    planted = kit.with_part(
        planted,
        _SLIDE,
        "ppt/embeddings/o1.docx",
        NAME.encode(),
        "application/x",
        f"{OFFICE}/package",
        "rId920",
    )
    return kit.with_part(
        planted, _SLIDE, "ppt/media/o1.png", kit.png(text=NAME), "image/png", f"{OFFICE}/image", "rId921"
    )


def test_an_embedded_document_leaves_its_picture(deck: bytes) -> None:
    planted = _embedded(deck)
    result = scrub(planted)
    assert kit.leaks(planted)
    assert not kit.leaks(result.data)
    slide = kit.parts(result.data)[_SLIDE]
    assert slide.count(b"<p:pic>") == 2
    assert b"oleObj" not in slide
    assert any("embedded documents" in words for words in result.dropped)


def test_a_video_leaves_its_poster_and_no_animation_of_it(deck: bytes) -> None:
    media = f'<p:nvPr><a:videoFile {_A} xmlns:r="{OFFICE}" r:link="rId930"/></p:nvPr>'
    timing = (
        '<p:timing><p:tnLst><p:par><p:cTn id="1"><p:childTnLst><p:video><p:cMediaNode><p:cTn id="2"/><p:tgtEl>'
        '<p:spTgt spid="4"/></p:tgtEl></p:cMediaNode></p:video></p:childTnLst></p:cTn></p:par></p:tnLst></p:timing>'
    )
    planted = kit.changed(deck, _SLIDE, "</p:cNvPicPr><p:nvPr/>", f"</p:cNvPicPr>{media}")
    planted = kit.changed(planted, _SLIDE, "</p:sld>", f"{timing}</p:sld>")
    planted = kit.with_part(
        planted, _SLIDE, "ppt/media/m1.mp4", NAME.encode(), "video/mp4", f"{OFFICE}/video", "rId930"
    )
    result = scrub(planted)
    slide = kit.parts(result.data)[_SLIDE]
    assert not kit.leaks(result.data)
    assert b"videoFile" not in slide
    assert b"p:timing" not in slide
    assert b"<p:pic>" in slide
    assert any("sound and video" in words for words in result.dropped)


def test_second_forms_of_a_picture_go_and_the_first_stays(deck: bytes) -> None:
    second = (
        '<a:extLst><a:ext uri="{96DAC541-7B7A-43D3-8B79-37D633B846F1}"><asvg:svgBlip '
        'xmlns:asvg="http://schemas.microsoft.com/office/drawing/2016/SVG/main" r:embed="rId940"/></a:ext></a:extLst>'
    )
    text = kit.parts(deck)[_SLIDE].decode()
    blip = text[text.index("<a:blip ") : text.index("/>", text.index("<a:blip ")) + 2]
    planted = kit.changed(deck, _SLIDE, blip, f"{blip[:-2]}>{second}</a:blip>")
    svg = f"<svg><text>{NAME}</text></svg>".encode()
    planted = kit.with_part(
        planted, _SLIDE, "ppt/media/p.svg", svg, "image/svg+xml", f"{OFFICE}/image", "rId940"
    )
    assert kit.leaks(planted)
    assert not kit.leaks(scrub(planted).data)


def test_a_picture_that_cannot_be_read_becomes_grey_and_is_told(deck: bytes) -> None:
    files = kit.parts(deck)
    name = next(name for name in files if name.startswith("ppt/media/"))
    result = scrub(kit.packed({**files, name: b"\x01\0\0\0" + NAME.encode() * 9}))
    assert not kit.leaks(result.data)
    assert any("placeholder" in note for note in result.notes)


def test_a_master_that_leads_back_to_its_layouts_ends(deck: bytes) -> None:
    before, after = (
        [name for name in kit.parts(data) if name.startswith("ppt/slideLayouts/slide")]
        for data in (deck, scrub(deck).data)
    )
    assert len(before) > 1
    assert len(after) == len(before)


def test_it_opens_again(deck: bytes) -> None:
    from pptx import Presentation

    read = Presentation(io.BytesIO(scrub(_smartart(_embedded(deck))).data))
    assert read.slides[0].shapes.title.text == "Anastomotic leak"
    assert [shape for shape in read.slides[0].shapes if shape.has_chart]
    assert read.slides[0].notes_slide.notes_text_frame.text == "Say this slowly"


def test_the_schema_validator_finds_nothing_in_what_was_flattened(deck: bytes, tmp_path: Path) -> None:
    from openxml_audit import OpenXmlValidator

    path = tmp_path / "deck.pptx"
    path.write_bytes(scrub(_smartart(_embedded(deck))).data)
    assert not list(OpenXmlValidator().validate(path).errors)


def _drawn(data: bytes, folder: Path) -> list[Path]:
    folder.mkdir()
    (folder / "deck.pptx").write_bytes(data)
    printed = as_pdf(folder / "deck.pptx", folder)
    subprocess.run(["pdftoppm", "-r", "40", "-png", printed, folder / "page"], check=True, timeout=60)
    return sorted(folder.glob("page*.png"))


@pytest.mark.office
@pytest.mark.skipif(
    not (shutil.which("soffice") and shutil.which("pdftoppm")),
    reason="LibreOffice or pdftoppm is not installed",
)
def test_the_pages_look_the_same(deck: bytes, tmp_path: Path) -> None:
    import numpy as np
    from PIL import Image

    before = _drawn(deck, tmp_path / "before")
    after = _drawn(leaf.scrub(deck, kit.SmallScrubber()).data, tmp_path / "after")
    assert len(before) == len(after) == 2
    for one, two in zip(before, after, strict=True):
        pixels = [np.asarray(Image.open(page).convert("L"), dtype=int) for page in (one, two)]
        assert (abs(pixels[0] - pixels[1]) > 40).mean() < 0.002, f"{one.name} looks different"


def test_off_slide_shapes_of_a_group_go_and_the_others_stay(deck: bytes) -> None:
    group = (
        f'<p:grpSp {_XMLNS}><p:nvGrpSpPr><p:cNvPr id="950" name="G"/><p:cNvGrpSpPr/><p:nvPr/></p:nvGrpSpPr><p:grpSpPr>'
        '<a:xfrm><a:off x="0" y="0"/><a:ext cx="9144000" cy="6858000"/><a:chOff x="0" y="0"/>'
        '<a:chExt cx="9144000" cy="6858000"/></a:xfrm></p:grpSpPr>'
        f"{shape('Stays', number=951)}{shape('Goes', x=-5_000_000, number=952)}</p:grpSp>"
    )
    slide = kit.parts(scrub(kit.changed(deck, _SLIDE, _CLOSE, group + _CLOSE)).data)[_SLIDE]
    assert b"Stays" in slide
    assert b"Goes" not in slide
