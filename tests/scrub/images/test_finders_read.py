"""Lines of a finished picture, told by what they say: drawn, so that the words are known."""

from __future__ import annotations

import pytest
from PIL import Image, ImageDraw, ImageFont

from mmbuilder import fonts
from mmbuilder.scrub.images import regions
from mmbuilder.scrub.plan import Decision, PixelBox
from tests.scrub.images.extras import need


@pytest.fixture(autouse=True)
def reader() -> None:
    need("ocr", "onnxruntime")


def seen(words: str, lean: int = 0, known: str = "eye") -> tuple[PixelBox, ...]:
    picture = Image.new("RGB", (900, 500), (40, 50, 60))
    font = ImageFont.truetype(str(fonts.path()), 30)
    ImageDraw.Draw(picture).text((280, 230), words, "white", font)
    turned = picture.rotate(lean, fillcolor=(40, 50, 60))
    return regions.find_read(turned, lambda said: "known" if known in said.lower() else "")


@pytest.mark.parametrize("lean", [0, 25, 90, -90])
def test_what_passes_may_stay_however_it_runs(lean: int) -> None:
    found = seen("Left eye at foot", lean)
    assert found
    assert {(box.decision, box.reason) for box in found} == {(Decision.KEEP, "known")}


@pytest.mark.parametrize("lean", [0, 25, 90, -90])
@pytest.mark.parametrize("words", ["Marisol Quenneville", "MRN 00471902"])
def test_what_does_not_pass_is_told(words: str, lean: int) -> None:
    assert any(box.decision is Decision.REPLACE for box in seen(words, lean))


def test_wide_spaces_part_what_is_read() -> None:
    found = seen("eye 18      eye 21      eye 24")
    assert {box.decision for box in found} == {Decision.KEEP}


def test_what_may_stay_by_its_place_is_not_read_and_another_line_is() -> None:
    picture = Image.new("RGB", (900, 500), (40, 50, 60))
    font = ImageFont.truetype(str(fonts.path()), 30)
    for top, words in ((130, "Marisol Quenneville"), (330, "Wendeline Orrastal")):
        ImageDraw.Draw(picture).text((280, top), words, "white", font)
    read: list[str] = []

    def passes(said: str) -> str:
        read.append(said)
        return ""

    found = regions.find_read(picture, passes, lambda box: "drawn" if box.bottom < 250 else "")
    told = {(box.bottom < 250, box.decision) for box in found}
    assert told == {(True, Decision.KEEP), (False, Decision.REPLACE)}
    assert any("Orrastal" in said for said in read)
    assert not any("Quenneville" in said for said in read)
