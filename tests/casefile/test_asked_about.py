"""What is asked about: figures without units, the other side, an individual without a condition, an empty measure."""

from __future__ import annotations

from pathlib import Path

import pytest

from mmbuilder.casefile import check
from tests.casefile.minimal import changed, minimal_case


def codes(folder: Path, change: str) -> list[str]:
    return [problem.code for problem in check(minimal_case(folder, changed(change))).problems]


@pytest.mark.parametrize(
    ("name", "value", "count"),
    [
        ("Hb", "91", 1),  # 91 g/L, or 9.1 g/dL mistyped
        ("creatinine", "1.9", 1),
        ("CRP", "168-170", 1),
        ("CRP", "168 mg/L", 0),
        ("pulse", "88", 0),
        ("white cells", "12.9", 0),
        ("pain", "3", 0),
        ("Hb", "not done", 0),
    ],
)
def test_a_bare_figure_is_asked_about_where_there_are_several_units(
    tmp_path: Path, name: str, value: str, count: int
) -> None:
    measure = f"{{name: {name}, value: '{value}'}}"
    change = f"outcome: {{visits: [{{when: Day 3, measures: [{measure}]}}]}}"
    assert codes(tmp_path, change) == ["measure-no-unit"] * count


@pytest.mark.parametrize(
    ("what", "count"),
    [
        ("The registrar on call", 1),
        ("Second week in post", 1),
        ("Registrar in the second week of the post", 0),
        ("Consultant anaesthetist called to two theatres", 0),
    ],
)
def test_an_individual_has_a_role_and_a_condition(tmp_path: Path, what: str, count: int) -> None:
    """practice.md (c) 5, READ: individual rows name a role and a condition."""
    change = f"""
factors:
  - {{row: individual, what: {what}, evidence: rota}}
  - {{row: team, what: No briefing, evidence: theatre log}}
"""
    assert codes(tmp_path, change) == ["individual-no-condition"] * count


@pytest.mark.parametrize(
    ("procedure", "count"),
    [
        ("Left knee arthroscopy", 1),
        ("Right knee arthroscopy", 0),
        ("Knee arthroscopy", 0),
        ("Right knee arthroscopy, left knee injected", 0),
    ],
)
def test_the_other_side_alone_is_asked_about(tmp_path: Path, procedure: str, count: int) -> None:
    change = f"patient: {{side: right}}\nplan: {{procedure: '{procedure}'}}"
    assert codes(tmp_path, change) == ["other-side-named"] * count


@pytest.mark.parametrize(
    ("measure", "count"),
    [
        ("measure: better awareness", 1),
        ("measure: bags, target: 19 of 20", 0),
        ("measure: lists with a bag, out of: lists checked", 0),
        ("measure: lists with a bag / lists checked", 0),
        ("measure: median seconds to the call", 0),
    ],
)
def test_a_measure_is_counted(tmp_path: Path, measure: str, count: int) -> None:
    """practice.md (c) 7, READ: what, numerator and denominator, target, how long."""
    change = f"""
actions:
  - {{what: A second bag in every theatre, strength: stronger, owner: theatre lead, due: June, {measure}}}
"""
    assert [code for code in codes(tmp_path, change) if code == "action-incomplete"] == [
        "action-incomplete"
    ] * count


def test_a_number_out_of_bounds_is_told_with_the_bounds(tmp_path: Path) -> None:
    change = """
patient: {side: right}
orientation: {seat: temporal, findings: [{what: Wound, hour: 13, view: anatomical}]}
"""
    problem = next(one for one in check(minimal_case(tmp_path, changed(change))).problems if one.stops)
    assert (problem.found, problem.expected) == ("the number 13", "a whole number from 1 to 12")


@pytest.mark.parametrize(
    ("factor", "rules"),
    [
        ("role: root, what: Two ports alike", ["rule 1"]),
        ("role: root, what: Two ports alike, contributed: The other one was used", []),
        ("role: root, what: Poor handover, contributed: The drain was not spoken of", ["rule 2"]),
        ("role: contributory, what: Two ports alike", []),
        ("role: root, what: The drain was left open, cause: failure to act", ["rule 1", "rule 5"]),
    ],
)
def test_a_root_cause_keeps_the_rules_of_causation_though_its_kind_is_not_said(
    tmp_path: Path, factor: str, rules: list[str]
) -> None:
    """READ S57 (check-values.md C2): cause and effect, no bare negatives."""
    change = f"factors: [{{row: task, reason: none can be taken, evidence: log, {factor}}}]"
    problems = check(minimal_case(tmp_path, changed(change))).problems
    told = [problem.text[:6] for problem in problems if problem.code == "causal-statement"]
    assert told == rules
