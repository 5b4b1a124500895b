"""Canaries in every channel of a picture: none reaches what may leave the building."""

import pytest

from mmbuilder.errors import FileRefused
from mmbuilder.scrub.images.containers import gif, jpeg
from mmbuilder.scrub.images.encode import encode
from mmbuilder.scrub.images.scrub import scrub_image
from mmbuilder.scrub.images.sniff import container
from tests.scrub.images.files import CANARY, EVERY, SECRET, TURNABLE, heic

FORMS = (
    SECRET,
    SECRET.lower(),
    CANARY.encode("utf-16-le"),
    CANARY.encode("utf-16-be"),
    SECRET.hex().encode(),
)


def holds_canary(data: bytes) -> bool:
    return any(form in data for form in FORMS)


@pytest.mark.parametrize("kind", EVERY)
def test_the_original_holds_the_canary_and_the_safe_picture_does_not(kind):
    assert holds_canary(EVERY[kind])
    safe = scrub_image(EVERY[kind], ())
    assert not holds_canary(safe.pixels)
    assert CANARY not in repr(safe)
    leaf = container(EVERY[kind])
    assert leaf is not None
    assert not holds_canary(encode(safe, leaf.PILLOW))


@pytest.mark.parametrize("kind", TURNABLE)
def test_also_when_it_is_turned(kind):
    safe = scrub_image(TURNABLE[kind](6), ())
    assert (safe.width, safe.height) == (48, 64)
    assert not holds_canary(safe.pixels)


def test_a_safe_picture_has_no_place_for_anything_but_pixels():
    safe = scrub_image(EVERY["JPEG"], ())
    with pytest.raises(AttributeError):
        safe.info = {"comment": CANARY}  # type: ignore[attr-defined]


def test_a_refusal_says_nothing_of_the_file():
    broken = EVERY["JPEG"][:700]
    with pytest.raises(FileRefused) as refused:
        scrub_image(broken, ())
    assert CANARY not in str(refused.value)
    assert refused.value.__cause__ is None
    assert refused.value.__suppress_context__


def test_pictures_hidden_behind_the_first_are_left_behind():
    data = EVERY["GIF"]
    assert gif.pages(data) == 1
    assert any(SECRET in chunk.payload for chunk in jpeg.chunks(EVERY["JPEG"]))


def test_a_photograph_of_a_telephone_leaves_its_artist_behind():
    original = heic()
    assert b"Quillmarkton" in original
    safe = scrub_image(original, ())
    assert b"Quillmarkton" not in encode(safe, "JPEG")
    assert (safe.width, safe.height) == (64, 48)
