"""A grade that nothing can be held against is asked about: what to record, or how to say there was nothing."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml

from mmbuilder.casefile import check
from mmbuilder.problem import Problem
from tests.casefile.minimal import changed, minimal_case

CODE = "grade-without-facts"
SIGNED = "by: audit lead, when: same day"


def asked(folder: Path, grades: str, more: str = "") -> list[Problem]:
    """What is told of one grade or more, written without their braces and joined by a bar."""
    entries = ", ".join(f"{{{grade}, {SIGNED}}}" for grade in grades.split(" | "))
    return list(check(minimal_case(folder, changed(f"outcome: {{grades: [{entries}]{more}}}"))).problems)


@pytest.mark.parametrize(
    "grade",
    [
        "scale: Clavien-Dindo, grade: I",
        "scale: Clavien-Dindo, grade: IIIbd",
        "scale: Clavien-Dindo, grade: V",
        "scale: ClassIntra, grade: II",
        "scale: ClassIntra, grade: V",
        "scale: WHO ICPS, grade: none",
        "scale: WHO ICPS, grade: severe, complication: wrong dose",
        "scale: AHRQ harm, grade: mild",
        "scale: NCC MERP, grade: F",
    ],
)
def test_a_grade_alone_is_asked_about_where_it_stands(tmp_path: Path, grade: str) -> None:
    (problem,) = asked(tmp_path, grade)
    assert (problem.code, problem.stops) == (CODE, False)
    scale, said = (part.partition(": ")[2] for part in grade.split(", ")[:2])
    assert problem.quote == f"{scale}: {said}"
    assert problem.line == 1 + next(
        number
        for number, line in enumerate((tmp_path / "case/case.yaml").read_text("utf-8").splitlines())
        if line.strip().startswith("grade:")
    )


@pytest.mark.parametrize(
    "grade",
    [
        "scale: Clavien-Dindo, grade: II",
        "scale: Clavien-Dindo, grade: V",
        "scale: ClassIntra, grade: I",
        "scale: AHRQ harm, grade: mild",
        "scale: NCC MERP, grade: E",
    ],
)
def test_each_way_out_that_is_shown_is_one(tmp_path: Path, grade: str) -> None:
    """What is offered is what the case file takes: typed in, the question is gone and nothing is refused."""
    (problem,) = asked(tmp_path, grade)
    ways = [
        yaml.load(way, Loader=yaml.BaseLoader)
        for way in problem.example.replace("or, where it did nothing", "or").split("\nor\n")
    ]
    for number, way in enumerate(ways):
        under = tmp_path / str(number)
        words = {
            key: yaml.safe_dump(value, default_flow_style=True).removesuffix("\n...\n").strip()
            for key, value in way.items()
        }
        told = (
            asked(under, grade, f", harm: {words['harm']}")
            if "harm" in words
            else asked(under, ", ".join([grade, *(f"{key}: {value}" for key, value in words.items())]))
        )
        assert {one.code for one in told} <= {"grade-against-treatment", "harm-against-facts"}


@pytest.mark.parametrize(
    "grades",
    [
        "scale: Clavien-Dindo, grade: not applicable",
        "scale: ClassIntra, grade: not applicable",
        "scale: ClassIntra, grade: 0",  # the ideal course
        "scale: NCC MERP, grade: not applicable",
        "scale: NCC MERP, grade: A",  # nothing happened
        "scale: NCC MERP, grade: B",  # a near miss
        "scale: AHRQ harm, grade: unknown",
        "scale: Clavien-Dindo, grade: I, treatments: none",
        "scale: ClassIntra, grade: II, symptoms: moderate",
        "scale: WHO ICPS, grade: mild, complication: wet filter | scale: ClassIntra, grade: III, complication: bleed, treatments: moderate",
    ],
)
def test_nobody_is_asked_twice_or_for_nothing(tmp_path: Path, grades: str) -> None:
    assert asked(tmp_path, grades) == []


@pytest.mark.parametrize("scale", ["Clavien-Dindo", "ClassIntra"])
def test_a_death_is_in_the_facts_of_harm(tmp_path: Path, scale: str) -> None:
    assert asked(tmp_path, f"scale: {scale}, grade: V", ", harm: {died: yes}") == []


def test_what_another_scale_goes_by_does_not_answer(tmp_path: Path) -> None:
    """Symptoms are ClassIntra's; beside a Clavien-Dindo grade they leave it unheld."""
    told = asked(tmp_path, "scale: Clavien-Dindo, grade: II, symptoms: mild")
    assert sorted(one.code for one in told) == [CODE, "unknown-treatment"]
