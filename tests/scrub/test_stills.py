"""What is covered in the stills of a case: the author's boxes and the finders'."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image, ImageDraw, ImageFont

from mmbuilder import resources
from mmbuilder.casefile.folder import CaseFolder
from mmbuilder.errors import FileRefused
from mmbuilder.scrub import stills
from mmbuilder.scrub.apply import apply
from mmbuilder.scrub.images import again, regions
from mmbuilder.scrub.layers import NoNameModel
from mmbuilder.scrub.plan import Decision, PixelBox
from mmbuilder.scrub.propose import propose
from tests.scrub.images.extras import need
from tests.scrub.small_case import CASE, folder, small

STRIP = "OSKAVARN, Jane  00482913"
WIDE = CASE.replace("crop: [10, 20, 60, 40]", "crop: [100.5, 0, 900, 400]")
FONT = next(path for path in sorted((resources.templates() / "fonts").rglob("*.ttf")))


def burned(root: Path, case: str = WIDE) -> CaseFolder:
    """The small case, its still 1200 x 400 with a patient strip that nobody drew a box over."""
    from mmbuilder.casefile import load

    folder(root, case)
    image = Image.new("RGB", (1200, 400), (30, 60, 50))
    ImageDraw.Draw(image).text((320, 180), STRIP, (240, 240, 240), ImageFont.truetype(FONT, 34))
    image.save(root / "images" / "Oskavarn pump.png")
    return load(root)


def share(of: PixelBox, boxes: tuple[PixelBox, ...]) -> float:
    return again.covered_share(of, [box for box in boxes if box.decision is Decision.REPLACE])


def test_a_patient_strip_nobody_drew_a_box_over_is_covered_at_its_place(tmp_path: Path) -> None:
    need("ocr", "onnxruntime", "cv2")
    case = burned(tmp_path / "case")
    plan = propose(case, names=NoNameModel())
    # Where the letters stand, in the upright original: the crop starts at 101.
    assert share(PixelBox(320, 186, 720, 214), plan.images[1]) >= 0.9
    assert plan.counts()["text in the picture"] >= 1
    shown = apply(case, plan).frames[0].image
    assert (shown.width, shown.height) == (899, 400)
    row = 200 * shown.width
    assert set(shown.pixels[3 * (row + 240) : 3 * (row + 600)]) == {64}


def test_what_the_author_keeps_stays_and_is_listed(tmp_path: Path) -> None:
    need("ocr", "onnxruntime", "cv2")
    kept = WIDE.replace("why: label}]", "why: label}]\n    keep: [{box: [290, 150, 500, 90], why: setting}]")
    boxes = stills.boxes(burned(tmp_path / "case", kept))[1]
    assert share(PixelBox(320, 186, 720, 214), boxes) == 0
    stays = [box for box in boxes if box.decision is Decision.KEEP]
    assert {box.reason for box in stays} == {again.BY_AUTHOR}


def test_a_still_is_looked_at_once_whatever_is_said_of_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("MMBUILDER_CACHE", str(tmp_path / "kept"))
    looked: list[int] = []
    find = regions.find_regions
    monkeypatch.setattr(regions, "find_regions", lambda image: looked.append(1) or find(image))
    first = stills.boxes(small(tmp_path / "case"))
    count = len(looked)
    again_ = stills.boxes(small(tmp_path / "case", CASE.replace("Hum heard", "A hum was heard")))
    assert (again_, len(looked)) == (first, count)


def test_a_missing_finder_is_told_and_can_be_demanded(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(regions, "_lacks", lambda modules: bool(modules))
    case = small(tmp_path / "case")
    told = stills.unchecked(case)
    for risk in regions.PIXEL_RISKS:
        assert any(line.startswith(risk) and "not installed" in line for line in told)
    assert stills.finders(case) == ()
    assert [box.kind for box in stills.boxes(case)[1]] == ["drawn by the author"]


def test_a_refused_picture_is_named_by_its_number(tmp_path: Path) -> None:
    case = small(tmp_path / "case")
    (case.root / "images" / "Oskavarn pump.png").write_bytes(b"no picture")
    with pytest.raises(FileRefused) as caught:
        stills.boxes(case)
    assert str(caught.value).startswith("still 1: ")
    assert "Oskavarn" not in str(caught.value)


def test_without_stills_nothing_is_said_of_pictures(tmp_path: Path) -> None:
    start, end = CASE.index("frames:"), CASE.index("decisions:")
    case = small(tmp_path / "case", CASE[:start] + CASE[end:])
    assert (stills.boxes(case), stills.finders(case), stills.unchecked(case)) == ({}, (), ())
