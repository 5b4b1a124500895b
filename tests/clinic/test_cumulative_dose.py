"""A dose is never guessed: neither its unit, nor which of two records is right."""

from __future__ import annotations

import pytest

from mmbuilder.clinic import InputFault, work


@pytest.mark.parametrize(
    "entry",
    [
        "0.1",
        "0.1 or 1 mg",  # the first figure has no unit
        "3 x 0.1 mg or 1 mg",  # one dose in doubt, or all three?
        "0.1-0.2 mg",
        "0.1 mg/h",
        "2 µg/kg",
        "1 mg or 1 mL",
        "some",
    ],
)
def test_an_entry_that_is_not_one_dose_is_refused_in_words(entry):
    with pytest.raises(InputFault) as told:
        work("cumulative dose", {"entries": [entry]})
    (fault,) = told.value.faults
    assert fault.name == "entries"
    assert fault.expected
    assert fault.example == "entries: 3 x 0.1 mg"
    assert fault.found == "not in its notation"


def test_units_that_do_not_add_up_are_refused():
    with pytest.raises(InputFault, match="more than one kind"):
        work("cumulative dose", {"entries": ["1 mg", "2 mL"]})


def test_a_conflict_is_told_and_no_total_is_chosen():
    worked = work("cumulative dose", {"entries": ["2 x 0.1 mg", "0.1 mg or 1 mg"]})
    assert worked.answers == ()
    assert worked.notes == ("Records conflict; 2 totals are possible and none is chosen.",)
    assert worked.steps == ("2 x 0.1 mg = 0.2 mg", "1 x 0.1 mg or 1 x 1 mg = 0.1 or 1 mg")


def test_a_number_before_both_doses_belongs_to_both():
    low, high = work("cumulative dose", {"entries": ["2 x 1 mg or 2 x 10 mg"]}).disputed
    assert (low.figure(), high.figure()) == ("2 mg", "20 mg")


def test_too_many_conflicts_are_refused():
    with pytest.raises(InputFault, match="at most 6"):
        work("cumulative dose", {"entries": ["1 mg or 2 mg"] * 7})
