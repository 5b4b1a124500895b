"""What comes in where the slides leave time, and goes again where they do not."""

from __future__ import annotations

from dataclasses import replace

import pytest

from mmbuilder import uses
from mmbuilder.safe.case import Factor, Option, Question, ScrubbedCase, Visit, Watch
from mmbuilder.safe.moment import DAY, Known, Moment
from mmbuilder.safe.terms import FactorRole, FactorRow, Use
from mmbuilder.safe.text import SafeText, wording
from mmbuilder.storyboard import compose
from mmbuilder.storyboard.blocks import Slide, Storyboard, Table
from mmbuilder.storyboard.timing import timing
from mmbuilder.storyboard.untold import untold
from tests.storyboard.paper import compose_handout
from tests.storyboard.sample import DECISIONS, at, sample, say
from tests.storyboard.telling import told

THIRD = replace(
    DECISIONS[1],
    number=3,
    event=6,
    at=at(40),
    question=wording("Go back, or on?"),
    options=(
        Option(wording("Back to the store"), wording("The wheel is known there")),
        Option(wording("On to the ward"), wording("It is waiting")),
    ),
)

LONG = " ".join(["word"] * 60)


def visit(day: int, note: str) -> Visit:
    return Visit(Moment(DAY * day, DAY * day, Known.EXACT, DAY), wording("Clinic"), note=say(note))


def roomy(**changes: object) -> ScrubbedCase:
    """A case with more than its use plans for, and all of it short."""
    factor = replace(sample().factors[0], actions=())
    factors = tuple(replace(factor, what=say(f"Cause {n}")) for n in range(1, 7))
    outcome = replace(sample().outcome, visits=(visit(7, "Seen at home"), visit(30, "Seen at work")))
    more: dict[str, object] = {
        "decisions": (*DECISIONS, THIRD),
        "factors": factors,
        "outcome": outcome,
        "questions": (),
    }
    return sample(**(more | changes))


def kinds(board: Storyboard) -> list[str]:
    return [slide.kind for slide in board.slides]


def of(board: Storyboard, kind: str) -> Slide:
    return next(slide for slide in board.slides if slide.kind == kind)


def left(case: ScrubbedCase) -> set[str]:
    return {one.what.reveal() for one in untold(case, compose(case).slides)}


# Which come in, and in which order: practice.md (a) 1. That they come in at all: common practice, no source.
def test_a_review_with_time_left_tells_more_causes_a_third_decision_and_the_visits() -> None:
    case = roomy()
    board = compose(case)
    (table,) = of(board, "cause_grid").blocks
    assert isinstance(table, Table)
    assert len(table.rows) == 6
    assert kinds(board).count("options") == 3
    assert not {"causes", "decisions with their alternatives", "visits"} & left(case)
    assert timing(board).fits
    assert sum(slide.seconds for slide in board.slides) == 15 * 60


def test_one_that_takes_long_to_tell_keeps_to_its_plan() -> None:
    told = replace(sample().outcome, told=say(" ".join([LONG] * 15)), visits=roomy().outcome.visits)
    case = roomy(outcome=told)
    assert kinds(compose(case)).count("options") == 2
    assert {"causes", "decisions with their alternatives"} <= left(case)


@pytest.mark.parametrize("questions", [(), sample().questions])
def test_no_more_comes_in_than_the_slides_that_are_allowed(questions: tuple[Question, ...]) -> None:
    # practice.md (a): more than eighteen slides kill a review.
    case = roomy(questions=questions)
    assert timing(compose(case)).sheets == 18
    # What a slide more has no place for stands in a line of one that is there.
    assert "follow_up" not in kinds(compose(case))
    rows = dict(of(compose(case), "outcome").blocks[0].rows)  # type: ignore[union-attr]
    assert "Seen at home" in rows[wording("Visits")].reveal()


def test_visits_have_a_slide_where_there_is_place_for_one() -> None:
    assert "follow_up" in kinds(compose(roomy(decisions=DECISIONS)))


def test_where_a_stop_does_not_fit_its_alternatives_stand_on_one_slide() -> None:
    case = roomy(questions=sample().questions)
    board = compose(case)
    assert kinds(board).count("options") == 2
    (table,) = of(board, "fair_alternatives").blocks
    assert isinstance(table, Table)
    assert [row[0].text for row in table.rows] == [THIRD.question]
    assert "decisions with their alternatives" not in left(case)


def test_nothing_comes_in_that_tells_nothing_more() -> None:
    case = roomy(decisions=DECISIONS, outcome=replace(sample().outcome, visits=()))
    board = compose(case)
    assert kinds(board).count("options") == 2
    assert not {"follow_up", "fair_alternatives"} & set(kinds(board))
    asked = sum(slide.seconds for slide in board.slides if slide.kind in ("frame", "options", "choice"))
    assert asked > 4.25 * 60  # what nobody needs is the pauses'


def test_what_is_added_gives_no_slide_less_than_its_words_take() -> None:
    board = compose(roomy())
    assert all(timed.over == 0 for timed in timing(board).slides if not timed.slide.pause)


def test_teaching_with_time_left_tells_what_was_changed() -> None:
    assert "actions" in kinds(compose(roomy(), Use.TEACHING))
    slow = replace(sample().outcome, told=say(" ".join([LONG] * 40)))
    assert "actions" not in kinds(compose(roomy(outcome=slow), Use.TEACHING))


@pytest.mark.parametrize("use", Use)
def test_every_further_step_has_its_place_in_the_use(use: Use) -> None:
    spec = uses.load(use)
    for step in spec.further:
        grown = step.added_to(spec)
        assert grown.planned(step.kind) != spec.planned(step.kind)
        assert bool(step.after) == (spec.planned(step.kind) is None)
        spec = grown


def test_a_cause_on_no_slide_is_told_by_its_sort() -> None:
    spare = Factor(FactorRow.ORGANISATION, FactorRole.INCIDENTAL, wording("Nobody had eaten"))
    case = sample(factors=(*sample().factors, spare))
    told: list[SafeText] = [one.told for one in untold(case, compose(case).slides)]
    # The second has no evidence, and is not counted among the strongest.
    assert {"1 of 2 causes", "incidental causes"} <= {text.reveal() for text in told}


WATCHED = (
    Watch(wording("Scan and stent out"), until=wording("50 days after this meeting")),
    Watch(wording("Haemoglobin"), wording("Day 90"), wording("below 100 g/L"), wording("family doctor")),
    Watch(wording("The other wheel")),
)


# Common practice, no source: what is booked and watched is what nobody may forget.
@pytest.mark.parametrize("use", [Use.REVIEW, Use.TEACHING])
def test_what_is_still_watched_and_to_come_stands_with_the_outcome(use: Use) -> None:
    visits = (visit(7, "Seen at home"), replace(visit(60, "Nerve test"), to_come=True))
    case = roomy(outcome=replace(sample().outcome, monitoring=WATCHED, visits=visits))
    rows = dict(of(compose(case, use), "outcome").blocks[0].rows)  # type: ignore[union-attr]
    assert rows[wording("Still watched")].reveal() == (
        "Scan and stent out (until 50 days after this meeting). "
        "Haemoglobin (until Day 90; below 100 g/L; family doctor). The other wheel."
    )
    assert rows[wording("To come")].reveal() == "Day 60 · Clinic: Nerve test."
    assert timing(compose(case, use)).fits


@pytest.mark.parametrize("use", [Use.REVIEW, Use.TEACHING])
def test_where_there_is_no_time_what_is_still_watched_stays_on_paper(use: Use) -> None:
    slow = replace(sample().outcome, told=say(" ".join([LONG] * 40)), monitoring=WATCHED)
    case = roomy(outcome=slow)
    deck = compose(case, use)
    assert wording("Still watched") not in dict(of(deck, "outcome").blocks[0].rows)  # type: ignore[union-attr]
    assert "The other wheel" in told(compose_handout(case, use).slides)
