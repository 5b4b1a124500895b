"""Covered pixels are one solid colour after a file was written and read; all others are as they were."""

from __future__ import annotations

from io import BytesIO

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from mmbuilder.scrub.images.cover import COVER
from mmbuilder.scrub.images.encode import encode
from mmbuilder.scrub.images.scrub import scrub_image
from mmbuilder.scrub.plan import Decision, PixelBox

SIDE = st.integers(1, 48)
EDGE = st.integers(-9, 60)
BOX = st.builds(
    lambda left, top, wide, high, keep: PixelBox(
        left, top, left + wide, top + high, decision=Decision.KEEP if keep else Decision.REPLACE
    ),
    EDGE,
    EDGE,
    st.integers(0, 30),
    st.integers(0, 30),
    st.integers(0, 4).map(lambda one: one == 0),
)


@given(
    SIDE, SIDE, st.lists(BOX, max_size=4), st.integers(0, 2**32 - 1), st.sampled_from(["PNG", "BMP", "TIFF"])
)
@settings(max_examples=60, deadline=None, derandomize=True)
def test_covered_pixels_are_solid_and_the_others_unchanged(
    width: int, height: int, boxes: list[PixelBox], seed: int, pillow: str
) -> None:
    pixels = np.random.default_rng(seed).integers(0, 256, (height, width, 3), np.uint8)
    source = BytesIO()
    Image.fromarray(pixels).save(source, "PNG")
    safe = scrub_image(source.getvalue(), boxes)
    with Image.open(BytesIO(encode(safe, pillow))) as picture:
        out = np.asarray(picture.convert("RGB"))
    expected = pixels.copy()
    for box in boxes:
        if box.decision is Decision.REPLACE:
            expected[max(0, box.top) : max(0, box.bottom), max(0, box.left) : max(0, box.right)] = COVER
    assert np.array_equal(out, expected)
