from __future__ import annotations

import io
import subprocess
import sys
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest
from PIL import Image
from PIL.PngImagePlugin import PngInfo
from pptx import Presentation
from pptx.opc.constants import RELATIONSHIP_TYPE as RT
from pptx.opc.package import Part
from pptx.opc.packuri import PackURI
from pptx.oxml.ns import qn
from pptx.shapes.picture import Picture
from pptx.util import Cm, Inches

from mmbuilder.errors import FileRefused
from mmbuilder.formats import deck_pptx
from mmbuilder.formats._pptx import intake
from tests.formats import boards
from tests.formats.invariants import check_deck

CANARY = "Quillonby"


def _own(path: Path, *, wide: bool = True) -> Path:
    """Save a template as somebody might hand it in: slides, notes, names, a crest, tags, links."""
    deck = Presentation()
    if wide:
        deck.slide_width, deck.slide_height = Inches(13.333), Inches(7.5)
        _stretch(deck)
    slide = deck.slides.add_slide(deck.slide_layouts[1])
    slide.shapes.title.text = f"{CANARY} on a slide"
    slide.notes_slide.notes_text_frame.text = f"{CANARY} in the notes"
    props = deck.core_properties
    props.author = props.title = props.last_modified_by = CANARY
    _crest(deck)
    deck.slide_layouts[5].name = f"{CANARY} title only"
    theme = deck.slide_master.part.part_related_by(RT.THEME)
    theme._blob = theme.blob.replace(b'name="Office Theme"', f'name="{CANARY} theme"'.encode())
    layout = deck.slide_layouts[5].part
    layout.relate_to(f"https://{CANARY}.example.org/", RT.HYPERLINK, is_external=True)
    tags = Part(
        PackURI("/ppt/tags/tag1.xml"), "application/xml", deck.part.package, f"<t>{CANARY}</t>".encode()
    )
    deck.part.relate_to(tags, RT.TAGS)
    custom = Part(
        PackURI("/customXml/item1.xml"), "application/xml", deck.part.package, f"<t>{CANARY}</t>".encode()
    )
    deck.part.relate_to(custom, RT.CUSTOM_XML)
    deck.save(str(path))
    return path


def _stretch(deck: object) -> None:
    """Widen the 4:3 placeholders, as slide software does when the page is set to 16:9."""
    for layout in [deck.slide_master, *deck.slide_layouts]:  # type: ignore[attr-defined]
        for shape in layout.placeholders:
            if shape._element.spPr.find(qn("a:xfrm")) is None:
                continue  # it stands where its master says
            shape.left, shape.width = int(shape.left * 4 / 3), int(shape.width * 4 / 3)


def _crest(deck: object) -> None:
    info = PngInfo()
    info.add_text("Comment", CANARY)
    file = io.BytesIO()
    Image.new("RGBA", (40, 40), (0, 90, 60, 255)).save(file, "PNG", pnginfo=info)
    file.seek(0)
    slide = deck.slides[0]  # type: ignore[attr-defined]
    picture = slide.shapes.add_picture(file, Cm(1), Cm(17), Cm(1.2))
    picture._element.nvPicPr.cNvPr.set("descr", f"C:\\{CANARY}\\crest.png")
    master = deck.slide_master  # type: ignore[attr-defined]
    element = picture._element
    image = slide.part.related_part(element.blip_rId)
    element.blipFill.blip.rEmbed = master.part.relate_to(image, RT.IMAGE)
    master.shapes._spTree.append(element)


def _checker(path: Path) -> subprocess.CompletedProcess[str]:
    tool = Path(sys.executable).with_name("ooxml-integrity")
    command = [tool, "check", "--no-config", "--fail-on", "info", path]
    return subprocess.run(command, capture_output=True, text=True, check=False)


def test_no_finding_by_the_layout_checker(tmp_path: Path) -> None:
    path = tmp_path / "deck.pptx"
    path.write_bytes(deck_pptx.write(boards.every_block(), template=_own(tmp_path / "own.pptx")))
    done = _checker(path)
    assert done.returncode == 0, done.stdout


def test_nothing_of_ours_stands_on_the_crest(tmp_path: Path) -> None:
    deck = Presentation(
        io.BytesIO(deck_pptx.write(boards.every_block(), template=_own(tmp_path / "own.pptx")))
    )
    crest = next(shape for shape in deck.slide_master.shapes if isinstance(shape, Picture))
    for slide in deck.slides:
        for shape in slide.shapes:
            if shape.name.startswith("Bar"):
                continue  # the pause bar takes the whole edge
            apart = (
                shape.left >= crest.left + crest.width
                or crest.left >= shape.left + shape.width
                or shape.top >= crest.top + crest.height
                or crest.top >= shape.top + shape.height
            )
            assert apart, shape.name


@pytest.mark.parametrize("wide", [True, False])
def test_a_users_template_is_kept_and_cleaned(tmp_path: Path, wide: bool) -> None:
    data = deck_pptx.write(boards.every_block(), template=_own(tmp_path / "own.pptx", wide=wide))
    check_deck(data, house=False)
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        for name in archive.namelist():
            assert CANARY.encode() not in archive.read(name), name
            assert "tags" not in name
    deck = Presentation(io.BytesIO(data))
    names = {slide.slide_layout.name for slide in deck.slides}
    assert names == {"Layout 2", "Layout 7"}, "the layouts of the template, under names of ours"
    assert deck.slides[0].slide_layout.name == "Layout 2", "the title layout, first after the master"


def test_the_crest_stays(tmp_path: Path) -> None:
    data = deck_pptx.write(boards.every_block(), template=_own(tmp_path / "own.pptx"))
    master = Presentation(io.BytesIO(data)).slide_master
    assert (
        sum(shape.shape_type is not None and shape.shape_type.name == "PICTURE" for shape in master.shapes)
        == 1
    )


def test_same_template_same_bytes(tmp_path: Path) -> None:
    own = _own(tmp_path / "own.pptx")
    assert deck_pptx.write(boards.every_block(), template=own) == deck_pptx.write(
        boards.every_block(), template=own
    )


def test_a_pause_bar_is_drawn_where_the_template_has_none(tmp_path: Path) -> None:
    data = deck_pptx.write(boards.every_block(), template=_own(tmp_path / "own.pptx"))
    deck = Presentation(io.BytesIO(data))
    for slide, meant in zip(deck.slides, boards.every_block().slides, strict=True):
        words = [shape.text_frame.text for shape in slide.shapes if shape.has_text_frame]
        assert ("PAUSE" in words) is meant.pause


def test_no_finding_by_the_schema_validator(tmp_path: Path) -> None:
    from openxml_audit import OpenXmlValidator

    path = tmp_path / "deck.pptx"
    path.write_bytes(deck_pptx.write(boards.every_block(), template=_own(tmp_path / "own.pptx")))
    result = OpenXmlValidator().validate(path)
    assert not list(result.errors)


def _text(path: Path) -> None:
    path.write_text("not a deck")


def _locked(path: Path) -> None:
    path.write_bytes(bytes.fromhex("d0cf11e0a1b11ae1") + bytes(600))


def _missing(path: Path) -> None:
    assert not path.exists()


def _cut_short(path: Path) -> None:
    path.write_bytes(_own(path).read_bytes()[:5000])


def _other_zip(path: Path) -> None:
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("letter.txt", "hello")


def _macros(path: Path) -> None:
    _own(path)
    with zipfile.ZipFile(path, "a") as archive:
        archive.writestr("ppt/vbaProject.bin", b"x")


def _bomb(path: Path) -> None:
    _own(path)
    with zipfile.ZipFile(path, "a", zipfile.ZIP_DEFLATED) as archive:
        for number in range(5):
            archive.writestr(f"ppt/media/{number}.bin", bytes(2**21))


def _untitled(path: Path) -> None:
    deck = Presentation()
    for layout in deck.slide_layouts:
        for shape in list(layout.placeholders):
            if "TITLE" in shape.placeholder_format.type.name:
                shape._element.getparent().remove(shape._element)
    deck.save(str(path))


REFUSED = (
    (_text, "another kind"),
    (_locked, "locked"),
    (_missing, "no file that can be read"),
    (_cut_short, "damaged"),
    (_other_zip, "another kind"),
    (_macros, "macros"),
    (_bomb, "unpacks to far more"),
    (_untitled, "no layout with a place for a title"),
)


@pytest.mark.parametrize(("make", "words"), REFUSED, ids=[make.__name__ for make, _ in REFUSED])
def test_refused_in_words(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, make: Callable[[Path], None], words: str
) -> None:
    monkeypatch.setattr(intake, "UNPACKED", 2**23)  # the bomb of this test need not weigh 400 MB
    path = tmp_path / "given.pptx"
    make(path)
    with pytest.raises(FileRefused, match=words) as caught:
        deck_pptx.write(boards.every_block(), template=path)
    for beat in ("found", "expected", "why", "try"):
        assert beat in str(caught.value)


def test_a_file_over_the_limit_is_not_read(tmp_path: Path) -> None:
    path = tmp_path / "given.pptx"
    with path.open("wb") as file:
        file.truncate(intake.LIMIT + 1)
    with pytest.raises(FileRefused, match="100 MB"):
        deck_pptx.write(boards.every_block(), template=path)
