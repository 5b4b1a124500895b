"""A picture beside its drawing, and covers of a finished picture: what is explained, and what never is."""

from __future__ import annotations

import numpy as np
import pytest
from PIL import Image, ImageDraw, ImageFont

from mmbuilder import fonts
from mmbuilder.scrub.images import drawings, flat
from mmbuilder.scrub.images.cover import COVER
from tests.scrub.images.extras import need

SHOWN = (
    b'<svg xmlns="http://www.w3.org/2000/svg" width="300pt" height="120pt" viewBox="0 0 300 120">'
    b'<path d="M 0 0 L 300 0 L 300 120 L 0 120 z" style="fill: #ffffff"/>'
    b'<text x="20" y="60" style="font: 14px \'Calibri\'">Knife to skin</text></svg>'
)
OTHER = SHOWN.replace(b"Knife to skin", b"Wheels in")


@pytest.fixture(autouse=True)
def arrays() -> None:
    need("ocr", "cv2")


def picture(drawing: bytes = SHOWN) -> Image.Image:
    made = drawings._drawn(drawing, 900)
    assert made is not None
    return made.convert("RGB")


def written(image: Image.Image, words: str, place: tuple[int, int]) -> Image.Image:
    ImageDraw.Draw(image).text(place, words, "black", ImageFont.truetype(str(fonts.path()), 30))
    return image


def test_a_picture_of_its_drawing_is_alike_everywhere() -> None:
    like = drawings.alike(picture(), SHOWN)
    assert like is not None
    assert like.all()


def test_what_is_written_over_the_picture_alone_is_a_difference_there() -> None:
    like = drawings.alike(written(picture(), "Ito", (600, 200)), SHOWN)
    assert like is not None
    assert not like[205:230, 602:640].all()
    assert like[:100].all()


def test_other_words_at_the_same_place_are_a_difference() -> None:
    like = drawings.alike(picture(OTHER), SHOWN)
    assert like is not None
    assert not like[140:180, 60:200].all()


def test_a_picture_of_other_sides_is_of_another_drawing() -> None:
    assert drawings.alike(picture().resize((900, 500)), SHOWN) is None


@pytest.mark.parametrize(
    "within",
    [
        b'<image href="data:image/png;base64,AAAA"/>',
        b'<use href="other.svg#a"/>',
        b"<script>1</script>",
        b"<foreignObject/>",
    ],
)
def test_a_drawing_that_shows_more_than_lines_and_text_explains_nothing(within: bytes) -> None:
    assert drawings.is_drawing(SHOWN)
    assert not drawings.is_drawing(SHOWN.replace(b"</svg>", within + b"</svg>"))


def test_a_cover_takes_the_colour_round_it() -> None:
    image = Image.new("RGB", (400, 300), (200, 180, 160))
    image.paste(COVER, (100, 100, 300, 140))
    assert np.ptp(np.asarray(flat.without_covers(image)), axis=(0, 1)).max() == 0


def test_a_cover_on_which_something_was_written_is_left_as_it_is() -> None:
    image = Image.new("RGB", (400, 300), (200, 180, 160))
    image.paste(COVER, (100, 100, 300, 160))
    ImageDraw.Draw(image).text((120, 112), "Ito", "white", ImageFont.truetype(str(fonts.path()), 30))
    assert np.array_equal(np.asarray(flat.without_covers(image)), np.asarray(image))
