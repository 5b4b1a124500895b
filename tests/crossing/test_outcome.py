"""What an author states beside a grade crosses the line, scrubbed, and stands on paper."""

from __future__ import annotations

from pathlib import Path

from mmbuilder.safe.case import ScrubbedCase
from mmbuilder.safe.terms import Care, Loss, Symptoms, Use
from mmbuilder.safe.text import wording
from mmbuilder.scrub.apply import apply
from mmbuilder.scrub.layers import NoNameModel
from mmbuilder.scrub.propose import propose
from mmbuilder.storyboard import compose
from mmbuilder.storyboard.blocks import Facts
from tests.scrub.small_case import CASE, small
from tests.storyboard.paper import compose_handout

GRADES = "grades: [{scale: Clavien-Dindo, grade: I}]"


def crossed(root: Path, outcome: str) -> ScrubbedCase:
    folder = small(root, CASE.replace(GRADES, outcome))
    return apply(folder, propose(folder, names=NoNameModel()))


def facts(case: ScrubbedCase) -> dict[str, str]:
    """What the paper says of the outcome: all of it, where the slide has no time for that."""
    (slide,) = (one for one in compose_handout(case).slides if one.kind == "outcome")
    (block,) = slide.blocks
    assert isinstance(block, Facts)
    return {label.reveal(): text.reveal() for label, text in block.rows}


def test_symptoms_cross_and_are_told_with_the_grade(tmp_path: Path) -> None:
    # ClassIntra grades by treatment and symptoms (BMJ 2020;370:m2917; check-values.md D3, READ).
    case = crossed(
        tmp_path / "case",
        "grades: [{scale: ClassIntra, grade: III, complication: pump stop, treatments: minor,\n"
        "    symptoms: severe, by: audit lead}]",
    )
    assert case.outcome.grades[0].symptoms == wording("severe")
    assert (
        facts(case)["ClassIntra"]
        == "III: pump stop; extra treatment: minor; symptoms: severe (graded by audit lead)"
    )


def test_a_name_among_the_symptoms_does_not_cross(tmp_path: Path) -> None:
    case = crossed(
        tmp_path / "case",
        "grades: [{scale: Clavien-Dindo, grade: I, symptoms: pain told to Mr Velkonar}]",
    )
    assert "Velkonar" not in case.outcome.grades[0].symptoms.reveal()
    assert case.outcome.grades[0].symptoms


def test_the_facts_that_a_degree_of_harm_follows_from_are_told(tmp_path: Path) -> None:
    case = crossed(
        tmp_path / "case",
        "grades: [{scale: WHO ICPS, grade: moderate}]\n"
        "  harm: {symptoms: marked, care: intervention, longer stay: yes, loss: minimal}",
    )
    harm = case.outcome.harm
    assert harm is not None
    assert (harm.symptoms, harm.care, harm.loss) == (Symptoms.MARKED, Care.INTERVENTION, Loss.MINIMAL)
    assert (
        facts(case)["Harm"]
        == "Symptoms: marked; extra care: intervention; a longer stay; loss of function: minimal"
    )


def test_what_did_not_reach_the_patient_says_so(tmp_path: Path) -> None:
    assert facts(crossed(tmp_path / "case", "harm: {reached: no}"))["Harm"] == "Did not reach the patient"


def test_of_several_complications_the_highest_is_the_headline(tmp_path: Path) -> None:
    # Clavien-Dindo: one grade a complication, the headline the highest (practice.md (e) 33).
    case = crossed(
        tmp_path / "case",
        "grades:\n    - {scale: Clavien-Dindo, grade: II, complication: haematoma}\n"
        "    - {scale: Clavien-Dindo, grade: IIIb, complication: obstruction}\n"
        "    - {scale: Clavien-Dindo, grade: not applicable}",
    )
    assert case.outcome.highest == wording("IIIb")
    (slide,) = (one for one in compose(case, Use.REVIEW).slides if one.kind == "outcome")
    (block,) = slide.blocks
    assert isinstance(block, Facts)
    told = [text.reveal() for label, text in block.rows if label == wording("Clavien-Dindo")]
    assert told == ["II: haematoma", "IIIb, the highest of 2: obstruction", "not applicable"]


def test_one_grade_is_no_headline(tmp_path: Path) -> None:
    assert not crossed(tmp_path / "case", GRADES).outcome.highest


VISITS = "  visits: ["


def test_a_visit_after_the_meeting_is_to_come_and_so_is_one_told_as_due(tmp_path: Path) -> None:
    # The meeting of this case is on Day 59; where nobody says when it is, the words are asked.
    text = CASE.replace(
        VISITS,
        VISITS + "{when: Day 9, note: Booked for a test then}, {when: 2026-06-01, note: Wound dry}, ",
    )
    coming = []
    for place, told in enumerate((text, text.replace("meeting: 2026-05-12\n", ""))):
        folder = small(tmp_path / str(place), told)
        visits = apply(folder, propose(folder, names=NoNameModel())).outcome.visits
        coming.append([visit.to_come for visit in visits[:2]])
    assert coming == [[False, True], [True, False]]
