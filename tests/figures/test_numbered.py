"""Numbered lists in columns."""

from __future__ import annotations

import pytest

from mmbuilder.figures.numbered import Entry, fill_area
from mmbuilder.figures.sheet import Box, Words
from tests.figures.samples import safe

LONG = "the tray held two sizes of clip in one tone of packaging and the smaller one was handed up twice that day"


@pytest.mark.parametrize("high", range(200, 330, 7))
def test_a_heading_stands_with_the_whole_of_its_first_entry(high: int) -> None:
    entries = []
    for place in range(4):
        entries.append(Entry(safe(""), (safe(f"Row {place}"),), bold=True, heading=True))
        entries += [Entry(safe(str(n)), (safe(LONG),)) for n in range(2)]
    filled = fill_area(Box(0, 0, 900, high), tuple(entries))
    assert filled is not None
    words = sorted((one for one in filled if isinstance(one, Words)), key=lambda one: (one.x // 230, one.y))
    lowest = {one.x // 230: one.text.reveal() for one in words}
    assert len(lowest) > 1
    assert not [text for text in lowest.values() if text.startswith("Row")]
