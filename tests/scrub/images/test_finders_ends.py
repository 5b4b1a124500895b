"""What goes on past a found line, and what lies between two pieces of one: drawn, so that the ink is known."""

from __future__ import annotations

import numpy as np
import pytest
from PIL import Image, ImageDraw, ImageFont

from mmbuilder import fonts
from mmbuilder.scrub.images.finders import _ends, _rows, text
from mmbuilder.scrub.images.finders._rows import Row
from mmbuilder.scrub.images.finders._turned import Line
from tests.scrub.images.extras import need


@pytest.fixture(autouse=True)
def arrays() -> None:
    need("ocr", "numpy")


def line() -> tuple[Image.Image, tuple[int, int, int, int]]:
    picture = Image.new("RGB", (600, 200), (40, 50, 60))
    pen, font = ImageDraw.Draw(picture), ImageFont.truetype(fonts.path(), 26)
    pen.text((80, 90), "Quendleby 471902", fill="white", font=font)
    left, top, right, bottom = pen.textbbox((80, 90), "Quendleby 471902", font=font)
    return picture, (int(left), int(top), int(right), int(bottom))


def test_line_found_in_part_is_followed_to_both_ends_and_no_further():
    picture, (left, top, right, bottom) = line()
    found = Row(left + 40, top, right - 60, bottom, 0.9)
    whole = _ends.followed(found, np.asarray(picture))
    height = bottom - top
    assert left - height <= whole.left <= left + 2
    assert right - 2 <= whole.right <= right + height


def test_line_that_runs_down_is_followed_as_well():
    picture, (left, top, right, bottom) = line()
    turned = picture.rotate(-90, expand=True)  # clockwise: what was left is at the top
    across = picture.height - bottom, picture.height - top
    whole = _ends.followed(Row(across[0], left + 40, across[1], right - 60, 0.9), np.asarray(turned))
    assert whole.top <= left + 2
    assert whole.bottom >= right - 2


def test_leaning_line_found_in_part_is_followed_along_its_slope():
    picture, (left, top, right, bottom) = line()
    still = Image.new("RGB", (1000, 1000), (40, 50, 60))
    still.paste(picture, (200, 400))
    pixels = np.asarray(still.rotate(-20, resample=Image.Resampling.BICUBIC, fillcolor=(40, 50, 60)))
    ink = pixels.min(2) > 150
    x, y, lean = (left + right) / 2 - 300, (top + bottom) / 2 - 100, np.radians(20)  # from the middle
    middle = 500 + x * np.cos(lean) - y * np.sin(lean), 500 + x * np.sin(lean) + y * np.cos(lean)
    found = Line(*middle, (right - left) / 3, bottom - top, 20.0, 0.9)
    whole = _ends.followed_aslant(found, pixels)
    assert whole.length < right - left + 3 * (bottom - top)
    assert held(found, ink) < 0.6
    assert held(whole, ink) > 0.99


def held(line_: Line, ink: np.ndarray) -> float:
    """Return the share of ink in the stair of rectangles that covers a line."""
    mask = np.zeros(ink.shape, bool)
    for left, top, right, bottom in line_.padded().rectangles():
        mask[max(0, round(top)) : round(bottom), max(0, round(left)) : round(right)] = True
    return float(mask[ink].mean())


def test_line_is_followed_from_one_ground_to_another():
    picture = Image.new("RGB", (600, 200), (20, 20, 20))
    pen, font = ImageDraw.Draw(picture), ImageFont.truetype(fonts.path(), 26)
    pen.rectangle((0, 0, 250, 200), fill=(120, 60, 50))
    pen.text((80, 90), "Quendleby 471902", fill=(190, 190, 60), font=font)
    left, top, right, bottom = map(int, pen.textbbox((80, 90), "Quendleby 471902", font=font))
    whole = _ends.followed(Row(left, top, 240, bottom, 0.9), np.asarray(picture))
    assert whole.right >= right - 2


def test_row_of_stitches_that_leans_is_not_followed():
    picture = Image.new("RGB", (1200, 400), (214, 170, 150))
    pen = ImageDraw.Draw(picture)
    for x in range(20, 1180, 30):
        pen.line((x, 180, x + 4, 220), fill=(30, 30, 60), width=4)
    pixels = np.asarray(picture.rotate(-10, resample=Image.Resampling.BICUBIC, fillcolor=(214, 170, 150)))
    row = Line(600, 200, 200, 50, 10.0, 0.9)
    assert _ends.followed_aslant(row, pixels) == row


def test_nothing_is_followed_into_texture_or_by_a_weak_line():
    rng = np.random.default_rng(1)
    noise = rng.integers(0, 255, (200, 600, 3), np.uint8)
    row = Row(200, 90, 400, 116, 0.9)
    assert _ends.followed(row, noise) == row
    picture, (left, top, right, bottom) = line()
    weak = Row(left + 40, top, right - 60, bottom, 0.5)
    assert _ends.followed(weak, np.asarray(picture)) == weak


def test_gap_of_one_line_is_filled_but_not_across_what_stays_nor_between_columns():
    one, other = Row(10, 10, 100, 30, 0.9), Row(130, 11, 200, 31, 0.9)
    assert [(row.left, row.right) for row in _rows.bridges([one, other], [])] == [(100, 130)]
    assert not _rows.bridges([one, other], [Row(105, 10, 125, 30, 0.9, "side")])
    assert not _rows.bridges([one, Row(180, 11, 250, 31, 0.9)], [])
    assert not _rows.bridges([one, Row(130, 40, 200, 60, 0.9)], [])


def test_piece_stands_on_a_line_before_or_after_it():
    line_ = Row(40, 10, 140, 30, 0.9)
    assert _rows.on_line(Row(150, 10, 160, 30, 0.9), [line_])
    assert _rows.on_line(Row(10, 10, 30, 30, 0.9), [line_])
    assert not _rows.on_line(Row(150, 80, 160, 100, 0.9), [line_])
    assert _rows.on_line(Row(150, 18, 156, 26, 0.9), [line_])  # lower than the line
    assert _rows.on_line(Row(136, 16, 146, 28, 0.9), [line_])  # half in it
    assert not _rows.on_line(Row(200, 18, 206, 26, 0.9), [line_])
    assert not _rows.on_line(Row(150, 4, 190, 44, 0.9), [line_])  # a large side letter


@pytest.mark.parametrize("last", ["l", "re", "os"])
def test_last_letters_of_a_covered_line_are_covered_with_it_though_a_device_says_them_too(last: str):
    name, end = Row(40, 10, 140, 30, 0.9), Row(150, 10, 170, 30, 0.9)
    assert [row.reason for row in text._labelled([(name, ""), (end, last)])] == ["", ""]
    far = Row(150, 80, 170, 100, 0.9)
    assert text._labelled([(name, ""), (far, "re")])[1].reason
