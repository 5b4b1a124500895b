"""The second look, the author's word, and what is remembered."""

from __future__ import annotations

import numpy as np
import pytest
from PIL import Image, ImageDraw

from mmbuilder.errors import FileRefused
from mmbuilder.scrub.images import again, regions
from mmbuilder.scrub.images.cover import COVER
from mmbuilder.scrub.plan import Decision, Layer, PixelBox
from tests.scrub.images.extras import need
from tests.scrub.images.synthetic import rooms

FOUND = PixelBox(20, 20, 60, 40, "text in the picture", Layer.MODEL, reason="looks like text")


def picture() -> Image.Image:
    plain = Image.new("RGB", (200, 100), (200, 30, 30))
    plain.paste((255, 255, 255), (20, 20, 60, 40))
    plain.paste((255, 255, 255), (100, 60, 140, 80))
    return plain


def white(image: Image.Image) -> tuple[PixelBox, ...]:
    """Find one white patch at a time, as a finder that sees only the strongest."""
    left = image.convert("L").point(lambda value: 255 * (value > 250))
    box = left.crop((0, 0, 200, 50)).getbbox()
    if box is None and (low := left.crop((0, 50, 200, 100)).getbbox()):
        box = (low[0], low[1] + 50, low[2], low[3] + 50)
    return (PixelBox(*box, "patch", Layer.MODEL),) if box else ()


def test_second_look_finds_what_the_first_did_not():
    boxes = again.propose_boxes(picture(), (), (), look=white)
    assert [(box.left, box.top) for box in boxes] == [(20, 20), (100, 60)]


def test_what_never_stops_is_refused():
    found = iter(range(0, 200, 10))

    def restless(image):
        left = next(found)
        return (PixelBox(left, 0, left + 5, 5, "patch", Layer.MODEL),)

    with pytest.raises(FileRefused, match="cover box"):
        again.propose_boxes(picture(), (), (), look=restless)


def test_last_look_that_finds_nothing_is_enough():
    found = iter([*range(0, 50 * again.ROUNDS, 50), None])

    def calm_at_last(image):
        left = next(found)
        return () if left is None else (PixelBox(left, 0, left + 5, 5, "patch", Layer.MODEL),)

    wide = Image.new("RGB", (600, 100))
    assert len(again.propose_boxes(wide, (), (), look=calm_at_last)) == again.ROUNDS


def test_author_keep_wins_over_a_finder():
    keep = PixelBox(18, 18, 62, 42)
    boxes = again.propose_boxes(picture(), (), (keep,), look=lambda image: (FOUND,))
    assert all(box.decision is Decision.KEEP for box in boxes)
    assert any(box.reason == again.BY_AUTHOR for box in boxes)


def test_keep_over_a_part_leaves_only_the_part():
    keep = PixelBox(20, 20, 30, 40)
    boxes = again.propose_boxes(picture(), (), (keep,), look=lambda image: (FOUND,))
    covered = [box for box in boxes if box.decision is Decision.REPLACE]
    assert [(box.left, box.right) for box in covered] == [(30, 60)]


def test_author_cover_stands_and_is_not_told_twice():
    drawn = PixelBox(10, 10, 80, 50)
    boxes = again.propose_boxes(picture(), (drawn,), (), look=lambda image: (FOUND,))
    assert boxes == (drawn,)


def test_cover_over_half_a_line_does_not_hide_the_rest():
    drawn = PixelBox(0, 0, 45, 100)
    boxes = again.propose_boxes(picture(), (drawn,), (), look=lambda image: (FOUND,))
    assert FOUND in boxes


def test_melted_picture_has_no_edge_of_a_cover():
    look = again.melted(picture(), [FOUND])
    assert look.getpixel((40, 30)) == (200, 30, 30)
    assert look.getpixel((120, 70)) == (255, 255, 255)


def test_what_runs_under_a_cover_goes_on_in_the_melted_picture():
    striped = np.zeros((120, 200, 3), np.uint8)
    striped[:, 40:80] = striped[:, 120:160] = 220
    look = np.asarray(again.melted(Image.fromarray(striped), [PixelBox(0, 30, 200, 90)]))
    assert (np.abs(look[:, 60].astype(int) - 220) < 3).all()
    assert (look[:, 100] < 3).all()


def test_cover_at_the_edge_of_the_picture_or_past_it_is_filled_too():
    plain = Image.new("RGB", (60, 40), (10, 120, 30))
    look = again.melted(plain, [PixelBox(-5, -5, 20, 20), PixelBox(30, 20, 90, 60), PixelBox(80, 0, 90, 9)])
    assert {colour for _, colour in look.getcolors()} == {(10, 120, 30)}
    assert again.melted(plain, [PixelBox(0, 0, 60, 40)]).getpixel((9, 9)) == COVER


def test_finders_look_once_at_the_same_picture(monkeypatch, tmp_path):
    monkeypatch.setenv("MMBUILDER_CACHE", str(tmp_path))
    looks = []

    class Once:
        NAME, LOOKS_FOR, EXTRA, NEEDS = "once", ("faces",), "", ()

        def find(self, image):
            looks.append(image)
            return white(image)

    monkeypatch.setattr(regions, "finders", lambda: (Once(),))
    first = again.propose_boxes(picture(), (), ())
    count = len(looks)
    assert again.propose_boxes(picture(), (), ()) == first
    assert len(looks) == count
    stored = b"".join(path.read_bytes() for path in tmp_path.rglob("*") if path.is_file())
    assert b"patch" in stored


def test_picture_with_nothing_to_cover_is_looked_at_once():
    looks = []
    assert again.propose_boxes(picture(), (), (), look=lambda image: looks.append(image) or ()) == ()
    assert len(looks) == 1


def test_only_what_lies_round_new_covers_is_looked_at_again(monkeypatch, tmp_path):
    monkeypatch.setenv("MMBUILDER_CACHE", str(tmp_path))
    seen = []

    class Parts:
        NAME, LOOKS_FOR, EXTRA, NEEDS = "parts", ("faces",), "", ()

        def find(self, image):
            return (PixelBox(500, 500, 560, 520, "patch", Layer.MODEL),)

        def find_again(self, image, parts):
            seen.append(parts)
            # Beside the first cover another comes to light, and nothing beside that.
            return (PixelBox(570, 500, 600, 520, "patch", Layer.MODEL),)

    monkeypatch.setattr(regions, "finders", lambda: (Parts(),))
    boxes = again.propose_boxes(Image.new("RGB", (2000, 1000)), (), ())
    assert [(box.left, box.right) for box in boxes] == [(500, 560), (570, 600)]
    reach = again.REACH
    assert seen == [
        [(500 - reach, 500 - reach, 560 + reach, 520 + reach)],
        [(570 - reach, 500 - reach, 600 + reach, 520 + reach)],
    ]


def test_areas_that_meet_are_one_and_end_at_the_picture():
    near = [PixelBox(10, 10, 20, 20), PixelBox(100, 10, 120, 20), PixelBox(900, 900, 950, 950)]
    reach = again.REACH
    assert again.surroundings(near, 1000, 1000) == [
        (0, 0, 120 + reach, 20 + reach),
        (900 - reach, 900 - reach, 1000, 1000),
    ]


def test_second_look_finds_a_name_left_beside_a_cover_and_no_texture():
    need("ocr", "onnxruntime", "cv2", "zxingcpp")
    rng = np.random.default_rng(4)
    picture = Image.fromarray(rng.normal(110, 20, (480, 640, 3)).clip(0, 255).astype(np.uint8))
    pen = ImageDraw.Draw(picture)
    pen.text((200, 200), "QUENDLEBY 8714", fill="white", font_size=28)
    left = PixelBox(60, 190, 180, 240)
    found = regions.find_again(again.melted(picture, [left]), again.surroundings([left], 640, 480))
    assert any(box.left < 215 and box.top < 215 < box.bottom for box in found)
    covered = [PixelBox(190, 190, 460, 240)]
    assert regions.find_again(again.melted(picture, covered), again.surroundings(covered, 640, 480)) == ()


@pytest.mark.parametrize("seed", [8])
def test_row_of_instruments_cut_by_a_cover_makes_no_new_lines_for_ever(monkeypatch, seed):
    need("ocr", "onnxruntime", "cv2", "zxingcpp")
    monkeypatch.setenv("MMBUILDER_CACHE", "")
    monkeypatch.setattr(again, "ROUNDS", 3)
    tray = rooms.tray(np.random.default_rng(seed), (4000, 3000))
    finders = [finder for finder in regions.finders() if "faces" not in finder.LOOKS_FOR]
    monkeypatch.setattr(regions, "finders", lambda: finders)
    assert all(box.bottom - box.top < 800 for box in again.propose_boxes(tray, (), ()))


def test_traces_of_a_monitor_cut_by_a_cover_stay_in_sight(monkeypatch):
    need("ocr", "onnxruntime", "cv2")
    monkeypatch.setenv("MMBUILDER_CACHE", "")
    boxes = again.propose_boxes(rooms.draw("rooms-clean-04").image, (), ())
    assert sum((box.right - box.left) * (box.bottom - box.top) for box in boxes) < 0.02 * 1280 * 720
