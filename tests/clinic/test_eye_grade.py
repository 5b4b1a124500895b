"""A grade that its scale does not have is refused, with what the scale has."""

from __future__ import annotations

import pytest

from mmbuilder.clinic import InputFault, work


@pytest.mark.parametrize(
    ("scale", "grade", "has"),
    [
        ("LOCS III nuclear opalescence", "7", "0.1 to 6.9"),
        ("LOCS III cortical", "6.0", "0.1 to 5.9"),
        ("LOCS III posterior subcapsular", "0", "0.1 to 5.9"),
        ("Emery-Little", "VI", "I, II, III, IV, V"),
        ("Efron", "4.1", "0.0 to 4.0"),
        ("Oxford", "6", "0, 1, 2, 3, 4, 5"),
        ("Shaffer", "5", "0, 1, 2, 3, 4"),
        ("van Herick", "2+", "0, 1, 2, 3, 4"),
        ("SUN cells", "1.5+", "0, 0.5+, 1+, 2+, 3+, 4+"),
        ("SUN flare", "0.5+", "0, 1+, 2+, 3+, 4+"),  # half a plus is of cells only
    ],
)
def test_off_the_scale(scale, grade, has):
    with pytest.raises(InputFault, match="not on the scale") as told:
        work("eye grade", {"scale": scale, "grade": grade})
    assert told.value.faults[0].expected == f"one that {scale} has: {has}"


def test_words_are_no_grade_and_are_not_repeated():
    with pytest.raises(InputFault) as told:
        work("eye grade", {"scale": "Efron", "grade": "mild"})
    assert "mild" not in str(told.value)


def test_the_tolerance_of_locs_is_told():
    # Chylack LT and others, Arch Ophthalmol 1993;111:831-836, abstract: 1.0 for posterior subcapsular
    notes = work("eye grade", {"scale": "LOCS III posterior subcapsular", "grade": "2.5"}).notes
    assert "within 1 of each other" in notes[0]
