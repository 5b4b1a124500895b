"""A case report on paper: CARE's order, what is missing said, consent never made up."""

from __future__ import annotations

from dataclasses import replace

import pytest

from mmbuilder.safe.case import Governance, Report
from mmbuilder.safe.terms import Consent, Use
from mmbuilder.safe.text import SafeText, wording
from mmbuilder.storyboard import compose, compose_papers
from mmbuilder.storyboard.blocks import Facts, Storyboard
from mmbuilder.uses.coverage import State, checklist, coverage
from tests.storyboard.sample import sample
from tests.storyboard.telling import told


def paper(slug: str, **changes: object) -> Storyboard:
    case = sample(**changes)
    (found,) = [
        one for one in compose_papers(case, compose(case, Use.REPORT), Use.REPORT) if one.slug == slug
    ]
    return found.board


# CARE 2013, thirteen topics in order (Gagnier JJ et al.), after the title.
def test_the_parts_stand_in_the_order_of_care() -> None:
    headlines = [slide.headline.reveal() for slide in paper("manuscript").slides]
    assert headlines[:12] == [
        "Abstract",
        "Key words",
        "Introduction",
        "Patient information",
        "Clinical findings",
        "Timeline",
        "Diagnostic assessment",
        "Therapeutic intervention",
        "Follow-up and outcomes",
        "Discussion",
        "Patient perspective",
        "Informed consent",
    ]


# CARE item 1: the words "case report" in the title.
def test_the_title_says_that_it_is_a_case_report() -> None:
    assert paper("manuscript").title.reveal().endswith(": case report")


# 28 sub-items in the journal's table (3a-c, 5a-c), 30 in the later checklist (3a-d, 5a-d).
def test_the_two_editions_of_care_have_28_and_30_items() -> None:
    items = checklist("care").items
    assert len(items) == 30
    assert sum(item.earlier for item in items) == 28
    assert {item.item for item in items if not item.earlier} == {"3d", "5d"}


@pytest.mark.parametrize("name", ["care", "scare"])
def test_every_field_that_a_checklist_names_is_one_of_the_case(name: str) -> None:
    from mmbuilder.uses.coverage import _values

    case = sample()
    for item in checklist(name).items:
        for path in item.met_by:
            list(_values(case, path.split(".")))  # an unknown field raises AttributeError


def test_what_is_missing_is_said_and_what_does_not_apply_has_its_reason() -> None:
    text = told(paper("reporting-checklist").slides)
    assert "MISSING" in text
    excused = Report(not_applicable=((wording("patient's view"), wording("died before the report")),))
    text = told(paper("reporting-checklist", report=excused).slides)
    assert "not applicable: died before the report" in text


def test_an_item_is_present_once_the_case_has_words_for_it() -> None:
    def state(case: object) -> State:
        (found,) = [one for one in coverage(checklist("care"), case, ()) if one.item.item == "2"]
        return found.state

    assert state(sample()) is State.MISSING
    assert state(sample(report=Report(keywords=(wording("lift"),)))) is State.PRESENT


@pytest.mark.parametrize("consent", Consent)
def test_consent_is_written_only_where_it_was_given(consent: Consent) -> None:
    text = told(paper("manuscript", governance=Governance(consent=consent)).slides)
    assert ("recorded as given" in text) is (consent is Consent.GIVEN)
    assert ("Not to be submitted without it" in text) is (consent is not Consent.GIVEN)


def test_each_line_of_the_course_ends_as_a_sentence() -> None:
    case = sample()
    papers = compose_papers(case, compose(case, Use.REPORT), Use.REPORT)
    (board,) = [one.board for one in papers if one.slug == "manuscript"]
    told_as = [block for slide in board.slides for block in slide.blocks if isinstance(block, Facts)]
    lines = [text.reveal() for block in told_as for _, text in block.rows]
    assert len(lines) > 3
    assert all(line.endswith(".") for line in lines)


def test_only_the_decade_of_age_is_told() -> None:
    case = sample()
    exact = replace(case.patient, age=wording("71"), age_decade=wording("70s"))
    text = told(paper("manuscript", patient=exact).slides)
    assert "age 70s" in text.lower()
    assert "71" not in text


# Common practice, no source: a list called references promises that the text cites each by its number.
@pytest.mark.parametrize(
    ("words", "called"),
    [(wording("as told [2]"), "References"), (wording("as told [3]"), "Further reading")],
)
def test_a_list_that_nothing_cites_is_for_further_reading(words: SafeText, called: str) -> None:
    listed = (wording("BMJ 1998;316:1154"), wording("BMJ 2020;370:m2917"))
    changes = {"references": listed, "report": Report(discussion=(words,))}
    assert paper("manuscript", **changes).slides[-1].headline.reveal() == called
    handout = {slide.kind: slide.headline.reveal() for slide in paper("handout", **changes).slides}
    assert handout["references"] == f"{called}."
