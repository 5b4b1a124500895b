"""Teeth of forceps are one shape over and over; words are not, whatever letters come again in them."""

from __future__ import annotations

import numpy as np
import pytest
from PIL import Image, ImageDraw, ImageFont

from mmbuilder import fonts
from mmbuilder.scrub.images.finders import text
from mmbuilder.scrub.images.finders._repeated import repeated
from mmbuilder.scrub.plan import Decision
from tests.scrub.images.extras import need


def forceps() -> Image.Image:
    """Jaws with teeth, one of them leaning, in front of blue cloth."""
    picture = Image.new("RGB", (1000, 700), (40, 90, 140))
    jaw = Image.new("RGBA", (620, 80))
    pen = ImageDraw.Draw(jaw)
    pen.rectangle((0, 0, 600, 44), fill=(186, 190, 196))
    for left in range(0, 594, 11):
        pen.polygon([(left, 44), (left + 5, 60), (left + 11, 44)], fill=(206, 210, 214), outline=(80, 80, 80))
    picture.paste(jaw, (180, 120), jaw)
    leaning = jaw.rotate(17, Image.Resampling.BICUBIC, expand=True)
    picture.paste(leaning, (180, 330), leaning)
    return picture


def laid(words: str) -> np.ndarray:
    """Words in a strip as a line is laid."""
    font = ImageFont.truetype(fonts.path(), 26)
    strip = Image.new("RGB", (round(font.getlength(words)) + 8, 32), (230, 230, 225))
    ImageDraw.Draw(strip).text((4, 16), words, fill=(30, 30, 60), font=font, anchor="lm")
    return np.asarray(strip)


def test_teeth_stay_in_sight_and_a_name_on_a_jaw_does_not():
    need("ocr", "onnxruntime", "cv2")
    picture = forceps()
    assert not [box for box in text.find(picture) if box.decision is Decision.REPLACE]
    bare = np.asarray(picture).copy()
    font = ImageFont.truetype(fonts.path(), 26)
    ImageDraw.Draw(picture).text((300, 128), "Ostrivander 4471", fill=(20, 20, 40), font=font)
    ink, mask = (np.asarray(picture) != bare).any(2), np.zeros((700, 1000), bool)
    for box in text.find(picture):
        if box.decision is Decision.REPLACE:
            mask[box.top : box.bottom, box.left : box.right] = True
    assert mask[ink].mean() > 0.95


@pytest.mark.parametrize(
    "words",
    [
        "Anna Hannah Ottoline",
        "OSTRIVANDER 4471",
        "ID 1100 1101 1011",
        "minimum illumination",
        "Lili Lulu Lala",
        "Mississippi",
        "1111 7111",
        "00100000",
        "ШЩШШЩШШ",
    ],
)
def test_words_are_not_one_shape(words):
    assert not repeated(laid(words))


def test_one_shape_is_whatever_it_is():
    assert repeated(laid("VVVVVVVVVVVVVV"))
    assert repeated(laid("><><><><><><"))
    assert not repeated(np.full((32, 200, 3), 120, np.uint8))
    assert not repeated(np.broadcast_to(np.arange(0, 224, 7, np.uint8)[:, None, None], (32, 200, 3)))
