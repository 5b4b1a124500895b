"""The version is named, asks for what it needs, and says what it did not use."""

from __future__ import annotations

import pytest

from mmbuilder.clinic import InputFault, work

BLOODS = {"bilirubin": "3.51 mg/dL", "inr": "1.6", "creatinine": "1.50 mg/dL"}


def _score(**given: str) -> str:
    return work("meld", {**BLOODS, **given}).answers[0].figure()


def test_without_a_version_nothing_is_worked_out():
    with pytest.raises(InputFault) as told:
        work("meld", BLOODS)
    assert [fault.name for fault in told.value.faults] == ["version"]


def test_a_version_asks_for_all_it_needs_at_once():
    with pytest.raises(InputFault) as told:
        work("meld", {**BLOODS, "version": "3.0"})
    assert [fault.name for fault in told.value.faults] == ["sodium", "albumin", "sex"]


def test_dialysis_sets_creatinine_to_where_it_stops():
    # 4.75 + 5.26 + 9.57 ln 4 + 6.43 = 29.71; OPTN policy 9.1.D of 2016
    assert _score(version="original 2001", dialysis="twice or more in the last week") == "30"
    assert _score(version="original 2001", dialysis="twice or more in the last week") == _score(
        version="original 2001", creatinine="4 mg/dL"
    )


def test_a_score_ends_at_40_and_says_so():
    worked = work("meld", {**BLOODS, "version": "original 2001", "bilirubin": "40 mg/dL", "inr": "6"})
    assert worked.answers[0].figure() == "40"
    assert "the score ends at 40" in worked.notes[0]


def test_what_a_version_does_not_use_is_said():
    worked = work("meld", {**BLOODS, "version": "original 2001", "sodium": "130 mmol/L"})
    assert worked.notes == ("Not used in version: original 2001; sodium",)
