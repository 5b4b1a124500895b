"""Writing along an arc is covered as straight writing is, and what is bent otherwise is no arc."""

from __future__ import annotations

from math import cos, hypot, pi, radians, sin

import numpy as np
import pytest
from PIL import Image, ImageDraw, ImageFont

from mmbuilder import fonts
from mmbuilder.scrub.images.finders import _bent, text
from mmbuilder.scrub.plan import Decision
from tests.scrub.images.extras import need

MIDDLE = 300, 300


def along_an_arc(words: str, height: int, radius: int, start: float) -> tuple[Image.Image, np.ndarray]:
    """Write each letter upright on a circle; return the picture and the ink."""
    picture = Image.new("RGB", (600, 600), (240, 238, 228))
    font, lean = ImageFont.truetype(fonts.path(), height), radians(start)
    for letter in words:
        wide = font.getlength(letter)
        lean += wide / radius / 2
        tile = Image.new("L", (3 * height, 3 * height))
        ImageDraw.Draw(tile).text((1.5 * height, 1.5 * height), letter, fill=255, font=font, anchor="mm")
        tile = tile.rotate(-(lean * 180 / pi + 90), Image.Resampling.BICUBIC)
        at = [round(side - 1.5 * height) for side in (300 + radius * cos(lean), 300 + radius * sin(lean))]
        picture.paste((30, 40, 90), tuple(at), tile)
        lean += wide / radius / 2
    return picture, np.asarray(picture).astype(int).max(2) < 160


def band(wide: float, radius: float, ends: tuple[float, float]) -> np.ndarray:
    """An arc about the middle, from one angle to another."""
    y, x = np.mgrid[:600, :600] - np.array(MIDDLE)[:, None, None]
    lean = np.degrees(np.arctan2(y, x)) % 360
    marked: np.ndarray = (abs(np.hypot(x, y) - radius) < wide / 2) & (lean > ends[0]) & (lean < ends[1])
    return marked


@pytest.mark.parametrize(("height", "radius", "start"), [(26, 190, -150), (20, 120, 160), (34, 230, -130)])
def test_name_along_an_arc_is_covered(height, radius, start):
    need("ocr", "onnxruntime", "cv2")
    picture, ink = along_an_arc("Ostrivander Melkin", height, radius, start)
    mask = np.zeros((picture.height, picture.width), bool)
    for box in text.find(picture):
        if box.decision is Decision.REPLACE:
            mask[box.top : box.bottom, box.left : box.right] = True
    assert mask[ink].mean() > 0.95


@pytest.mark.parametrize("ends", [(200, 340), (20, 110), (100, 330)])
def test_pieces_lie_on_the_arc_one_after_the_other(ends):
    pieces = _bent.pieces(band(20, 150, ends), 300 * 300)
    assert sum(piece.length for piece in pieces) == pytest.approx(150 * radians(ends[1] - ends[0]), rel=0.05)
    for piece in pieces:
        x, y = piece.x - MIDDLE[0], piece.y - MIDDLE[1]
        assert hypot(x, y) == pytest.approx(150, abs=4)
        assert piece.height == pytest.approx(20, abs=3)
        outwards = x * cos(radians(piece.angle)) + y * sin(radians(piece.angle))
        assert outwards == pytest.approx(0, abs=150 * sin(radians(6)))


def test_ring_wave_and_straight_band_have_no_pieces():
    y, x = np.mgrid[:600, :600]
    wave = abs(y - 300 - 80 * np.sin(x / 60)) < 10
    aslant = abs(y - x) < 12
    for marked in (band(20, 150, (-1, 361)), wave, aslant):
        assert not _bent.pieces(marked, 600 * 600)
    level = abs(y[:, :500] - 300) < 12
    assert not _bent.pieces(level, float(level.sum()))
