"""A sign is never guessed, and transposing twice gives the refraction back."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mmbuilder.clinic import InputFault, work

QUARTERS = st.integers(-40, 40).map(lambda quarters: quarters / 4)


@pytest.mark.parametrize("sphere", ["0.75", "1.25 D", "−75", "-", "minus one", ""])
def test_a_power_without_its_sign_is_asked_about(sphere):
    with pytest.raises(InputFault) as told:
        work("refraction", {"sphere": sphere, "cylinder": "−1.50"})
    assert [fault.name for fault in told.value.faults] == ["sphere"]
    assert "sign" in told.value.faults[0].expected


@given(QUARTERS, QUARTERS.filter(bool), st.integers(1, 180))
@settings(deadline=None, max_examples=50)
def test_the_other_sign_of_cylinder_has_the_same_equivalent_and_turns_back(sphere, cylinder, axis):
    first = {"sphere": f"{sphere:+.2f}", "cylinder": f"{cylinder:+.2f}", "axis": str(axis)}
    equivalent, other = work("refraction", first).answers
    powers, turned = other.words.split(" × ")
    its_sphere, its_cylinder = powers.split(" / ")
    again = {"sphere": its_sphere, "cylinder": its_cylinder, "axis": turned}
    same, back = work("refraction", again).answers
    assert same.words == equivalent.words
    assert back.words.replace("−", "-") == f"{_told(sphere)} / {_told(cylinder)} × {axis}"


def _told(value: float) -> str:
    return f"{value:+.2f}" if value else "0.00"
