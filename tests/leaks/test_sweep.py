"""A canary in each place of a real deck: the sweep finds every one, and nothing in a clean deck."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Callable

import pytest
from pptx import Presentation
from pptx.chart.data import CategoryChartData
from pptx.enum.chart import XL_CHART_TYPE
from pptx.util import Cm

from mmbuilder.scrub.sweep import sweep
from tests.scrub.declared_list import KNOWN, SURNAME, packed
from tests.scrub.images import files
from tests.scrub.images.files import picture, saved


def deck(change: Callable[..., None] = lambda shown: None) -> bytes:
    """Two slides with notes, a picture, a table and a chart with its workbook, changed in one place."""
    shown = Presentation()
    first, second = (shown.slides.add_slide(shown.slide_layouts[layout]) for layout in (1, 5))
    first.shapes.title.text = "The handle moved and the hand was steady"
    first.placeholders[
        1
    ].text = "Cooperation of the team held. White cornea, black pupil, page 3 of the record."
    first.notes_slide.notes_text_frame.text = "Say it slowly."
    first.shapes.add_picture(io.BytesIO(saved(picture(), "PNG")), 0, 0)
    second.shapes.add_table(2, 2, 0, 0, Cm(5), Cm(3)).table.cell(0, 0).text = "barrier"
    data = CategoryChartData()
    data.categories = ["before", "after"]
    data.add_series("pressure", (10, 20))
    second.shapes.add_chart(XL_CHART_TYPE.COLUMN_CLUSTERED, 0, 0, Cm(9), Cm(6), data)
    change(shown)
    out = io.BytesIO()
    shown.save(out)
    return out.getvalue()


def repacked(data: bytes, change: Callable[[str, bytes], tuple[str, bytes]], comment: bytes = b"") -> bytes:
    with zipfile.ZipFile(io.BytesIO(data)) as package:
        return packed(dict(change(name, package.read(name)) for name in package.namelist()), comment)


def kinds(data: bytes) -> set[str]:
    return {leak.kind for leak in sweep("deck.pptx", data, KNOWN)}


def parts(data: bytes) -> set[str]:
    return {leak.part for leak in sweep("deck.pptx", data, KNOWN)}


def test_a_clean_deck_is_clean():
    assert sweep("deck.pptx", deck(), KNOWN) == ()


def title(shown):
    shown.slides[0].shapes.title.text = f"As {SURNAME} saw it"


def notes(shown):
    shown.slides[0].notes_slide.notes_text_frame.text = f"Ask {SURNAME.upper()}"


def author(shown):
    shown.core_properties.author = SURNAME


def keywords(shown):
    shown.core_properties.keywords = f"eye; {SURNAME}"


def alt_text(shown):
    shown.slides[0].shapes[-1]._element.nvPicPr.cNvPr.set("descr", f"{SURNAME}.png")


def shape_name(shown):
    shown.slides[0].shapes[-1].name = f"img_{SURNAME}"


def table_cell(shown):
    shown.slides[1].shapes[1].table.cell(1, 1).text = f"told {SURNAME}"


def split_runs(shown):
    paragraph = shown.slides[0].placeholders[1].text_frame.paragraphs[0]
    paragraph.clear()
    for piece in (SURNAME[:4], SURNAME[4:9], SURNAME[9:]):
        run = paragraph.add_run()
        run.text, run.font.bold = piece, True


def link(shown):
    run = shown.slides[0].placeholders[1].text_frame.paragraphs[0].runs[0]
    run.hyperlink.address = f"https://example.org/~{SURNAME.lower()}"


def chart_workbook(shown):
    data = CategoryChartData()
    data.categories = ["before", SURNAME]
    data.add_series("pressure", (1, 2))
    shown.slides[1].shapes[2].chart.replace_data(data)


def layout(shown):
    shown.slide_layouts[0].placeholders[0].text = SURNAME


PLACES = (
    title,
    notes,
    author,
    keywords,
    alt_text,
    shape_name,
    table_cell,
    split_runs,
    link,
    chart_workbook,
    layout,
)


@pytest.mark.parametrize("place", PLACES, ids=lambda place: place.__name__)
def test_a_canary_is_found_in_every_place_of_a_slide(place):
    assert kinds(deck(place)) == {"name of the surgeon"}


def test_the_embedded_workbook_alone_is_enough():
    def only_workbook(name: str, data: bytes) -> tuple[str, bytes]:
        return name, data.replace(SURNAME.encode(), b"after") if name.endswith(".xml") else data

    whole = repacked(deck(chart_workbook), only_workbook)
    assert parts(whole)
    assert all(part.startswith("ppt/embeddings/") for part in parts(whole))


PICTURES = {
    "EXIF of a JPEG": files.saved(picture(), "JPEG", exif=files.exif().tobytes()),
    "comment of a JPEG": files.saved(picture(), "JPEG", comment=files.SECRET),
    "editing data of a JPEG": files.saved(picture(), "JPEG", xmp=files.XMP),
    "every text of a PNG": files.png(),
    "comment of a GIF": files.saved(picture(), "GIF", comment=files.SECRET),
}


@pytest.mark.parametrize("carrier", PICTURES)
def test_metadata_of_media_are_searched(carrier):
    from dataclasses import replace

    from mmbuilder.case.identifiers import Declared
    from mmbuilder.scrub.sweep import Known

    known = replace(
        Known.from_declared(Declared.model_validate({"people": [{"name": files.CANARY, "role": "patient"}]}))
    )

    def media(name: str, data: bytes) -> tuple[str, bytes]:
        return name, PICTURES[carrier] if name.startswith("ppt/media/") else data

    leaks = sweep("deck.pptx", repacked(deck(), media), known)
    assert {(leak.part, leak.kind) for leak in leaks} == {("ppt/media/image1.png", "name of the patient")}


def test_compressed_text_of_a_png_is_unpacked():
    from PIL.PngImagePlugin import PngInfo

    for add in ("add_text", "add_itxt"):
        info = PngInfo()
        getattr(info, add)("Description", f"{SURNAME} and {SURNAME[::-1]}", zip=True)
        data = saved(picture(), "PNG", pnginfo=info)
        assert SURNAME.encode() not in data
        assert kinds(packed({"ppt/media/image1.png": data})) == {"name of the surgeon"}


def test_media_names_and_the_package_comment_are_searched():
    def named(name: str, data: bytes) -> tuple[str, bytes]:
        return name.replace("image1", SURNAME), data

    assert kinds(repacked(deck(), named)) == {"name of the surgeon"}
    assert kinds(repacked(deck(), lambda name, data: (name, data), SURNAME.encode())) == {
        "name of the surgeon"
    }


@pytest.mark.parametrize(
    "written",
    [
        "".join(f"&#{ord(sign)};" for sign in SURNAME),
        "".join(f"&#x{ord(sign):X};" for sign in SURNAME),
        "".join(f"%{ord(sign):02x}" for sign in SURNAME),
        SURNAME,
    ],
)
@pytest.mark.parametrize("encoding", ["utf-8", "utf-16"])
def test_any_encoding_of_a_slide_is_read(written, encoding):
    def encoded(name: str, data: bytes) -> tuple[str, bytes]:
        if name != "ppt/slides/slide1.xml":
            return name, data
        text = data.decode().replace("encoding='UTF-8'", f"encoding='{encoding.upper()}'")
        return name, text.replace("The handle", f"{written} handle").encode(encoding)

    assert parts(repacked(deck(), encoded)) == {"ppt/slides/slide1.xml"}
