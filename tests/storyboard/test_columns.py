"""What holds nothing takes no room: an empty column, a table that nobody filled, a body nobody mistook.

Common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from mmbuilder.safe.bound import bound
from mmbuilder.safe.case import Patient, ScrubbedCase
from mmbuilder.safe.terms import Course, Sex, Side, Use
from mmbuilder.safe.text import EMPTY, wording
from mmbuilder.storyboard import compose
from mmbuilder.storyboard.blocks import Slide, Table
from tests.storyboard.paper import compose_handout
from tests.storyboard.sample import DECISIONS, sample
from tests.storyboard.telling import told


def on_paper(case: ScrubbedCase, kind: str, use: Use = Use.TEACHING) -> Slide:
    (slide,) = (slide for slide in compose_handout(case, use).slides if slide.kind == kind)
    return slide


def heads(slide: Slide) -> list[str]:
    (table,) = (block for block in slide.blocks if isinstance(block, Table))
    assert {len(row) for row in table.rows} == {len(table.header)} == {len(table.shares)}
    return [text.reveal() for text in table.header]


@pytest.mark.parametrize(("measured", "said"), [(True, False), (False, True), (True, True)])
def test_visits_have_the_columns_that_hold_something(measured: bool, said: bool) -> None:
    outcome = sample().outcome
    (visit,) = outcome.visits
    visit = replace(
        visit, measures=visit.measures if measured else (), note=wording("Well") if said else EMPTY
    )
    slide = on_paper(sample(outcome=replace(outcome, visits=(visit,))), "follow_up")
    assert heads(slide) == ["Visit", *(["Measured"] if measured else []), *(["Course"] if said else [])]


def test_causes_without_evidence_have_no_column_for_it() -> None:
    bare = tuple(replace(one, evidence=(), contributed=EMPTY, changed=None) for one in sample().factors)
    (slide,) = (one for one in compose(sample(factors=bare)).slides if one.kind == "cause_grid")
    assert heads(slide) == ["What", "Barrier; action"]


def test_a_question_that_nobody_answered_is_not_put_as_a_table() -> None:
    open_ = tuple(replace(one, counterfactual=EMPTY, sure=None) for one in DECISIONS)
    case = sample(decisions=open_)
    assert "looking_back" not in {slide.kind for slide in compose(case, Use.TEACHING).slides}
    paper = on_paper(case, "looking_back")
    assert heads(paper) == ["Chosen", "Fair alternatives"]
    assert "not said" not in told((paper,))
    assert "looking_back" in {slide.kind for slide in compose(sample(), Use.TEACHING).slides}


@pytest.mark.parametrize("course", Course)
def test_the_body_stands_on_a_slide_where_its_side_was_at_issue(course: Course) -> None:
    case = sample(patient=Patient(wording("71"), wording("70s"), Sex.FEMALE, side=Side.RIGHT), course=course)
    shown = "orientation" in {slide.kind for slide in compose(case, Use.TEACHING).slides}
    assert shown is (course is Course.NEAR_MISS)
    assert on_paper(case, "orientation")


def test_units_of_blood_stay_with_their_figure() -> None:
    assert bound("3 u RBC, 1 unit") == "3\N{NO-BREAK SPACE}u RBC, 1\N{NO-BREAK SPACE}unit"
