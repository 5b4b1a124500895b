"""What was written and what comes out are both shown, and a difference is said."""

from __future__ import annotations

import pytest

from mmbuilder.clinic import InputFault, work


def test_a_written_early_warning_score_that_is_too_low_is_said():
    told = work("early warning score", {"written": "3", "respiration": "2", "saturation": "1", "oxygen": "2"})
    assert told.notes[0].startswith("Written and recomputed differ by 2")
    assert told.notes[1] == (
        "No points told for: systolic, pulse, consciousness, temperature; the sum is of the rest"
    )


def test_an_early_warning_score_without_parts_is_refused():
    with pytest.raises(InputFault, match="without its parts"):
        work("early warning score", {"written": "3"})


@pytest.mark.parametrize(
    ("written", "times"), [("10 mg/mL", "1.25"), ("80 mg/mL", "10"), ("0.8 mg/mL", "10"), ("8 mg/mL", "")]
)
def test_a_written_strength_is_compared_both_ways(written, times):
    given = {"strength": "40 mg/mL", "drawn": "1 mL", "diluent": "4 mL", "written strength": written}
    notes = work("dilution", given).notes
    assert notes == ((f"Written and recomputed strength differ: {times} times.",) if times else ())


def test_more_than_was_made_up_cannot_come_from_one_syringe():
    given = {"strength": "40 mg/mL", "drawn": "0.1 mL", "diluent": "0.9 mL", "given": "1.1 mL"}
    assert "more than one" in work("dilution", given).notes[0]
    ran = {"stages": "60 mL/h for 1 h", "drug": "4 mg", "volume": "50 mL"}
    assert "one syringe" in work("infusion total", ran).notes[0]


@pytest.mark.parametrize(
    "stage", ["6 for 20 min", "6 mL/h", "6 mL for 20 min", "6-8 mL/h for 20 min", "6 mL/h for 20"]
)
def test_a_stage_needs_a_rate_and_a_time_with_their_units(stage):
    with pytest.raises(InputFault) as told:
        work("infusion total", {"stages": [stage]})
    assert told.value.faults[0].example == "stages: 6 mL/h for 20 min"


@pytest.mark.parametrize("days", ["281", "-29", "3.5", "17 days"])
def test_days_to_a_due_date_are_whole_and_of_a_pregnancy(days):
    with pytest.raises(InputFault):
        work("gestation", {"days to due date": days})


def test_days_past_the_due_date_are_said():
    assert work("gestation", {"days to due date": "-3"}).notes == ("Past the due date by 3 d.",)


def test_a_range_of_pressures_gives_every_category_it_spans():
    told = work("pressure response to steroid", {"before": "14-18 mmHg", "on steroid": "22-34 mmHg"})
    assert told.answers[0].figure() == "4 to 20 mmHg"
    assert [answer.words for answer in told.disputed[:2]] == ["low to high", "intermediate to high"]
