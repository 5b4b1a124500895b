"""Every measure does its own worked examples, names its source, and refuses what is no figure."""

from __future__ import annotations

import pytest

from mmbuilder.clinic import InputFault, catalogue, work
from mmbuilder.clinic.inputs import Measured

LEAVES = list(catalogue().values())
IDS = [leaf.NAME for leaf in LEAVES]


@pytest.mark.parametrize("leaf", LEAVES, ids=IDS)
def test_worked_examples_come_out_as_printed(leaf):
    assert leaf.EXAMPLES
    for example in leaf.EXAMPLES:
        worked = work(leaf.NAME, example.given)
        assert tuple(map(str, worked.answers)) == example.printed
        assert tuple(map(str, worked.disputed)) == example.disputed
        assert example.source


@pytest.mark.parametrize("leaf", LEAVES, ids=IDS)
def test_everything_a_reader_needs_is_there(leaf):
    assert leaf.NAME.lower().strip() == leaf.NAME
    assert leaf.FORMULA
    assert leaf.SOURCE
    assert "not for treatment" in leaf.CAUTION
    assert leaf.work.__doc__


@pytest.mark.parametrize("leaf", LEAVES, ids=IDS)
def test_a_result_carries_its_formula_its_source_and_its_caution(leaf):
    worked = work(leaf.NAME, leaf.EXAMPLES[0].given)
    told = (worked.name, worked.formula, worked.source, worked.caution)
    assert told == (leaf.NAME, leaf.FORMULA, leaf.SOURCE, leaf.CAUTION)


@pytest.mark.parametrize("leaf", LEAVES, ids=IDS)
def test_a_figure_without_its_unit_is_asked_about(leaf):
    given = dict(leaf.EXAMPLES[0].given)
    for name, kind in leaf.INPUTS.items():
        if isinstance(kind, Measured) and not kind.bare:
            with pytest.raises(InputFault) as told:
                work(leaf.NAME, {**given, name: "12"})
            assert any(fault.name == name and "unit" in fault.found for fault in told.value.faults)


@pytest.mark.parametrize("leaf", LEAVES, ids=IDS)
def test_what_is_missing_is_told_all_at_once(leaf):
    needed = {name for name, kind in leaf.INPUTS.items() if kind.required}
    if needed:
        with pytest.raises(InputFault) as told:
            work(leaf.NAME, {})
        assert {fault.name for fault in told.value.faults} == needed


@pytest.mark.parametrize("leaf", LEAVES, ids=IDS)
def test_an_unknown_input_is_refused(leaf):
    with pytest.raises(InputFault, match="does not have"):
        work(leaf.NAME, {**leaf.EXAMPLES[0].given, "smell": "sweet"})
