"""The deck of a case report: why it matters, what is published, the patient's own words; ten slides, 8 + 4 minutes.

Order and minutes: common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from mmbuilder import apply, propose, registry, uses
from mmbuilder.analysis import build_timeline, cause_grid
from mmbuilder.casefile import load
from mmbuilder.formats import deck_pptx
from mmbuilder.safe.case import Harm, Mechanism, Parted, Patient, Plan, Report
from mmbuilder.safe.terms import Care, Loss, Scale, Sex, Symptoms, Use
from mmbuilder.safe.text import wording
from mmbuilder.scrub.layers import NoNameModel
from mmbuilder.storyboard import compose, compose_papers
from mmbuilder.storyboard.blocks import Facts, Storyboard
from mmbuilder.storyboard.context import Context
from mmbuilder.storyboard.timing import guessed, timing
from mmbuilder.uses import Planned
from tests.bundled import CASES, MAY_BE_TOLD
from tests.storyboard.sample import sample
from tests.storyboard.telling import told

TOLD = Report(
    importance=wording("The noise had been there all week"),
    introduction=(wording("Wheels are rarely heard."),),
    discussion=(wording("A bearing wears slowly."),),
    strengths=wording("One trolley."),
    patient_words=wording("I heard it before they did."),
    conflicts=wording("none"),
)


def of_kind(board: Storyboard, kind: str) -> str:
    return told(tuple(slide for slide in board.slides if slide.kind == kind))


@cache
def deck(root: Path, use: Use) -> Storyboard:
    folder = load(root, use)
    return deck_pptx.lay_out(compose(apply(folder, propose(folder, names=NoNameModel())), use)).board


def test_its_order() -> None:
    kinds = [slide.kind for slide in compose(sample(report=TOLD), Use.REPORT).slides]
    assert kinds == [
        *("title", "importance", "situation", "frame", "frame_marked"),
        *("timeline_whole", "rescued", "outcome", "discussion", "take_away"),
    ]


def test_it_says_why_it_matters_what_is_published_and_what_it_cannot_show() -> None:
    board = compose(sample(report=TOLD), Use.REPORT)
    assert "The noise had been there all week." in of_kind(board, "importance")
    for words in ("Wheels are rarely heard.", "A bearing wears slowly.", "Vincent C", "One trolley."):
        assert words in of_kind(board, "discussion")


# practice.md (a): what is not yet revealed must not be on an earlier slide.
def test_what_is_known_of_the_complication_stands_on_no_slide_before_the_last_pause() -> None:
    slides = compose(sample(report=TOLD), Use.REPORT).slides
    last = max(place for place, slide in enumerate(slides) if slide.pause)
    assert "Wheels are rarely heard." not in told(slides[: last + 1])


def test_no_more_than_three_references_stand_on_a_slide() -> None:
    cited = tuple(wording(text) for text in ("First A.", "Second B.", "Third C.", "Fourth D."))
    text = of_kind(compose(sample(references=cited), Use.REPORT), "discussion")
    assert "Third C." in text
    assert "Fourth" not in text


def test_on_paper_each_reference_stands_once() -> None:
    """Common practice, no source."""
    case = replace(
        sample(), report=TOLD, references=(wording("Wheels 1999;1:1."), wording("Bearings 2004;2:7."))
    )
    papers = compose_papers(case, compose(case, Use.REPORT), Use.REPORT)
    (handout,) = (one.board for one in papers if one.slug == "handout")
    words = told(handout.slides)
    assert [words.count(one.reveal()) for one in case.references] == [1, 1]


def test_the_mechanism_stands_in_for_a_discussion() -> None:
    case = sample(mechanism=Mechanism((wording("The axle bends"),)))
    assert "The axle bends." in of_kind(compose(case, Use.REPORT), "discussion")


def test_the_patients_words_are_told_where_they_crossed_and_local_candour_is_not() -> None:
    case = sample(report=TOLD)
    case = replace(case, outcome=replace(case.outcome, told=wording("Told by the lead porter")))
    assert "I heard it before they did." in of_kind(compose(case, Use.REPORT), "outcome")
    deck_of = compose(case, Use.REPORT)
    boards = [deck_of, *(paper.board for paper in compose_papers(case, deck_of, Use.REPORT))]
    assert not any("Told by the lead porter" in told(board.slides) for board in boards)
    assert "Told by the lead porter" in of_kind(compose(case, Use.REVIEW), "outcome")


@pytest.mark.parametrize(
    ("patient", "here", "outside"),
    [
        (Patient(wording("5 weeks"), wording("under 10"), child=True, sex=Sex.FEMALE),
         "girl of 5 weeks", "girl, under 10"),
        (Patient(wording("14"), wording("10 to 19"), child=True, sex=Sex.MALE), "boy of 14", "boy, 10 to 19"),
        (Patient(wording("3"), wording("under 10"), child=True), "child of 3", "child, under 10"),
        (Patient(wording("17"), wording("10 to 19"), sex=Sex.FEMALE), "woman of 17", "woman, 10 to 19"),
        (Patient(wording("infant"), child=True, sex=Sex.FEMALE), "girl, infant", "girl"),
        (Patient(wording("71"), wording("70s"), sex=Sex.MALE), "man of 71", "man in his 70s"),
    ],
)  # fmt: skip
def test_a_child_is_told_as_a_girl_or_a_boy(patient: Patient, here: str, outside: str) -> None:
    for use, who in ((Use.REVIEW, here), (Use.REPORT, outside)):
        assert f"The plan for a {who}: " in of_kind(compose(sample(patient=patient), use), "situation")


def test_the_title_states_consent_and_conflicts_and_assumes_neither() -> None:
    assert "Conflicts of interest: None." in of_kind(compose(sample(report=TOLD), Use.REPORT), "title")
    bare = of_kind(compose(sample(), Use.REPORT), "title")
    assert "Consent to publication: not asked. Conflicts of interest: Not stated." in bare


@pytest.mark.parametrize(
    "root", [root for root, use in MAY_BE_TOLD if use is Use.REPORT], ids=lambda path: path.name
)
def test_a_bundled_case_takes_ten_slides_and_eight_minutes(root: Path) -> None:
    board = deck(root, Use.REPORT)
    timed = timing(board)
    assert sum(slide.sheets for slide in board.slides) == 10
    assert (timed.budget, board.questions) == (8 * 60, 4 * 60)
    assert timed.needs <= timed.budget
    assert timed.to_cut == ()


@pytest.mark.parametrize("root", CASES, ids=lambda path: path.name)
def test_a_reflection_has_three_to_five_slides(root: Path) -> None:
    assert 3 <= sum(slide.sheets for slide in deck(root, Use.REFLECTION).slides) <= 5


@pytest.mark.parametrize("root", CASES, ids=lambda path: path.name)
def test_how_many_sheets_a_table_takes_is_guessed_right(root: Path) -> None:
    slides = deck(root, Use.REFLECTION).slides
    assert [slide.kind for slide in slides if guessed(slide) != slide.sheets] == []


def test_a_slide_too_many_is_told_with_what_to_leave_out() -> None:
    board = compose(sample(report=TOLD), Use.REPORT)
    long = replace(board, slides=(replace(board.slides[0], sheets=3), *board.slides[1:]))
    timed = timing(long)
    assert timed.too_many == 2
    assert [one.slide.kind for one in timed.to_cut] == ["rescued"]
    (sheet,) = [
        one.board
        for one in compose_papers(sample(report=TOLD), long, Use.REPORT)
        if one.slug == "rehearsal-sheet"
    ]
    assert "12 slides, where 10 are allowed." in told(sheet.slides)
    assert "Then 4:00 for questions." in told(sheet.slides)


@pytest.mark.parametrize("use", Use)
def test_a_use_names_lines_that_its_slides_have(use: Use) -> None:
    """A line that is named and does not exist would be left out without a word."""
    spec = uses.load(use)
    for planned in (*spec.slides, *(slide for paper in spec.papers for slide in paper.slides)):
        for name in planned.facts:
            (_,) = _labels(planned.model_copy(update={"facts": (name,)}), use)


def test_the_manuscript_names_lines_that_the_outcome_has() -> None:
    expected = ["Clavien-Dindo", "Harm", "Scales disagree", "Last seen"]
    labels = _labels(Planned(kind="manuscript"), Use.REPORT)
    first = labels.index(expected[0])
    assert labels[first : first + len(expected)] == expected


def _labels(planned: Planned, use: Use) -> list[str]:
    """Return the labels of the lines that a slide has of a case that says everything once."""
    context = Context(_FULL, build_timeline(_FULL), cause_grid(_FULL), uses.load(use), planned)
    slides = registry.discover("mmbuilder.storyboard.slides", "MISSING", "make")[planned.kind].make(context)
    blocks = [block for slide in slides for block in slide.blocks]
    return [label.reveal() for block in blocks if isinstance(block, Facts) for label, _ in block.rows]


_LONG = wording("Transfer of a load that is far too heavy for one pair of hands, " * 2)
"""Too long for a headline, so that it has a line of its own."""

_FULL = sample(
    report=TOLD,
    patient=Patient(history=(wording("None"),), negatives=(wording("Rust"),), weight=wording("62 kg")),
    plan=Plan(
        _LONG,
        wording("A load"),
        findings=(wording("Level floor"),),
        foreseen=(wording("Delay"),),
        told=(wording("It may squeak"),),
    ),
    outcome=replace(
        sample().outcome,
        summary=_LONG,
        told=wording("Told by the lead porter"),
        harm=Harm(True, True, Symptoms.MILD, Care.MONITORING, False, Loss.NONE, False),
        parted=(Parted(Scale.NCC_MERP, wording("D"), Scale.ICPS, wording("none"), wording("both")),),
    ),
)
