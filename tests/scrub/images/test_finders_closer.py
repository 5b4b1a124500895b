"""The closer look: what repeats or is seen once is texture, and a name is covered wherever it stands."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from PIL import Image, ImageDraw, ImageFont

from mmbuilder import fonts
from mmbuilder.scrub.images.finders import _closer, _detect, _read, _solid, _spoken, faces, text
from mmbuilder.scrub.images.finders._turned import Line
from mmbuilder.scrub.plan import Decision
from tests.scrub.images.extras import need
from tests.scrub.images.synthetic import rooms


@pytest.fixture
def ocr() -> None:
    need("ocr", "onnxruntime", "cv2")


def covered(picture: Image.Image) -> np.ndarray:
    mask = np.zeros((picture.height, picture.width), bool)
    for box in text.find(picture):
        if box.decision is Decision.REPLACE:
            mask[box.top : box.bottom, box.left : box.right] = True
    return mask


def named(picture: Image.Image, words: str, at: tuple[int, int], height: int) -> np.ndarray:
    """Write words on a picture; return their ink."""
    before = np.asarray(picture).copy()
    ImageDraw.Draw(picture).text(at, words, fill="white", font=ImageFont.truetype(fonts.path(), height))
    return np.asarray(picture).astype(int).max(2) - before.max(2) > 40


@pytest.mark.usefixtures("ocr")
def test_row_of_stitches_stays_in_sight_and_a_name_on_it_does_not():
    skin = rooms.draw("rooms-clean-20").image
    assert covered(skin).mean() < 0.01
    ink = named(skin, "OSTRIVANDER 4471", (420, 430), 80)
    assert covered(skin)[ink].mean() > 0.95


@pytest.mark.usefixtures("ocr")
def test_row_of_instruments_stays_in_sight_and_a_large_number_does_not():
    picture = Image.new("RGB", (1280, 720), (30, 80, 140))
    pen = ImageDraw.Draw(picture)
    for left in range(120, 1150, 90):
        pen.line((left, 160, left + 10, 300), fill=(210, 214, 220), width=8)
    assert covered(picture).mean() < 0.01
    ink = named(picture, "900", (300, 450), 56)
    assert covered(picture)[ink].mean() > 0.95


@pytest.mark.usefixtures("ocr")
@pytest.mark.parametrize("height", [70, 110, 160])
@pytest.mark.parametrize("mirrored", [False, True])
def test_name_written_over_a_fifth_of_the_picture_is_covered(height, mirrored):
    picture = Image.new("RGB", (1280, 720), (30, 80, 140))
    ink = named(picture, "Tharsko 8714", (100, 300), height)
    if mirrored:
        picture, ink = picture.transpose(Image.Transpose.FLIP_LEFT_RIGHT), ink[:, ::-1]
    assert covered(picture)[ink].mean() > 0.95


@pytest.mark.parametrize(("weakest", "written"), [(0.5, True), (0.2, False)])
def test_huge_name_is_written_though_a_letter_of_it_is_spoilt_and_a_tall_line_at_a_later_look_is_not(
    weakest, written, monkeypatch
):
    need("ocr", "onnxruntime", "cv2")
    said = np.zeros((1, 16, len(_read._characters())), np.float32)
    for step, mark in enumerate("Holzapfe"):
        said[0, 2 * step, _read._characters().index(mark)] = weakest if mark in "Hz" else 0.98
        said[0, 2 * step + 1, 0] = 0.98
    monkeypatch.setattr(_read, "run", lambda *_: [said])
    pixels = np.zeros((768, 1024, 3), np.uint8)
    huge, tall = (Line(500, 400, 490, height, 0, 0.97) for height in (150, 60))
    assert _closer._may_be_written(huge, pixels, covered=False) == written
    assert not _closer._may_be_written(tall, pixels, covered=True)


def line_round(ink: np.ndarray, turned: bool = False) -> Line:
    """The line that just holds some ink, with a margin as the network leaves."""
    rows, columns = np.nonzero(ink)
    wide, high = np.ptp(columns) + 8.0, np.ptp(rows) + 8.0
    x, y = columns.mean(), rows.mean()
    return Line(x, y, high, wide, -90.0, 0.9) if turned else Line(x, y, wide, high, 0.0, 0.9)


# Common practice, no source: spots, keys and scales of colour are in many pictures.


@pytest.mark.usefixtures("ocr")
@pytest.mark.parametrize("turned", [False, True])
def test_spots_and_a_bar_of_colours_are_filled_shapes(turned):
    picture = Image.new("RGB", (400, 500), (238, 214, 226))
    pen = ImageDraw.Draw(picture)
    pen.ellipse((60, 60, 76, 84), fill=(80, 50, 140))
    assert _solid.no_writing(Line(68, 72, 32, 24, -90, 0.9), np.asarray(picture))
    pen.ellipse((90, 64, 106, 84), fill=(80, 50, 140))
    assert _solid.no_writing(Line(82, 73, 54, 30, 0, 0.9), np.asarray(picture))
    for number, colour in enumerate(("navy", "blue", "cyan", "lime", "yellow", "orange", "red", "maroon")):
        pen.rectangle((200, 40 + 50 * number, 236, 89 + 50 * number), fill=colour)
    bar = Line(218, 240, 412, 46, -90, 0.9)
    pixels = np.asarray(picture)
    if turned:
        pixels, bar = pixels.transpose(1, 0, 2), Line(240, 218, 412, 46, 0, 0.9)
    assert _solid.no_writing(bar, np.ascontiguousarray(pixels))


@pytest.mark.usefixtures("ocr")
@pytest.mark.parametrize("words", ["Ysolka", "7301", "AB", "P. O.", "Ilill 1"])
@pytest.mark.parametrize("height", [11, 16, 40])
@pytest.mark.parametrize("plate", [None, (20, 20, 20)])
def test_words_are_no_filled_shapes_nor_on_a_plate(words, height, plate):
    picture = Image.new("RGB", (400, 200), (60, 110, 150))
    face = ImageFont.truetype(fonts.path(), height)
    left, top, right, bottom = face.getbbox(words)
    if plate:
        place = (60 + left - 5, 60 + top - 5, 60 + right + 5, 60 + bottom + 5)
        ImageDraw.Draw(picture).rectangle(place, fill=plate)
    ink = named(picture, words, (60, 60), height)
    assert not _solid.no_writing(line_round(ink), np.asarray(picture))


@pytest.mark.usefixtures("ocr")
@pytest.mark.parametrize(("plate", "ink"), [((8, 10, 200), (60, 62, 216)), ((250, 240, 90), (214, 250, 96))])
def test_words_on_a_plate_of_nearly_their_own_colour_are_no_filled_shape(plate, ink):
    picture = Image.new("RGB", (500, 200), (120, 120, 120))
    pen = ImageDraw.Draw(picture)
    pen.rectangle((100, 60, 400, 110), fill=plate)
    round_it = Line(250, 85, 316, 56, 0, 0.9)
    assert _solid.no_writing(round_it, np.asarray(picture))
    pen.text((108, 66), "Dr P. Ostrivander", fill=ink, font=ImageFont.truetype(fonts.path(), 32))
    assert not _solid.no_writing(round_it, np.asarray(picture))


@pytest.mark.usefixtures("ocr")
@pytest.mark.parametrize("turned", [False, True])
@pytest.mark.parametrize("above", [False, True])
def test_ruler_is_no_writing_and_words_that_hang_on_a_line_are(turned, above):
    picture = Image.new("RGB", (400, 120), (90, 40, 30))
    pen = ImageDraw.Draw(picture)
    pen.line((30, 60, 350, 60), fill="white", width=2)
    for number in range(13):
        long = 16 if number % 5 == 0 else 9
        left = 30 + 26 * number
        pen.line((left, 60, left, 60 - long if above else 60 + long), fill="white", width=2)
    assert _solid.no_writing(*_held(picture, turned))
    pen.text((120, 62 if above else 38), "7", fill="white", font=ImageFont.truetype(fonts.path(), 18))
    assert not _solid.no_writing(*_held(picture, turned))
    for words in ("Ysolka Zorn", "ШЩШШЩШШ", "1111 7111", "EEEEEEEE"):
        underlined = Image.new("RGB", (400, 120), (90, 40, 30))
        pen = ImageDraw.Draw(underlined)
        pen.line((30, 62, 350, 62), fill="white", width=2)
        pen.text((32, 60), words, fill="white", anchor="ls", font=ImageFont.truetype(fonts.path(), 30))
        assert not _solid.no_writing(*_held(underlined, turned))


@pytest.mark.parametrize("turned", [False, True])
def test_a_part_of_a_ruler_is_no_writing_by_what_goes_on_beside_it(turned: bool) -> None:
    picture = Image.new("RGB", (400, 120), (90, 40, 30))
    pen = ImageDraw.Draw(picture)
    pen.line((30, 60, 350, 60), fill="white", width=2)
    for number in range(13):
        pen.line((30 + 26 * number, 60, 30 + 26 * number, 50), fill="white", width=2)
    whole, pixels = _held(picture, turned)
    part = replace(whole, length=90.0, height=30.0)  # three or four marks: too few to tell by themselves
    assert _solid.no_writing(part, pixels)
    pen.text((240, 48), "Zorn", fill="white", anchor="ls", font=ImageFont.truetype(fonts.path(), 24))
    assert not _solid.no_writing(part, _held(picture, turned)[1])


def _held(picture: Image.Image, turned: bool) -> tuple[Line, np.ndarray]:
    """The line in the middle of a picture, and its pixels, with the columns as rows if turned."""
    pixels = np.asarray(picture)
    if turned:
        return Line(60, 190, 336, 64, 90, 0.9), np.ascontiguousarray(pixels.transpose(1, 0, 2))
    return Line(190, 60, 336, 64, 0, 0.9), pixels


@pytest.mark.usefixtures("ocr")
def test_tall_line_of_a_high_score_stays_only_if_it_is_seen_again(monkeypatch):
    tall, low = Line(320, 240, 300, 40, 0, 0.95), Line(320, 240, 300, 16, 0, 0.95)
    pixels = np.random.default_rng(3).integers(0, 255, (480, 640, 3), np.uint8)
    monkeypatch.setattr(_spoken, "four_ways", lambda *args, **how: iter(["amaeb8mas"]))
    for seen_again, stays in ((0.0, [low]), (0.5, [tall, low])):
        monkeypatch.setattr(_closer, "_again", lambda *args, again=seen_again: again)
        assert [line for line in (tall, low) if _closer.without_texture([line], pixels)] == stays


@pytest.mark.parametrize(
    ("ways", "row"),
    [
        (["t" * 28, "h77h7hh77", "hijtiiihtf)", "f" * 25 + "af"], True),
        (["t" * 28, "hijtiiihtf)", "", ""], False),
        (["t" * 10 + "OSTRI" + "t" * 10, "f" * 9 + "hdsog" + "f" * 9, "OSTRIV", ""], False),
        (["tttt", "i77", "i", "ffif"], True),
        (["prs", "sded", "sdeu", "tie"], False),
    ],
)
def test_row_of_one_shape_whichever_way_it_is_held(ways, row, monkeypatch):
    monkeypatch.setattr(_spoken, "four_ways", lambda *args, **how: iter(ways))
    line = Line(320, 240, 500, 40, 0, 0.95)
    assert _closer._shapes_alone(line, np.zeros((480, 640, 3), np.uint8)) is row


@pytest.mark.parametrize("marks", ["TtttTttttt", "FFFFFrIFFFFF", "f/tftItttttt", "MMMMMMNMMMM"])
def test_one_shape_all_along(marks):
    folded = _closer._marks(marks)
    assert _closer._one_shape(folded)
    assert not _closer._has_word(folded)


@pytest.mark.parametrize(
    "marks", ["File 644644", "Larkenthwaite", "TTTTTTOSTRIVANDERTTTTTTTTT", "FFFFFF 4471"]
)
def test_word_or_number_all_along_or_among_others(marks):
    assert _closer._has_word(_closer._marks(marks))


@pytest.mark.usefixtures("ocr")
def test_line_across_the_seam_of_two_pieces_is_one_line(monkeypatch):
    monkeypatch.setattr(_detect, "PIECE", 640 * 240)
    picture = Image.new("RGB", (640, 480), (30, 60, 70))
    ink = named(picture, "OSTRIVANDER Ottilie 4471", (60, 224), 32)  # pieces meet in the row 256
    ink |= named(picture, "Larkenthwaite", (200, 60), 32)
    assert covered(picture)[ink].mean() > 0.99


def faint(far: list[faces.Found]):
    """Stand in for the first network: a large face at full size, and what is given at half."""

    def first(image, scale, least=faces.SURE_FIRST):
        seen = [(100.0, 80.0, 300.0, 320.0, 0.66)] if scale == 1.0 else far
        yield from (face for face in seen if face[4] >= least / 100)

    return first


def test_large_face_of_low_score_has_to_be_one_from_further_away_too(monkeypatch):
    picture = Image.new("RGB", (640, 480))
    large = (100.0, 80.0, 300.0, 320.0, 0.66)
    for far, sure in (
        ([], False),
        ([(400.0, 300.0, 150.0, 150.0, 0.9)], False),
        ([(96.0, 84.0, 310.0, 300.0, 0.66)], False),
        ([(96.0, 84.0, 310.0, 300.0, 0.86)], True),
    ):
        monkeypatch.setattr(faces, "_first", faint(far))
        assert faces._sure(large, picture, 1.0) is sure
    monkeypatch.setattr(faces, "_first", faint([]))
    assert faces._sure((*large[:4], 0.85), picture, 1.0)
    assert faces._sure((100.0, 80.0, 40.0, 50.0, 0.62), picture, 1.0)
