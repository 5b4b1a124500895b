"""The finished deck's pictures, looked at again as they stand there."""

from __future__ import annotations

import io
import zipfile
from dataclasses import replace
from pathlib import Path

import pytest
from PIL import Image

from mmbuilder.errors import IdentifierInOutput
from mmbuilder.scrub.apply import apply
from mmbuilder.scrub.layers import NoNameModel
from mmbuilder.scrub.plan import Decision, RedactionPlan
from mmbuilder.scrub.propose import propose
from mmbuilder.scrub.second_look import look_again
from tests.scrub.images.extras import need
from tests.scrub.test_stills import burned

TWIN = (
    '<p:pic><a:blip r:embed="rId2"><a:extLst><a:ext><asvg:svgBlip r:embed="rId1"/></a:ext></a:extLst>'
    "</a:blip></p:pic>"
)
RELS = '<Relationships><Relationship Id="rId2" Type="image" Target="../media/drawing.png"/></Relationships>'


def jpeg(pixels: bytes, size: tuple[int, int], quality: int = 92) -> bytes:
    file = io.BytesIO()
    Image.frombytes("RGB", size, pixels).save(file, "JPEG", quality=quality)
    return file.getvalue()


def deck(**pictures: bytes) -> bytes:
    """A package with a slide, one raster twin of a drawing, and the pictures given."""
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w") as archive:
        archive.writestr("ppt/slides/slide1.xml", TWIN)
        archive.writestr("ppt/slides/_rels/slide1.xml.rels", RELS)
        archive.writestr("ppt/media/drawing.png", jpeg(bytes(3 * 20 * 20), (20, 20)))
        for name, data in pictures.items():
            archive.writestr(f"ppt/media/{name}.jpg", data)
    return file.getvalue()


def test_what_was_covered_passes_and_what_was_not_stops_with_its_number(tmp_path: Path) -> None:
    need("ocr", "onnxruntime", "cv2")
    folder = burned(tmp_path / "case")
    plan = propose(folder, names=NoNameModel())
    case = apply(folder, plan)
    shown = case.frames[0].image
    look_again(deck(one=jpeg(shown.pixels, (shown.width, shown.height))), case, folder, plan)

    bare = replace(plan, images={})
    case = apply(folder, bare)
    shown = case.frames[0].image
    data = deck(one=jpeg(shown.pixels, (shown.width, shown.height)))
    with pytest.raises(IdentifierInOutput, match="still 1") as caught:
        look_again(data, case, folder, bare)
    assert "text in the picture" in str(caught.value)
    kept = {
        1: tuple(
            replace(box, decision=Decision.KEEP) for box in plan.images[1] if box.decision is Decision.REPLACE
        )
    }
    look_again(data, case, folder, replace(bare, images=kept))


def test_a_picture_that_is_no_still_of_the_case_is_refused(tmp_path: Path) -> None:
    folder = burned(tmp_path / "case")
    case = apply(folder, replace(propose(folder, names=NoNameModel()), images={}))
    size = (case.frames[0].image.width, case.frames[0].image.height)
    for stranger in (jpeg(bytes(3 * 9 * 9), (9, 9)), jpeg(b"\xff" * (3 * size[0] * size[1]), size)):
        with pytest.raises(IdentifierInOutput, match="no still"):
            look_again(deck(one=stranger), case, folder, RedactionPlan())


def test_a_deck_of_drawings_alone_passes(tmp_path: Path) -> None:
    folder = burned(tmp_path / "case")
    plan = propose(folder, names=NoNameModel())
    look_again(deck(), apply(folder, plan), folder, plan)
