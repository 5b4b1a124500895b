"""Numbers under marks: each mark has its own or lies in a run, none meets another or a pole."""

from __future__ import annotations

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from mmbuilder.figures.notes import paragraph
from mmbuilder.figures.numbers import Numbered, Tag, tags
from tests.figures.samples import safe

LEFT, RIGHT = 100.0, 800.0


def _made(places: list[float], poles: list[float]) -> tuple[Tag, ...]:
    marks = [Numbered(("event", n), n, x) for n, x in enumerate(sorted(places), 1)]
    return tags(marks, LEFT, RIGHT, poles)


@given(
    st.lists(st.floats(LEFT, RIGHT), min_size=1, max_size=300),
    st.lists(st.floats(LEFT, RIGHT), max_size=4),
)
def test_every_mark_is_in_one_number_and_none_meets_another_or_a_pole(
    places: list[float], poles: list[float]
) -> None:
    made = _made(places, poles)
    assert sorted(one.number for tag in made for one in tag.members) == list(range(1, len(places) + 1))
    assert all(before.right < after.left for before, after in pairwise(made))
    assert all(tag.left >= LEFT and tag.right <= RIGHT + 0.01 for tag in made)
    assert not [tag for tag in made for pole in poles if tag.left < pole < tag.right]


def test_marks_apart_have_a_number_each_under_them_and_a_crowd_its_ends() -> None:
    made = _made([200, 300, 303, 306, 500], [])
    assert [tag.text.reveal() for tag in made] == ["1", "2–4", "5"]
    assert [(tag.left + tag.right) / 2 for tag in made] == [200, 303, 500]


def test_a_cut_shows_only_its_own_part_of_a_run_and_inside_its_place() -> None:
    (whole,) = _made([300, 303, 306], [])
    part = whole.of({("event", 1), ("event", 2)})
    assert part is not None
    assert part.text.reveal() == "1–2"
    assert whole.left <= part.left
    assert part.right <= whole.right
    assert whole.of(()) is None


def test_a_note_that_does_not_fit_gives_way_to_shorter_ones() -> None:
    parts = (safe("one"), safe("word " * 60), safe("two"))
    told = " ".join(line.reveal() for line in paragraph(parts, 200, 1))
    assert told == "one · two · 1 note left out"
    assert paragraph(parts[::2], 200, 1)[0].reveal() == "one · two"
