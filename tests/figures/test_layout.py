from __future__ import annotations

from itertools import combinations

from hypothesis import given, settings
from hypothesis import strategies as st

from mmbuilder.figures.layout import Label, Placed, place

_LABELS = st.lists(st.tuples(st.floats(100, 780), st.floats(8, 240), st.floats(5, 60)), max_size=14)


@settings(max_examples=300, deadline=None)
@given(_LABELS, st.booleans(), st.integers(1, 6))
def test_no_label_meets_another_a_foreign_leader_or_the_limits(
    drawn: list[tuple[float, float, float]], inline: bool, rows: int
) -> None:
    labels = [Label(i, x, wide, x - reach, x + reach) for i, (x, wide, reach) in enumerate(drawn)]
    placement = place(labels, 80, 860, rows=rows, inline=inline)
    assert len(placement.placed) + len(placement.unplaced) == len(labels)
    for item in placement.placed:
        assert 80 <= item.start <= item.end <= 860
        assert item.row <= rows
        assert inline or item.row > 0
        if item.row == 0:
            assert all(item.end <= m.left or m.right <= item.start for m in labels if m is not item.label)
    for one, two in combinations(placement.placed, 2):
        assert one.row != two.row or one.end <= two.start or two.end <= one.start
        assert not _pierces(one, two)
        assert not _pierces(two, one)


def _pierces(leader: Placed, text: Placed) -> bool:
    return leader.row > text.row > 0 and text.start < leader.label.x < text.end


def test_a_cluster_fans_out_to_both_sides() -> None:
    labels = [Label(i, 400 + 10 * i, 120, 395 + 10 * i, 405 + 10 * i) for i in range(4)]
    placement = place(labels, 0, 800, rows=6, inline=False)
    assert placement.unplaced == ()
    assert placement.rows == 2


def test_what_cannot_be_placed_is_reported() -> None:
    labels = [Label(i, 100, 300, 95, 105) for i in range(3)]
    assert len(place(labels, 0, 450, rows=1, inline=False).unplaced) == 2
