"""Cover boxes cover, marks stay, arrows point at the thing, and the drawings can be made again."""

from __future__ import annotations

import hashlib
import math

import numpy as np
import pytest
from PIL import Image

from .conftest import CASES, ILLUSTRATED, stills

MOST_BYTES = 900_000
NEAR = 45.0
"""How far from the thing the head of an arrow may be, pixels of a picture 1280 wide."""


@pytest.fixture(params=ILLUSTRATED)
def code(request):
    return str(request.param)


def name_of(frame) -> str:
    return frame.file.value.removeprefix("images/")


def inside(inner, outer) -> bool:
    left, top, wide, tall = outer
    return (
        left <= inner[0]
        and top <= inner[1]
        and inner[0] + inner[2] <= left + wide
        and inner[1] + inner[3] <= top + tall
    )


def overlap(a, b) -> bool:
    return a[0] < b[0] + b[2] and b[0] < a[0] + a[2] and a[1] < b[1] + b[3] and b[1] < a[1] + a[3]


def test_geometry_is_of_these_pictures(case, code, geometry):
    for frame in case.frames:
        data = (CASES / code / frame.file.value).read_bytes()
        assert len(data) < MOST_BYTES
        assert hashlib.sha256(data).hexdigest() == geometry[code][name_of(frame)]["sha256"]


def test_pictures_are_as_large_as_said(case, code, geometry):
    for frame in case.frames:
        with Image.open(CASES / code / frame.file.value) as picture:
            assert list(picture.size) == geometry[code][name_of(frame)]["size"] == [1280, 720]


def test_every_burned_in_strip_is_covered(case, code, geometry):
    for frame in case.frames:
        boxes = [item.box for item in frame.cover]
        strips = geometry[code][name_of(frame)]["strips"]
        assert len(strips) >= 2
        bare = [name for name, strip in strips.items() if not any(inside(strip, box) for box in boxes)]
        assert bare == [], f"{name_of(frame)}: {bare}"


def test_no_cover_box_is_for_nothing(case, code, geometry):
    for frame in case.frames:
        strips = geometry[code][name_of(frame)]["strips"].values()
        assert all(any(inside(strip, item.box) for strip in strips) for item in frame.cover)


def test_strips_hold_ink(case, code, geometry):
    """A rectangle that was said to hold text does: light and dark stand in it, on the kept picture."""
    for frame in case.frames:
        grey = np.asarray(Image.open(CASES / code / frame.file.value).convert("L"), dtype=float)
        for name, (left, top, wide, tall) in geometry[code][name_of(frame)]["strips"].items():
            part = grey[top : top + tall, left : left + wide]
            assert np.percentile(part, 99.5) - np.percentile(part, 5) > 40, f"{name_of(frame)}: {name}"


def test_marks_that_stay_are_kept_and_not_covered(case, code, geometry):
    for frame in case.frames:
        for item in frame.keep:
            assert not any(overlap(item.box, cover.box) for cover in frame.cover)
        drawn = geometry[code][name_of(frame)]["keeps"]
        for name, box in drawn.items():
            kept = any(inside(box, item.box) for item in frame.keep)
            # The CT has one mark at either side: the case keeps the two apart, not what lies between.
            assert kept or (name_of(frame), name) == ("slice.jpg", "side")


def test_arrows_lie_in_the_picture_and_point_at_the_thing(case, code, geometry):
    for frame in case.frames:
        still = geometry[code][name_of(frame)]
        wide, tall = still["size"]
        assert frame.arrows
        for arrow in frame.arrows:
            for x, y in (arrow.start, arrow.end):
                assert 0 <= x < wide
                assert 0 <= y < tall
            assert math.dist(arrow.start, arrow.end) > 60
            gaps = {name: math.dist(arrow.end, at) for name, at in still["marks"].items()}
            assert min(gaps.values()) < NEAR or POINTED[name_of(frame), arrow.label.value], gaps


POINTED = {
    # Large things, where the head of the arrow stops at the edge and not at the middle.
    ("slice.jpg", "wall mass"): True,
    ("part.jpg", "wet pleats"): True,
    ("second-look.jpg", "dusky loop"): True,
    ("second-look.jpg", "cut edge"): True,
    ("drain.jpg", "50 mL"): True,
}


def test_arrows_to_large_things_end_on_them():
    """Colour under the arrow's head, on the kept picture."""
    with Image.open(CASES / "abdomen-colon" / "images" / "second-look.jpg") as picture:
        red, green, blue = picture.convert("RGB").getpixel((420, 560))
        assert red < 110
        assert blue >= green, "a dusky loop is dark and not yellow"
    with Image.open(CASES / "abdomen-colon" / "images" / "slice.jpg") as picture:
        assert picture.convert("L").getpixel((896, 262)) > 110, "the wall mass is brighter than fat"
    with Image.open(CASES / "abdomen-colon" / "images" / "drain.jpg") as picture:
        red, green, _ = picture.convert("RGB").getpixel((500, 570))
        assert red > 2 * green, "blood stands just below the 50 mL mark"
    with Image.open(CASES / "abdomen-colon" / "images" / "second-look.jpg") as picture:
        assert picture.convert("L").getpixel((742, 362)) > 110, "the cut edge is pale"
    # The filter's pleats are a disc of radius 176 about (656, 362) (cases/stills/airway.py).
    assert math.dist((760, 400), (656, 362)) < 176


def test_labels_of_arrows_are_short(case):
    assert all(len(arrow.label.value.split()) <= 5 for frame in case.frames for arrow in frame.arrows)


@pytest.mark.parametrize(
    ("module", "code", "name"),
    [("eye", "eye-drainage", "scan.jpg"), ("airway", "airway-prone", "screen.jpg")],
)
def test_drawing_again_gives_the_same_still(module, code, name, geometry):
    """Same pixels before encoding each time, and the kept file is that picture (JPEG, so within a little)."""
    first, second = (stills(module).PICTURES[name]() for _ in range(2))
    assert first.image.tobytes() == second.image.tobytes()
    with Image.open(CASES / code / "images" / name) as kept:
        apart = np.abs(np.asarray(kept.convert("RGB"), dtype=float) - np.asarray(first.image, dtype=float))
    assert apart.mean() < 4
    assert {key: list(box) for key, box in first.strips.items()} == geometry[code][name]["strips"]
