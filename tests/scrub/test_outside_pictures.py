"""A clock that an author keeps in a picture is covered for readers outside, and stays for the department."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image, ImageDraw, ImageFont

from mmbuilder import resources
from mmbuilder.casefile import load
from mmbuilder.casefile.folder import CaseFolder
from mmbuilder.safe.terms import Use
from mmbuilder.scrub import outside_pictures
from mmbuilder.scrub.plan import Decision, Layer, PixelBox
from mmbuilder.scrub.times_of_day import KIND as TIME
from tests.scrub.small_case import CASE, folder

pytest.importorskip("onnxruntime")

LINE = (20, 20, 620, 80)
"""What the author keeps, in pixels."""


def a_case(root: Path, words: str, use: Use) -> tuple[CaseFolder, tuple[int, int]]:
    """A case whose picture shows one kept line, and from where to where its last word stands."""
    kept = CASE.replace("crop: [10, 20, 60, 40]", "keep: [{box: [20, 20, 600, 60], why: pressure}]")
    font = ImageFont.truetype(str(resources.templates() / "fonts" / "Carlito-Regular.ttf"), 34)
    folder(root, kept)
    picture = Image.new("RGB", (640, 200), (10, 14, 20))
    draw = ImageDraw.Draw(picture)
    draw.text((40, 30), words, fill=(230, 230, 230), font=font)
    picture.save(root / "images" / "Oskavarn pump.png")
    start = 40 + draw.textlength(words[: words.rindex(" ") + 1], font=font)
    return load(root, use), (round(start), round(40 + draw.textlength(words, font=font)))


def clocks(case: CaseFolder) -> tuple[PixelBox, ...]:
    left, top, right, bottom = LINE
    keep = PixelBox(left, top, right, bottom, "kept by the author", Layer.AUTHOR, Decision.KEEP)
    (boxes,) = outside_pictures.clocks(case, {1: (keep,)}).values()
    return tuple(box for box in boxes if box != keep)


def test_a_kept_clock_is_covered_for_a_reader_outside_and_the_figure_beside_it_stays(tmp_path: Path) -> None:
    case, (start, end) = a_case(tmp_path / "case", "NIBP 104/58 (73) 09:44", Use.REPORT)
    found = clocks(case)
    assert {(box.kind, box.decision) for box in found} == {(TIME, Decision.REPLACE)}
    assert start - 40 < min(box.left for box in found) <= start
    assert max(box.right for box in found) >= end
    assert outside_pictures.unchecked(case) == (outside_pictures.UNCHECKED,)


def test_in_the_department_it_stays(tmp_path: Path) -> None:
    case, _ = a_case(tmp_path / "case", "NIBP 104/58 (73) 09:44", Use.REVIEW)
    assert clocks(case) == ()
    assert outside_pictures.unchecked(case) == ()


@pytest.mark.parametrize("words", ["I:E 1:2 PEEP 5", "Pressure 24 mmHg", "etCO2 3.4 kPa", "gain 78 dB"])
def test_what_is_no_clock_stays(words: str, tmp_path: Path) -> None:
    case, _ = a_case(tmp_path / "case", words, Use.REPORT)
    assert clocks(case) == ()
