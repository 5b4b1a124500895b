from __future__ import annotations

from itertools import combinations

from hypothesis import given, settings
from hypothesis import strategies as st

from mmbuilder.figures.labels import Board, Spot, Wish, settle
from tests.figures.samples import safe

_MARKS = st.lists(st.tuples(st.floats(100, 780), st.integers(1, 7)), max_size=14)
_POLES = st.lists(st.floats(100, 780), max_size=4)


@settings(max_examples=300, deadline=None)
@given(_MARKS, _POLES, st.integers(0, 4), st.integers(0, 12))
def test_no_label_meets_another_a_mark_a_pole_a_leader_or_the_limits(
    drawn: list[tuple[float, int]], poles: list[float], rows: int, most: int
) -> None:
    wishes = tuple(
        Wish(place, x, x - 7, x + 7, (safe(" ".join(["pressure"] * words)), safe("(a)")))
        for place, (x, words) in enumerate(drawn)
    )
    spots = settle(wishes, Board(80, 860, rows, tuple(poles), wishes), most)
    assert len(spots) <= most
    for spot in spots:
        assert 80 <= spot.start <= spot.end <= 860
        assert spot.rows[-1] <= rows
        assert not any(spot.start < pole < spot.end for pole in poles)
        if spot.row == 0:
            others = [wish for wish in wishes if wish.key != spot.wish.key]
            assert all(spot.end <= wish.left or wish.right <= spot.start for wish in others)
    for one, two in combinations(spots, 2):
        shared = set(one.rows) & set(two.rows)
        assert not shared or one.end <= two.start or two.end <= one.start
        assert not _pierces(one, two)
        assert not _pierces(two, one)


def _pierces(leader: Spot, text: Spot) -> bool:
    return leader.row > text.row > 0 and text.start < leader.wish.x < text.end


def test_what_matters_most_is_labelled_first() -> None:
    words = (safe("a label that is far too long for two of them"),)
    wishes = tuple(Wish(place, 200.0 + place, 195.0 + place, 205.0 + place, words) for place in range(3))
    spots = settle(wishes, Board(190, 480, 1, (), wishes), 1)
    assert [spot.wish.key for spot in spots] == [0]


def test_long_words_go_on_two_lines_rather_than_be_cut_short() -> None:
    wish = Wish(0, 200.0, 195.0, 205.0, (safe("Loop through the mesenteric gap"),))
    (spot,) = settle((wish,), Board(190, 330, 2, (), (wish,)), 1)
    assert " ".join(line.reveal() for line in spot.lines) == "Loop through the mesenteric gap"
    assert len(spot.lines) == 2


def test_a_label_stands_across_a_seam_only_without_another_place() -> None:
    # Common practice, no source: across the seam it would be read as of the stretch before it.
    near, far = (
        Wish(place, x, x - 6.5, x + 6.5, (safe(f"D{place}"),)) for place, x in ((2, 212.0), (3, 246.0))
    )
    for wishes, right in (((near, far), 300), ((near,), 300)):
        spots = settle(wishes, Board(100, right, 0, (), wishes, seams=(200.0,)), 2)
        assert len(spots) == len(wishes)
        assert all(spot.start > 212 for spot in spots)
    (spot,) = settle((near,), Board(100, 220, 0, (), (near,), seams=(200.0,)), 1)
    assert spot.start < 200
