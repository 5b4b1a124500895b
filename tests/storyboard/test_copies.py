"""Copies of a deck for one reader each: what each shows, and what the trainees' copy must not."""

from __future__ import annotations

from collections.abc import Callable
from itertools import takewhile
from pathlib import Path

import pytest
from pypdf import PdfReader

from mmbuilder.casefile import load
from mmbuilder.pipeline import BuildReport
from mmbuilder.safe.case import ScrubbedCase
from mmbuilder.safe.cautions import CAUTION
from mmbuilder.safe.terms import Use
from mmbuilder.scrub.apply import apply
from mmbuilder.scrub.layers import NoNameModel
from mmbuilder.scrub.propose import propose
from mmbuilder.storyboard import compose
from mmbuilder.storyboard.blocks import Picture, Slide, TimeChart
from mmbuilder.storyboard.copies import chair, rehearsal, trainee, trainer
from tests.bundled import CASES, ILLUSTRATED
from tests.storyboard.sample import sample
from tests.storyboard.telling import told

pytestmark = pytest.mark.usefixtures("seen")


def crossed(root: Path) -> ScrubbedCase:
    folder = load(root)
    return apply(folder, propose(folder, names=NoNameModel()))


def kept_from_trainees(case: ScrubbedCase) -> list[str]:
    """The answers: what was chosen and why, what it was, what came of it, what it taught.

    What the deck itself tells before its first pause is no answer.
    """
    opening = told(
        tuple(takewhile(lambda slide: not slide.pause, compose(case, Use.TEACHING).slides))
    ).lower()
    secret = [case.outcome.summary, case.outcome.last_state, case.take_away, *case.learning]
    secret += [one.answer for one in case.questions]
    secret += [text for one in case.decisions for text in (one.because, one.fallback, one.trigger)]
    secret += [frame.caption for frame in case.frames]
    secret += [item.what for item in (*case.factors, *case.held, *case.actions)]
    return [text.reveal() for text in secret if text.words() >= 3 and text.reveal().lower() not in opening]


@pytest.mark.parametrize("root", CASES, ids=lambda path: path.name)
def test_no_answer_is_on_the_trainees_copy(root: Path) -> None:
    case = crossed(root)
    copy = told(trainee.make(compose(case, Use.TEACHING), case).slides)
    secret = kept_from_trainees(case)
    assert len(secret) > 10
    assert [text for text in secret if text.lower() in copy.lower()] == []


@pytest.mark.parametrize("root", ILLUSTRATED, ids=lambda path: path.name)
def test_no_answer_is_in_the_trainees_files(root: Path, built: Callable[[Path, Use], BuildReport]) -> None:
    case = crossed(root)
    papers = built(root, Use.TEACHING).papers
    (paper,) = [path for path in papers if path.name.endswith("trainee-copy-DRAFT.pdf")]
    written = _run(" ".join(page.extract_text() for page in PdfReader(paper).pages))
    assert _run("Questions to answer cold") in written
    assert [text for text in kept_from_trainees(case) if _run(text) in written] == []


def _run(text: str) -> str:
    """Letters alone: a line of a page may end anywhere."""
    return "".join(text.casefold().split())


@pytest.mark.parametrize("root", CASES, ids=lambda path: path.name)
def test_the_trainees_have_room_for_every_question_and_read_the_first_alone(root: Path) -> None:
    # practice.md (a): what is not yet revealed must not be on an earlier page; a later question tells it.
    case = crossed(root)
    deck = compose(case, Use.TEACHING)
    first, *later = [slide for slide in deck.slides if slide.pause and slide.kind != "questions"]
    slides = trainee.make(deck, case).slides
    copy = told(slides)
    assert f"Pause 1: {first.headline.reveal()}" in copy
    assert [slide.kind for slide in slides].count("pause") == 1 + len(later)
    assert not any(slide.headline.reveal() in copy for slide in later)
    assert not any(one.ask.reveal() in copy for one in case.questions)
    (cold,) = [slide for slide in slides if slide.kind == "cold_questions"]
    (table,) = cold.blocks
    numbers = [row[0].text.reveal() for row in table.rows if row[0].text]
    assert numbers == [str(place) for place, _ in enumerate(case.questions, 1)]


def test_the_trainees_copy_has_no_bare_heading_and_one_chart_that_stops() -> None:
    (eye,) = (root for root in CASES if root.name == "eye-drainage")
    case = crossed(eye)
    deck = compose(case, Use.TEACHING)
    stills = [
        slide.headline for slide in takewhile(lambda one: not one.pause, deck.slides) if only_still(slide)
    ]
    assert stills  # the eye before entry
    copy = trainee.make(deck, case)
    assert all(slide.blocks for slide in copy.slides)
    assert not {slide.headline for slide in copy.slides} & set(stills)
    (chart,) = [
        block.chart for slide in copy.slides for block in slide.blocks if isinstance(block, TimeChart)
    ]
    assert chart.until is not None


def only_still(slide: Slide) -> bool:
    return all(isinstance(block, Picture) for block in slide.blocks)


def test_the_trainers_copy_leaves_the_caution_to_the_foot_of_its_pages() -> None:
    # Common practice, no source: a warning that stands twice on a page is read as padding.
    case = sample()
    deck = compose(case, Use.TEACHING)
    assert CAUTION.reveal() in told(deck.slides)
    assert CAUTION.reveal() not in told(trainer.make(deck, case).slides)


@pytest.mark.parametrize("root", CASES, ids=lambda path: path.name)
def test_the_trainer_has_every_prompt_and_every_answer(root: Path) -> None:
    case = crossed(root)
    deck = compose(case, Use.TEACHING)
    copy = told(trainer.make(deck, case).slides)
    assert all(note.reveal() in copy for slide in deck.slides for note in slide.notes)
    assert all(one.answer.reveal() in copy for one in case.questions if one.answer)


def test_the_chairs_clock_ends_with_the_budget() -> None:
    deck = compose(sample(), Use.REVIEW)
    copy = chair.make(deck, sample())
    assert copy.slides[0].headline.reveal() == "The clock runs like this."
    assert "The running order; it ends at 15:00" in told(copy.slides)


def test_the_chair_has_every_question_with_its_answer() -> None:
    case = sample()
    copy = told(chair.make(compose(case, Use.REVIEW), case).slides)
    assert all(one.ask.reveal() in copy and one.answer.reveal() in copy for one in case.questions)
    assert all(one.question.reveal() in copy for one in case.decisions)
    # A reason alone does not say for which of the options it is one.
    chosen = [one.options[one.chosen].what.reveal() for one in case.decisions]
    assert chosen
    assert all(f"The team chose: {what}" in copy for what in chosen)


def test_the_rehearsal_sheet_has_a_row_a_slide() -> None:
    deck = compose(sample(), Use.REVIEW)
    (slide,) = rehearsal.make(deck, sample()).slides
    (table,) = [block for block in slide.blocks if hasattr(block, "header")]
    assert len(table.rows) == len(deck.slides)
