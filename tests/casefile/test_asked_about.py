"""What is asked about: figures without units, the other side, an individual without a condition, an empty measure."""

from __future__ import annotations

import json
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
        ("VAS", "45", 1),  # mm, or a score of 100
        ("left eye pressure", "38", 1),
        ("weight", "82", 1),
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
        ("Arthroskopie des linken Knies", 1),
        ("Arthroskopie links", 1),
        ("Arthroskopie des rechten Knies", 0),
        ("Removal of a swab left behind", 0),
    ],
)
def test_the_other_side_alone_is_asked_about(tmp_path: Path, procedure: str, count: int) -> None:
    change = f"patient: {{side: right}}\nplan: {{procedure: '{procedure}'}}"
    assert codes(tmp_path, change) == ["other-side-named"] * count


WHOLE = {
    "what": "A second bag in every theatre",
    "owner": "theatre lead",
    "due": "June",
    "measure": "lists with a bag",
    "out of": "lists checked",
    "target": "19 of 20",
    "period": "3 months",
    "baseline": "4 of 20",
    "review": "at the next meeting",
    "strength": "stronger",
    "strength reason": "the old place is gone",
}
"""practice.md (c) 6-7, READ: strength with a reason; owner role, due, measure (what, numerator and
denominator, target, how long), baseline, review meeting."""


def of_action(folder: Path, **change: str | None) -> list[str]:
    action = {key: value for key, value in (WHOLE | change).items() if value is not None}
    told = check(minimal_case(folder, changed(f"actions: [{json.dumps(action)}]"))).problems
    return [problem.text for problem in told if problem.code == "action-incomplete"]


def test_an_action_with_all_its_parts_is_left_alone(tmp_path: Path) -> None:
    assert of_action(tmp_path) == []


@pytest.mark.parametrize(
    "part", ["owner", "due", "measure", "period", "baseline", "review", "strength", "strength reason"]
)
def test_each_part_of_an_action_is_asked_for(tmp_path: Path, part: str) -> None:
    assert of_action(tmp_path, **{part: None}) == [f"action 1 has no {part}"]


def test_what_belongs_together_is_asked_for_at_once(tmp_path: Path) -> None:
    parts = ["measure", "period", "strength", "strength reason"]
    found = of_action(tmp_path, **dict.fromkeys([*parts, "out of", "target"]))
    assert found == [f"action 1 has {', '.join(f'no {part}' for part in parts)}"]


@pytest.mark.parametrize(
    ("measure", "told"),
    [
        ("better awareness", ["no period", "not how it is counted"]),
        ("20 lists of 20", ["no period"]),
        ("lists with a bag / lists checked, for 3 months", []),
        ("bags, of 20 each month", []),
        ("Median der Sekunden, drei Monate", []),
    ],
)
def test_a_measure_says_how_it_is_counted_and_for_how_long(
    tmp_path: Path, measure: str, told: list[str]
) -> None:
    found = of_action(tmp_path, measure=measure, period=None, target=None, **{"out of": None})
    assert len(found) == len(told)
    assert all(words in text for words, text in zip(told, found, strict=True))


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


@pytest.mark.parametrize(
    ("dose", "count"),
    [
        ("adrenaline 1", 1),  # mg, mL or an ampoule
        ("0.5 IM", 1),
        ("adrenaline 0.1, then 0.2", 1),
        ("triamcinolone 1:4", 1),  # check-values.md I, READ S140-S142: in 4, or with 4
        ("triamcinolone 1 to 4", 1),
        ("adrenaline 1 in 1,000 0.5 mL IM", 0),  # a strength, READ S143, S144
        ("adrenaline 1 to 3 mL", 0),
        ("lidocaine 2% 4 mL (80 mg)", 0),
        ("2 puffs", 0),
        ("none given", 0),
    ],
)
def test_a_dose_says_its_unit_and_a_dilution_its_parts(tmp_path: Path, dose: str, count: int) -> None:
    change = f"timeline: {{events: {{3: {{kind: drug, dose: '{dose}'}}}}}}"
    assert codes(tmp_path, change) == ["dose-no-unit"] * count


def test_a_volume_says_its_unit_in_every_record(tmp_path: Path) -> None:
    change = "timeline: {events: {1: {volume: 300 mL, also: {volume: '500', source: chart}}}}"
    assert codes(tmp_path, change) == ["dose-no-unit"]


@pytest.mark.parametrize(
    ("name", "value", "found"),
    [
        ("Hb", "910 g/L", "a figure that cannot be"),
        ("Hb", "91 mg", "a unit of another kind"),
        ("Hb", "9.1 g/dL", None),
        ("haemoglobin", "5.6 mmol/L", None),
        ("creatinine", "1.9 mg/dL", None),
        ("creatinine", "1.9 g/dL", "a figure that cannot be"),
        ("sodium", "140 mEq/L", None),
        ("IOP right", "380 mmHg", "a figure that cannot be"),
        ("IOP right", "about 38 mm Hg on drops", None),
        ("pulse", "880", "a figure that cannot be"),
        ("pulse", "88 regular", None),
        ("SpO2", "140 %", "a figure that cannot be"),
        ("right eye acuity", "6/0", "a figure that is no acuity"),
        ("acuity", "0.3", "a figure that may be a decimal or a logMAR"),
        ("acuity", "6/9 pinhole", None),
        ("acuity", "better than before", None),
        ("acuity", "not done", None),
        ("wound", "12 of 15", None),  # nothing is known of it
        ("GCS", "17 of 15", "more points than the scale has"),
        ("Hb", "-9.1 g/dL", "a figure that cannot be"),
        ("pain", "7/10", None),
        ("pain at rest", "12 of 10", "a figure that cannot be"),
        ("pain", "45 mm", None),
        ("pain", "145 mm", "a figure that cannot be"),
        ("pain", "70/100", "a figure that cannot be"),
        ("pain relief", "12", None),
    ],
)
def test_a_measurement_is_one_that_can_be(tmp_path: Path, name: str, value: str, found: str | None) -> None:
    """Bounds are ours, of common practice; factors: practice.md (e) 17; a bare 0.3: check-values.md E2."""
    change = f"outcome: {{visits: [{{when: Day 3, measures: [{{name: {name}, value: '{value}'}}]}}]}}"
    told = check(minimal_case(tmp_path, changed(change))).problems
    assert [(one.code, one.found) for one in told] == ([("figure-cannot-be", found)] if found else [])


def test_weight_and_height_have_units_and_can_be(tmp_path: Path) -> None:
    told = check(minimal_case(tmp_path, changed("patient: {weight: 71, height: 16.5 m}"))).problems
    assert [(one.found, one.example) for one in told] == [
        ("a figure without a unit", "weight: 71 kg"),
        ("a figure that cannot be", "height: 165 cm"),
    ]


@pytest.mark.parametrize(
    ("parts", "texts"),
    [
        ("would move: recognition, by about: 10 to 20 min, changed: probably", []),
        ("by about: 10 min, changed: probably", ["nothing says what would have moved"]),
        ("would move: response, by about: soon, changed: yes", ["this is not a length of time"]),
        ("counterfactual: Seen at once", ["factor 1 does not say how sure its counterfactual is"]),
        ("would move: response", ["factor 1 does not say how sure its counterfactual is"]),
        ("changed: unknown", []),
    ],
)
def test_a_counterfactual_is_told_whole(tmp_path: Path, parts: str, texts: list[str]) -> None:
    """practice.md (c) 1, READ: which of sign, recognition, response, by about how much, how sure."""
    change = f"factors: [{{row: task, what: Two ports alike, evidence: log, {parts}}}]"
    assert [one.text for one in check(minimal_case(tmp_path, changed(change))).problems] == texts


@pytest.mark.parametrize(
    ("factor", "texts"),
    [
        ("what: The blood gas was not taken", ["this reads as a failure to act"]),
        ("what: The wrong syringe was picked up", ["this reads as a human act"]),
        ("what: The count checklist was skipped", ["this reads as a departure from procedure"]),
        ("what: Two ports alike", []),
        ("role: considered and excluded, reason: looked at, what: The blood gas was not taken", []),
        ("cause: condition, contributed: It led to a second call, what: The form was not checked", []),
        (
            "cause: failure to act, duty: the unit's rule, contributed: It led to a second call, what: Gas not taken",
            [],
        ),
    ],
)
def test_a_cause_that_reads_as_an_act_is_asked_for_its_kind(
    tmp_path: Path, factor: str, texts: list[str]
) -> None:
    """READ S57 (check-values.md C2): rules 3, 4 and 5 need the kind of cause, and it is never guessed."""
    change = f"factors: [{{row: task, evidence: log, {factor}}}]"
    told = check(minimal_case(tmp_path, changed(change))).problems
    assert [one.text.partition(",")[0] for one in told] == texts


def test_a_scale_that_is_refused_tells_nothing_of_its_grades(tmp_path: Path) -> None:
    change = "outcome: {grades: [{scale: MERP, grade: C, by: audit lead, when: Day 3}]}"
    assert codes(tmp_path, change) == ["unknown-word"]


def test_clock_hours_of_the_other_eye_stop(tmp_path: Path) -> None:
    given = "[{name: eye, value: left}, {name: seat, value: temporal}, {name: seen at, value: '11'}]"
    told = check(
        minimal_case(
            tmp_path, changed(f"patient: {{side: right}}\ncompute: [{{what: clock hours, from: {given}}}]")
        )
    )
    assert [(one.code, one.stops) for one in told.problems] == [("wrong-side", True)]
