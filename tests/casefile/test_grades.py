"""Grades are the author's; what does not fit them is asked about, with the rule, and nothing is filled in."""

from __future__ import annotations

from pathlib import Path

import pytest

from mmbuilder.casefile import check
from tests.casefile.minimal import changed, minimal_case

SIGNED = "by: audit lead, when: same day"
STOMACH_TUBE = "treatments: stomach tube"
OPERATION = "treatments: operation under general anaesthesia"


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


def test_a_suffix_that_a_grade_cannot_have_is_taken_off(tmp_path: Path) -> None:
    (problem,) = check(
        minimal_case(tmp_path, changed(graded("scale: Clavien-Dindo, grade: Vd, treatments: death")))
    ).problems
    assert (problem.code, problem.example) == ("grade-not-on-scale", "grade: V")


def test_what_the_scale_leaves_out_is_known_by_the_words_of_the_event_too(tmp_path: Path) -> None:
    """READ S81 (check-values.md D3): wrong-site events are not rated."""
    grade = graded("scale: ClassIntra, grade: III, events: sign, treatments: moderate")
    change = f"timeline: {{events: {{1: {{what: Incision at the wrong level}}}}}}\n{grade}"
    ((code, text),) = told(tmp_path, change)
    assert code == "grade-not-counted"
    assert "gives not applicable: operations at the wrong site are reported another way" in text


@pytest.mark.parametrize(
    ("when", "count"),
    [
        *(("Day 5", 1), ("3 weeks later", 1), ("at the meeting", 1), ("same day", 0), ("Day 0", 0)),
        *(
            ("Tag 5", 1),
            ("3 Wochen später", 1),
            ("in der Besprechung", 1),
            ("am selben Tag", 0),
            ("Tag 0", 0),
        ),
    ],
)
def test_classintra_is_rated_on_the_day(tmp_path: Path, when: str, count: int) -> None:
    """READ S81: directly after surgery."""
    change = f"outcome: {{grades: [{{scale: ClassIntra, grade: II, treatments: minor, by: surgeon, when: {when}}}]}}"
    assert [code for code, _ in told(tmp_path, change)] == ["grade-not-counted"] * count


def test_treatment_alone_is_the_least_a_classintra_grade_can_be(tmp_path: Path) -> None:
    ((code, text),) = told(tmp_path, graded("scale: ClassIntra, grade: I, treatments: moderate"))
    assert code == "grade-against-treatment"
    assert "gives III at least" in text
    assert told(tmp_path / "high", graded("scale: ClassIntra, grade: IV, treatments: moderate")) == []


def test_a_death_is_the_highest_grade(tmp_path: Path) -> None:
    """Clavien-Dindo V is death, READ S73."""
    grade = "scale: Clavien-Dindo, complication: leak, grade: "
    ((code, text),) = told(
        tmp_path, graded(grade + "IVa, treatments: ventilation", more=", harm: {died: yes}")
    )
    assert code == "harm-against-facts"
    assert "the headline says Clavien-Dindo IVa, and the heaviest complication is V" in text
    assert told(tmp_path / "v", graded(grade + "V", more=", harm: {died: yes}")) == []


@pytest.mark.parametrize(("grade", "count"), [("II", 1), ("not applicable", 0)])
def test_what_reached_nobody_has_no_complication(tmp_path: Path, grade: str, count: int) -> None:
    change = graded(
        f"scale: Clavien-Dindo, grade: {grade}{', treatments: antibiotics' * count}",
        more=", harm: {reached: no}",
    )
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
        f"scale: Clavien-Dindo, grade: II, complication: ileus, {STOMACH_TUBE}",
        f"scale: Clavien-Dindo, grade: IIIb, complication: leak, {OPERATION}",
    )
    found = told(tmp_path, f"{grades[:-1]}, summary: '{summary}'}}")
    assert [code for code, _ in found] == ["headline-grade"] * count
    assert all("the heaviest complication is IIIb" in text for _, text in found)


@pytest.mark.parametrize(("other", "count"), [("Leak.", 1), ("leak of bile", 0)])
def test_a_complication_is_known_again_by_its_words(tmp_path: Path, other: str, count: int) -> None:
    change = graded(
        f"scale: Clavien-Dindo, grade: II, complication: leak, {STOMACH_TUBE}",
        f"scale: Clavien-Dindo, grade: IIIb, complication: {other}, {OPERATION}",
    )
    assert [code for code, _ in told(tmp_path, change)] == ["grade-given-twice"] * count


def test_several_grades_say_which_complication_they_are_of(tmp_path: Path) -> None:
    change = graded(
        f"scale: Clavien-Dindo, grade: II, {STOMACH_TUBE}",
        f"scale: Clavien-Dindo, grade: IIIb, complication: leak, {OPERATION}",
    )
    assert [code for code, _ in told(tmp_path, change)] == ["grade-given-twice"]
    one_each = graded(
        f"scale: Clavien-Dindo, grade: II, {STOMACH_TUBE}", "scale: ClassIntra, grade: I, treatments: none"
    )
    assert told(tmp_path / "each", one_each) == []


@pytest.mark.parametrize(("counted", "count"), [("II, IIIb", 0), ("IIIb", 1), ("II, IIIb, IIIb", 1)])
def test_the_index_counts_each_stated_grade_once(tmp_path: Path, counted: str, count: int) -> None:
    """practice.md (e) 34, READ: two treatments of one complication are not counted twice; d weighs nothing."""
    grades = graded(
        f"scale: Clavien-Dindo, grade: IIIbd, complication: leak, at discharge: yes, {OPERATION}",
        f"scale: Clavien-Dindo, grade: II, complication: ileus, {STOMACH_TUBE}",
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


@pytest.mark.parametrize(
    ("told_too", "count"),
    [
        ("symptoms: moderate", 0),  # with the treatment untold it may be more than II
        ("symptoms: severe", 1),  # III by the symptoms alone
        ("symptoms: moderate, treatments: none", 1),  # both are told, and give II
    ],
)
def test_symptoms_alone_are_the_least_a_classintra_grade_can_be(
    tmp_path: Path, told_too: str, count: int
) -> None:
    """READ S81 (check-values.md D3): treatment and symptoms both decide, so what is not told may give more."""
    grade = "III" if "none" in told_too or "moderate" in told_too else "II"
    found = told(tmp_path, graded(f"scale: ClassIntra, grade: {grade}, {told_too}"))
    assert [code for code, _ in found] == ["grade-against-treatment"] * count


@pytest.mark.parametrize(
    ("scale", "grades"),
    [("WHO ICPS", "mild death"), ("AHRQ harm", "mild death"), ("NCC MERP", "C I")],
)
def test_the_facts_of_harm_are_of_the_whole_course(tmp_path: Path, scale: str, grades: str) -> None:
    """One complication among several may have done less harm than befell the patient in all; none did more."""
    lighter, heavier = grades.split()
    other = f"scale: ClassIntra, grade: II, complication: bleed, treatments: minor, {SIGNED}"
    for grade, count in ((lighter, 0), (heavier, 1)):
        harm = f"{{scale: {scale}, grade: {grade}, complication: wet filter, {SIGNED}}}"
        change = f"outcome: {{harm: {{symptoms: marked, care: intervention, loss: lasting}}, grades: [{harm}, {{{other}}}]}}"
        found = told(tmp_path / grade, change)
        assert [code for code, _ in found] == ["harm-against-facts"] * count
