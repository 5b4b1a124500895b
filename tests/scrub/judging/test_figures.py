"""How a figure looks to the judge, and which language a sentence is in."""

from __future__ import annotations

import pytest

from mmbuilder.scrub.judging.figures import form
from mmbuilder.scrub.judging.tongues import tongue


@pytest.mark.parametrize(
    ("text", "told"),
    [("3", "m"), ("03", "0m"), ("31", "d"), ("0", "2"), ("99", "2"), ("2019", "y"), ("1430", "t"), ("4491", "4"),
     ("120", "3"), ("00417729", "08"), ("123456789012", "9"), ("M20", "A99"), ("gm1904477", "aa999")],
)  # fmt: skip
def test_a_figure_is_told_by_its_form(text: str, told: str) -> None:
    assert form(text) == told


@pytest.mark.parametrize(
    ("sentence", "language"),
    [
        ("the wound was closed and the drain was left", "en"),
        ("die wunde wurde mit der naht verschlossen", "de"),
        ("la plaie est fermée avec du fil par le chirurgien", "fr"),
        ("se cierra la herida con una sutura por el cirujano", "es"),
        ("pt ko ot mein shift kiya aur dressing ki gayi", "hi"),
        ("lap chole, 3 ports", "en"),
    ],
)
def test_small_words_tell_the_language(sentence: str, language: str) -> None:
    assert tongue(sentence.split()) == language
