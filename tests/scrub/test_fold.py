"""Places in folded text against their definition."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from mmbuilder.scrub.fold import fold


@given(st.text(st.characters() | st.sampled_from("e\u0301\u200dßæŁ"), min_size=1, max_size=30), st.data())
def test_a_stretch_ends_where_the_next_letter_begins(text: str, data: st.DataObject) -> None:
    spread = fold(text)
    if not spread.text:
        return
    start = data.draw(st.integers(0, len(spread.text) - 1))
    end = data.draw(st.integers(start + 1, len(spread.text)))
    later = [place for place in spread.starts if place > spread.starts[end - 1]]
    assert spread.place(start, end) == (spread.starts[start], min(later, default=len(text)))
