import io

import pytest
from PIL import Image, ImageSequence

from mmbuilder.errors import FileRefused
from mmbuilder.scrub.images import decode
from mmbuilder.scrub.images.cover import COVER
from mmbuilder.scrub.images.frames import scrub_frames
from mmbuilder.scrub.plan import PixelBox
from tests.scrub.images.files import CANARY, heic, picture
from tests.scrub.images.seeing import one_looks

COLOURS = [(200, 40, 40), (40, 200, 40), (40, 40, 200)]


@pytest.fixture(autouse=True)
def finder(monkeypatch):
    return one_looks(monkeypatch, PixelBox(2, 2, 20, 12, "text"))


def moving(kind: str) -> bytes:
    frames = [Image.new("RGB", (40, 30), colour) for colour in COLOURS]
    options = {"TIFF": {}, "GIF": {"duration": [100, 200, 300], "loop": 0}}
    options["WEBP"] = options["GIF"] | {"lossless": True}
    out = io.BytesIO()
    frames[0].save(out, kind, save_all=True, append_images=frames[1:], **options[kind])
    return out.getvalue()


@pytest.mark.parametrize("kind", ["TIFF", "GIF", "WEBP"])
def test_every_page_and_frame_is_kept_and_covered(kind, finder):
    made = scrub_frames(moving(kind))
    assert len(finder.sizes) == 6  # each page, and again after covering
    frames = [frame.convert("RGB") for frame in ImageSequence.Iterator(Image.open(io.BytesIO(made.data)))]
    assert len(frames) == len(made.findings) == 3
    assert [finding.where for finding in made.findings] == ["picture 1", "picture 2", "picture 3"]
    for frame, colour in zip(frames, COLOURS, strict=True):
        assert max(abs(a - b) for a, b in zip(frame.getpixel((10, 6)), COVER, strict=True)) <= 2
        assert max(abs(a - b) for a, b in zip(frame.getpixel((30, 20)), colour, strict=True)) <= 2


@pytest.mark.parametrize("kind", ["GIF", "WEBP"])
def test_frames_stand_as_long_as_before(kind):
    made = Image.open(io.BytesIO(scrub_frames(moving(kind)).data))
    shown = []
    for place in range(made.n_frames):
        made.seek(place)
        made.load()
        shown.append(made.info["duration"])
    assert shown == [100, 200, 300]


def test_a_crop_is_cut_for_real_on_every_page():
    made = Image.open(io.BytesIO(scrub_frames(moving("TIFF"), (0.25, 0.0, 0.25, 0.5)).data))
    assert [frame.size for frame in ImageSequence.Iterator(made)] == [(20, 15)] * 3


def test_a_heic_photograph_becomes_a_jpeg_without_what_it_carried():
    assert CANARY[1:].encode() in heic() or b"uillmarkton" in heic()
    made = scrub_frames(heic())
    assert made.suffix == ".jpg"
    assert b"uillmarkton" not in made.data
    after = Image.open(io.BytesIO(made.data))
    assert after.format == "JPEG"
    for place in ((50, 8), (8, 40), (50, 40)):  # the quarters of the drawing it was made from
        near = zip(after.getpixel(place), picture().getpixel(place), strict=True)
        assert max(abs(a - b) for a, b in near) < 30


def test_too_many_frames_are_refused(monkeypatch):
    monkeypatch.setattr(decode, "MAX_FRAME_PIXELS", 2000)
    with pytest.raises(FileRefused, match="million pixels together"):
        scrub_frames(moving("GIF"))
    monkeypatch.setattr(decode, "MAX_FRAMES", 2)
    with pytest.raises(FileRefused, match="3 pictures"):
        scrub_frames(moving("TIFF"))


@pytest.mark.parametrize("kind", ["TIFF", "GIF", "WEBP"])
def test_a_file_cut_short_in_a_later_frame_is_refused(kind):
    data = moving(kind)
    with pytest.raises(FileRefused):
        scrub_frames(data[: len(data) - len(data) // 4])
