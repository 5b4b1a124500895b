"""Text runs the way its first letter does. Source: Unicode Standard Annex 9, rules P2 and P3."""

from __future__ import annotations

import pytest

from mmbuilder.formats._pptx.shapes import paragraph
from mmbuilder.formats._pptx.style import LIGHT
from mmbuilder.formats._pptx.text import Para


@pytest.mark.parametrize(
    ("text", "way", "side"),
    [
        ("(1) حدث أمر عند T+0:35.", "1", "r"),
        ("הלחץ ירד ל-64 mmHg.", "1", "r"),
        ("Кого звать на помощь?", None, "l"),
        ("The pressure (ضغط) fell.", None, "l"),
        ("64", None, "l"),
    ],
)
def test_a_paragraph_of_the_deck(text: str, way: str | None, side: str) -> None:
    props = paragraph(Para(text, 20), LIGHT)[0]
    assert (props.get("rtl"), props.get("algn")) == (way, side)
