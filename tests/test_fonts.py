"""Faces: which letters each has, and where text is set in which."""

from __future__ import annotations

import re
import sys
import unicodedata

import pytest
from fontTools.ttLib import TTFont

from mmbuilder import fonts


def cmap(name: str) -> set[int]:
    with TTFont(fonts.path("я" if name == "Carlito" else "\u05d0")) as font:
        return set(font["cmap"].getBestCmap())


# fontTools reads the font's own table (cmap).
def test_what_is_taken_for_certain_is_in_the_font() -> None:
    has = cmap("Carlito")
    certain = [code for code in range(sys.maxunicode) if re.fullmatch(fonts._COMMON.pattern, chr(code))]
    lost = [
        chr(code)
        for code in certain
        if code not in has and unicodedata.category(chr(code)) not in ("Cn", "Cf", "Zs")
    ]
    assert len(certain) > 300
    assert lost == []


@pytest.mark.parametrize(
    ("text", "face"),
    [
        ("Descemet’s membrane, 12 µm", "Carlito-Regular.ttf"),
        ("план изменён", "Carlito-Regular.ttf"),
        ("תוכנית", "DejaVuSans.ttf"),
        ("خطة", "DejaVuSans.ttf"),
    ],
)
def test_a_text_is_set_in_the_face_that_has_its_letters(text: str, face: str) -> None:
    assert fonts.path(text).name == face
    assert fonts.missing(text) == ""


def test_letters_that_no_face_has_are_told() -> None:
    assert fonts.missing("plan योजना") == "योजना"[0] + "".join(
        dict.fromkeys(letter for letter in "योजना"[1:] if letter.isprintable())
    )


def test_a_line_is_measured_in_the_face_it_is_set_in() -> None:
    assert fonts.width("תוכנית", 10) > 0
    assert fonts.width("abc", 20) == pytest.approx(2 * fonts.width("abc", 10))
