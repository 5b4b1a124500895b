"""What the author said about a cause or a treatment is printed: in the full grid, beside the grade."""

from __future__ import annotations

from dataclasses import replace

import pytest

from mmbuilder.safe.case import Factor, Grade, ScrubbedCase
from mmbuilder.safe.terms import CauseKind, FactorRole, FactorRow, Scale, Use
from mmbuilder.safe.text import EMPTY, SafeText, wording
from mmbuilder.storyboard import compose
from mmbuilder.storyboard.blocks import Facts, Table
from tests.storyboard.paper import compose_handout
from tests.storyboard.sample import sample, say

TOLD = wording("Nobody came")


def contributed(**more: object) -> str:
    """The cell of the full grid for one factor."""
    factor = Factor(FactorRow.TEAM, FactorRole.CONTRIBUTORY, wording("No word passed on"))
    case = sample(factors=(replace(factor, contributed=TOLD, **more),))  # type: ignore[arg-type]
    (slide,) = (found for found in compose_handout(case).slides if found.kind == "cause_grid_full")
    (table,) = slide.blocks
    assert isinstance(table, Table)
    place = [head.reveal() for head in table.header].index("How it contributed")
    (row,) = (row for row in table.rows if row[place].text)
    return row[place].text.reveal()


# RCA2 (NPSF 2015), rules of causation: an act has what came before it, a departure its reason,
# a failure to act its duty. check-values.md E, practice.md (c) 4.
@pytest.mark.parametrize(
    ("cause", "before", "duty", "told"),
    [
        (None, EMPTY, EMPTY, "Nobody came"),
        (CauseKind.CONDITION, EMPTY, EMPTY, "Nobody came. Condition."),
        (
            CauseKind.HUMAN_ACT,
            say("The second week of the post"),
            EMPTY,
            "Nobody came. Human act; before it: the second week of the post.",
        ),
        (
            CauseKind.DEPARTURE,
            say("no second copy"),
            EMPTY,
            "Nobody came. Departure from procedure; the reason: no second copy.",
        ),
        (
            CauseKind.FAILURE_TO_ACT,
            EMPTY,
            say("a round every 4 h"),
            "Nobody came. Failure to act; the duty: a round every 4 h.",
        ),
        (None, say("A long list"), EMPTY, "Nobody came. Before it: a long list."),
    ],
)
def test_the_kind_of_cause_and_what_makes_it_fair_stand_in_the_full_grid(
    cause: CauseKind | None, before: SafeText, duty: SafeText, told: str
) -> None:
    assert contributed(cause=cause, preceded_by=before, duty=duty) == told


def graded(
    scale: Scale, grade: str, complication: str, *treatments: str, symptoms: SafeText = EMPTY
) -> ScrubbedCase:
    given = Grade(
        scale,
        say(grade),
        say(complication),
        say("Audit lead"),
        say("Day 9"),
        tuple(map(say, treatments)),
        symptoms,
    )
    return sample(outcome=replace(sample().outcome, grades=(given,)))


@pytest.mark.parametrize(
    ("case", "line"),
    [
        (
            graded(Scale.CLAVIEN_DINDO, "II", "pneumonia", "antibiotics", "transfusion"),
            "II: pneumonia; given for: antibiotics, transfusion (graded by Audit lead, Day 9)",
        ),
        (
            graded(Scale.CLASSINTRA, "IV", "collapse", "major"),
            "IV: collapse; extra treatment: major (graded by Audit lead, Day 9)",
        ),
        (
            graded(Scale.CLASSINTRA, "III", "collapse", "minor", symptoms=say("severe")),
            "III: collapse; extra treatment: minor; symptoms: severe (graded by Audit lead, Day 9)",
        ),
        (
            graded(Scale.CLASSINTRA, "II", "bleed", symptoms=say("moderate")),
            "II: bleed; symptoms: moderate (graded by Audit lead, Day 9)",
        ),
        (graded(Scale.CLAVIEN_DINDO, "I", "delay"), "I: delay (graded by Audit lead, Day 9)"),
        (
            graded(Scale.CLAVIEN_DINDO, "I", "wound opened at the bedside", "wound opened at the bedside"),
            "I: wound opened at the bedside (graded by Audit lead, Day 9)",
        ),
    ],
)
def test_on_paper_a_grade_says_what_it_was_given_for(case: ScrubbedCase, line: str) -> None:
    (slide,) = (found for found in compose_handout(case).slides if found.kind == "outcome")
    (facts,) = slide.blocks
    assert isinstance(facts, Facts)
    assert facts.rows[0][1].reveal() == line


@pytest.mark.parametrize("role", [FactorRole.INCIDENTAL, FactorRole.EXCLUDED])
def test_a_level_is_not_empty_whose_only_factor_was_incidental_or_set_aside(role: FactorRole) -> None:
    factor = Factor(FactorRow.TEAM, FactorRole.CONTRIBUTORY, wording("No word passed on"), evidence=(TOLD,))
    beside = replace(factor, row=FactorRow.WORK_ENVIRONMENT, role=role)

    def empty(*factors: Factor) -> str:
        board = compose(sample(factors=factors), Use.REVIEW)
        (slide,) = (found for found in board.slides if found.kind == "cause_grid")
        return slide.notes[-1].reveal()

    assert "work environment" in empty(factor)
    assert "work environment" not in empty(factor, beside)


@pytest.mark.parametrize("role", [FactorRole.ROOT, FactorRole.CONTRIBUTORY])
def test_the_presenter_begins_with_squares_only_where_some_are_drawn(role: FactorRole) -> None:
    factor = Factor(FactorRow.TEAM, role, wording("No word passed on"), evidence=(TOLD,))
    (slide,) = (
        one for one in compose(sample(factors=(factor,)), Use.TEACHING).slides if one.kind == "cause_diagram"
    )
    assert ("squares" in slide.notes[0].reveal()) is (role is FactorRole.ROOT)
