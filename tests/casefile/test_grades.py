"""Grades are the author's; what does not fit them is asked about, with the rule, and nothing is filled in."""

from __future__ import annotations

from pathlib import Path

import pytest

from mmbuilder.casefile import check
from tests.casefile.minimal import changed, minimal_case

SIGNED = "by: audit lead, when: same day"


def told(folder: Path, change: str) -> list[tuple[str, str]]:
    problems = check(minimal_case(folder, changed(change))).problems
    assert not any(problem.stops for problem in problems)
    return [(problem.code, problem.text) for problem in problems]


def graded(*grades: str, more: str = "") -> str:
    entries = ", ".join(f"{{{grade}, {SIGNED}}}" for grade in grades)
    return f"outcome: {{grades: [{entries}]{more}}}"


@pytest.mark.parametrize("written", ["3b", "3 B", "Grade 3b", "III-b"])
def test_the_ward_s_way_to_write_a_grade_is_understood_and_asked_about(tmp_path: Path, written: str) -> None:
    change = graded(f"scale: Clavien-Dindo, grade: {written}")
    (problem,) = check(minimal_case(tmp_path, changed(change))).problems
    assert (problem.code, problem.stops) == ("grade-not-on-scale", True)
    assert problem.expected.startswith("did you mean `IIIb`?")
    assert problem.example == "grade: IIIb"


def test_what_the_scale_leaves_out_is_known_by_the_words_of_the_event_too(tmp_path: Path) -> None:
    """READ S81 (check-values.md D3): wrong-site events are not rated."""
    grade = graded("scale: ClassIntra, grade: III, events: sign")
    change = f"timeline: {{events: {{1: {{what: Incision at the wrong level}}}}}}\n{grade}"
    ((code, text),) = told(tmp_path, change)
    assert code == "grade-not-counted"
    assert "gives not applicable: operations at the wrong site are reported another way" in text


@pytest.mark.parametrize(
    ("when", "count"),
    [("Day 5", 1), ("3 weeks later", 1), ("at the meeting", 1), ("same day", 0), ("Day 0", 0)],
)
def test_classintra_is_rated_on_the_day(tmp_path: Path, when: str, count: int) -> None:
    """READ S81: directly after surgery."""
    change = f"outcome: {{grades: [{{scale: ClassIntra, grade: II, by: surgeon, when: {when}}}]}}"
    assert [code for code, _ in told(tmp_path, change)] == ["grade-not-counted"] * count


def test_treatment_alone_is_the_least_a_classintra_grade_can_be(tmp_path: Path) -> None:
    ((code, text),) = told(tmp_path, graded("scale: ClassIntra, grade: I, treatments: moderate"))
    assert code == "grade-against-treatment"
    assert "gives III at least" in text
    assert told(tmp_path / "high", graded("scale: ClassIntra, grade: IV, treatments: moderate")) == []


def test_a_death_is_the_highest_grade(tmp_path: Path) -> None:
    """Clavien-Dindo V is death, READ S73."""
    grade = "scale: Clavien-Dindo, complication: leak, grade: "
    ((code, text),) = told(tmp_path, graded(grade + "IVa", more=", harm: {died: yes}"))
    assert code == "harm-against-facts"
    assert "the headline says Clavien-Dindo IVa, and the heaviest complication is V" in text
    assert told(tmp_path / "v", graded(grade + "V", more=", harm: {died: yes}")) == []


@pytest.mark.parametrize(("grade", "count"), [("II", 1), ("not applicable", 0)])
def test_what_reached_nobody_has_no_complication(tmp_path: Path, grade: str, count: int) -> None:
    change = graded(f"scale: Clavien-Dindo, grade: {grade}", more=", harm: {reached: no}")
    assert [code for code, _ in told(tmp_path, change)] == ["harm-against-facts"] * count


@pytest.mark.parametrize(
    ("summary", "count"),
    [
        ("Home on Day 9 after a Clavien-Dindo II complication", 1),
        ("Home on Day 9 (Clavien grade IIIa)", 1),
        ("Home on Day 9, Clavien-Dindo IIIb", 0),
        ("Home on Day 9", 0),
    ],
)
def test_the_grade_in_the_headline_is_the_highest(tmp_path: Path, summary: str, count: int) -> None:
    """practice.md (e) 33, READ: headline = highest."""
    grades = graded(
        "scale: Clavien-Dindo, grade: II, complication: ileus",
        "scale: Clavien-Dindo, grade: IIIb, complication: leak",
    )
    found = told(tmp_path, f"{grades[:-1]}, summary: '{summary}'}}")
    assert [code for code, _ in found] == ["headline-grade"] * count
    assert all("the heaviest complication is IIIb" in text for _, text in found)


def test_several_grades_say_which_complication_they_are_of(tmp_path: Path) -> None:
    change = graded(
        "scale: Clavien-Dindo, grade: II", "scale: Clavien-Dindo, grade: IIIb, complication: leak"
    )
    assert [code for code, _ in told(tmp_path, change)] == ["grade-given-twice"]
    one_each = graded("scale: Clavien-Dindo, grade: II", "scale: ClassIntra, grade: I")
    assert told(tmp_path / "each", one_each) == []


@pytest.mark.parametrize(("counted", "count"), [("II, IIIb", 0), ("IIIb", 1), ("II, IIIb, IIIb", 1)])
def test_the_index_counts_each_stated_grade_once(tmp_path: Path, counted: str, count: int) -> None:
    """practice.md (e) 34, READ: two treatments of one complication are not counted twice; d weighs nothing."""
    grades = graded(
        "scale: Clavien-Dindo, grade: IIIbd, complication: leak",
        "scale: Clavien-Dindo, grade: II, complication: ileus",
    )
    asked = (
        f"compute: [{{what: comprehensive complication index, from: [{{name: grades, value: '{counted}'}}]}}]"
    )
    assert [code for code, _ in told(tmp_path, f"{grades}\n{asked}")] == ["index-other-grades"] * count


@pytest.mark.parametrize("scale", ["Clavien-Dindo", "ClassIntra"])
@pytest.mark.parametrize(("died", "count"), [("yes", 0), ("no", 1)])
def test_a_grade_that_is_a_death_is_held_against_the_facts(
    tmp_path: Path, scale: str, died: str, count: int
) -> None:
    """READ S73 and S81 (check-values.md D1, D3): V is death on both scales."""
    grade = f"{{scale: {scale}, grade: V, by: audit lead, when: same day}}"
    change = f"outcome: {{harm: {{died: {died}}}, grades: [{grade}]}}"
    told = [one.text for one in check(minimal_case(tmp_path, changed(change))).problems]
    assert told == [f"{scale} V is a death, and by the facts of the harm nobody died"] * count
