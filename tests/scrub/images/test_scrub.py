import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from mmbuilder.errors import FileRefused
from mmbuilder.safe.image import SafeImage
from mmbuilder.scrub.images import regions
from mmbuilder.scrub.images.cover import COVER
from mmbuilder.scrub.images.encode import encode
from mmbuilder.scrub.images.metadata import kinds
from mmbuilder.scrub.images.scrub import LONGEST, scrub_image
from mmbuilder.scrub.images.sniff import container, containers
from mmbuilder.scrub.plan import Decision, PixelBox
from tests.scrub.images.files import EVERY, picture, saved


def pixels(image: SafeImage) -> np.ndarray:
    return np.frombuffer(image.pixels, np.uint8).reshape(image.height, image.width, 3)


def speckled(width: int = 40, height: int = 30) -> bytes:
    """No pixel has the colour of a cover, and neighbours differ."""
    noise = np.random.default_rng(7).integers(100, 255, (height, width, 3), dtype=np.uint8)
    return saved(Image.fromarray(noise), "PNG")


def test_covered_pixels_are_solid_and_the_rest_is_untouched():
    before = pixels(scrub_image(speckled(), ()))
    after = pixels(scrub_image(speckled(), [PixelBox(5, 6, 20, 16)]))
    inside = np.zeros(before.shape[:2], bool)
    inside[6:16, 5:20] = True
    assert (after[inside] == COVER).all()
    assert (after[~inside] == before[~inside]).all()
    assert not (before == COVER).all(axis=2).any()


@given(st.tuples(*[st.integers(-60, 90)] * 4))
@settings(max_examples=60, deadline=None)
def test_boxes_are_clamped_to_the_picture(box):
    left, top, right, bottom = box
    after = pixels(scrub_image(speckled(), [PixelBox(left, top, right, bottom)]))
    solid = (after == COVER).all(axis=2)
    wide, high = np.ogrid[:30, :40]
    assert (solid == ((wide >= top) & (wide < bottom) & (high >= left) & (high < right))).all()


def test_a_box_to_be_kept_is_left_and_covering_wins_over_it():
    kept = PixelBox(0, 0, 20, 20, decision=Decision.KEEP)
    assert scrub_image(speckled(), [kept]) == scrub_image(speckled(), ())
    both = pixels(scrub_image(speckled(), [PixelBox(5, 5, 9, 9), kept]))
    assert (both[5:9, 5:9] == COVER).all()


def test_boxes_are_in_upright_pixels():
    exif = Image.Exif()
    exif[0x0112] = 6
    data = saved(Image.new("RGB", (40, 20), "white"), "PNG", exif=exif)
    after = pixels(scrub_image(data, [PixelBox(0, 30, 20, 40)]))
    assert after.shape[:2] == (40, 20)
    assert (after[30:] == COVER).all()
    assert (after[:30] == 255).all()


def test_a_crop_is_real():
    whole = pixels(scrub_image(speckled(), ()))
    cut = scrub_image(speckled(), [PixelBox(0, 0, 12, 12)], (10.4, 8, 20.2, 15))
    # A pixel that lies partly outside goes: 10.4 to 30.6 leaves columns 11 to 29.
    assert (cut.width, cut.height, len(cut.pixels)) == (19, 15, 19 * 15 * 3)
    assert (pixels(cut)[4:, 1:] == whole[12:23, 12:30]).all()
    assert (pixels(cut)[:4, :1] == COVER).all()


@pytest.mark.parametrize("crop", [(100, 0, 5, 5), (0, 0, 0, 5), (-9, 0, 5, 5), (3.2, 3, 0.5, 9)])
def test_a_crop_that_leaves_nothing_is_refused_with_the_size(crop):
    with pytest.raises(FileRefused, match="40 x 30 pixels"):
        scrub_image(speckled(), (), crop)


def test_large_pictures_are_bounded_after_covering():
    image = Image.new("RGB", (LONGEST + 1280, 600), "white")
    image.paste((255, 0, 255), (300, 150, 900, 450))
    small = scrub_image(saved(image, "PNG"), [PixelBox(300, 150, 900, 450)])
    assert (small.width, small.height) == (LONGEST, 400)
    seen = pixels(small).astype(int)
    # Magenta would show as red well over green: nothing of what was covered took part.
    assert np.abs(seen[..., 0] - seen[..., 1]).max() <= 1
    assert scrub_image(saved(image, "PNG"), (), longest=None).width == LONGEST + 1280


def test_the_same_file_gives_the_same_picture_from_path_or_bytes(tmp_path):
    path = tmp_path / "x.png"
    path.write_bytes(speckled())
    assert scrub_image(path, ()) == scrub_image(speckled(), ())


WRITTEN = [leaf for leaf in containers() if not hasattr(leaf, "WRITES")]


@pytest.mark.parametrize("leaf", WRITTEN, ids=lambda leaf: leaf.NAME)
def test_a_picture_written_out_carries_nothing_and_is_the_same_each_time(leaf):
    safe = scrub_image(EVERY[leaf.NAME], ())
    data = encode(safe, leaf.PILLOW)
    assert data == encode(safe, leaf.PILLOW)
    assert kinds(data) == ()
    assert container(data) is leaf
    if leaf.NAME not in ("JPEG", "GIF"):
        assert scrub_image(data, ()) == safe


def test_what_no_finder_looks_for_is_said(monkeypatch):
    monkeypatch.setattr(regions, "_lacks", bool)  # as where no optional part is installed
    assert regions.find_regions(picture()) == ()
    assert regions.unchecked() == tuple(f"{risk}: not looked for" for risk in regions.PIXEL_RISKS)


def test_a_finder_that_looks_for_faces_takes_them_off_the_list(monkeypatch):
    class Faces:
        NAME = "faces"
        LOOKS_FOR = ("faces",)

        def find(self, image):
            return (PixelBox(3, 0, 4, 4, "face"), PixelBox(1, 0, 2, 2, "face"))

    monkeypatch.setattr(regions, "finders", lambda: (Faces(),))
    assert [box.left for box in regions.find_regions(picture())] == [1, 3]
    assert not any("faces" in words for words in regions.unchecked())
