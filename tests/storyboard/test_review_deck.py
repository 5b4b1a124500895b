"""The department review: eighteen slides at most, and what goes on one slide to keep to it.

Sources: practice.md (a) 1, its order, slides and minutes; "What kills it: >18 slides in 15 min".
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from mmbuilder import uses
from mmbuilder.safe.case import Factor, Option, Plan
from mmbuilder.safe.terms import FactorRole, FactorRow, Use
from mmbuilder.safe.text import EMPTY, wording
from mmbuilder.storyboard import compose
from mmbuilder.storyboard.blocks import Bullets, Facts, Picture, Slide, Table
from mmbuilder.storyboard.copies.rehearsal import make
from mmbuilder.storyboard.slides.cause_grid import differed
from mmbuilder.storyboard.timing import timing
from tests.storyboard.sample import DECISIONS, at, sample, say
from tests.storyboard.telling import told
from tests.storyboard.test_previous_actions import ROW

LONG = wording("It keeps the load level on every ramp and through every door of the way to the ward")


def kinds(slides: tuple[Slide, ...]) -> list[str]:
    return [slide.kind for slide in slides]


def of(kind: str, **changes: object) -> Slide:
    return next(slide for slide in compose(sample(**changes)).slides if slide.kind == kind)


def test_the_arrow_stands_beside_the_options_that_follow() -> None:
    # practice.md (a) 1, slide 6: same frame with arrow; options without the choice: PAUSE.
    slide = of("options")
    picture, *options = slide.blocks
    assert isinstance(picture, Picture)
    assert picture.arrows
    assert picture.caption.reveal() == "The axle stands out of line. Could be seen: A slow wheel."
    asked = [(block.heading, block.items) for block in options if isinstance(block, Bullets)]
    assert asked == [(option.what, (option.reason,)) for option in DECISIONS[0].options]
    assert slide.headline == DECISIONS[0].question
    assert (slide.pause, slide.beside) == (True, True)


@pytest.mark.parametrize("use", [Use.REVIEW, Use.TEACHING])
@pytest.mark.parametrize("event", [2, None])
def test_a_picture_of_another_event_stands_beside_no_options_and_takes_nothing_from_them(
    use: Use, event: int | None
) -> None:
    # practice.md (a): a pause slide carries one question; nobody can choose without what could be seen.
    (frame,) = sample().frames
    slides = compose(sample(frames=(replace(frame, event=event, at=at(10)),)), use).slides
    place = kinds(slides).index("options")
    assert "frame_marked" in kinds(slides[:place])
    known, table = slides[place].blocks
    assert known == Facts(((wording("Could be seen"), wording("A slow wheel.")),))
    assert isinstance(table, Table)


def test_what_could_be_seen_is_counted_with_the_words_below_a_picture() -> None:
    # Common practice, no source: of two that do not fit a slide each has its slide.
    much = replace(DECISIONS[0], visible=(LONG,) * 5)
    slides = compose(sample(decisions=(much, DECISIONS[1]))).slides
    assert kinds(slides)[4:7] == ["frame", "frame_marked", "options"]
    assert LONG.reveal() in told((slides[6],))


def test_what_is_too_long_for_a_column_has_a_slide_to_itself() -> None:
    many = replace(DECISIONS[0], options=(Option(wording("Go on"), LONG),) * 4)
    slides = compose(sample(decisions=(many, DECISIONS[1]))).slides
    assert kinds(slides)[4:7] == ["frame", "frame_marked", "options"]
    (frame,) = sample().frames
    slides = compose(
        sample(frames=(replace(frame, caption=wording("The axle stands out of line. " * 9)),))
    ).slides
    assert kinds(slides)[4:7] == ["frame", "frame_marked", "options"]


@pytest.mark.parametrize("use", [Use.TEACHING, Use.REPORT])
def test_other_uses_keep_the_arrow_on_a_slide_of_its_own(use: Use) -> None:
    assert "frame_marked" in kinds(compose(sample(), use).slides)


def test_what_held_and_what_helps_next_time_stand_side_by_side_before_the_actions() -> None:
    slides = compose(sample()).slides
    slide = of("held_and_learned")
    good, points = slide.blocks
    assert isinstance(good, Bullets)
    assert isinstance(points, Bullets)
    assert [item.reveal() for item in good.items] == ["The load was strapped (Checklist)"]
    assert points.items == sample().learning
    assert slide.headline.reveal() == "One thing held; one thing helps next time."
    assert kinds(slides).index("held_and_learned") < kinds(slides).index("actions")


def test_points_and_actions_of_a_hurried_note_begin_with_a_capital() -> None:
    hurried = say("bile in drain: call at once"), say("pH below 7.2: call")
    assert of("learning", learning=hurried, held=()).blocks == (
        Bullets((say("Bile in drain: call at once"), say("pH below 7.2: call"))),
    )
    table = of("actions", actions=(replace(sample().actions[0], what=say("add it to the check")),)).blocks[0]
    assert isinstance(table, Table)
    assert table.rows[0][0].text.reveal() == "A1 Add it to the check"


@pytest.mark.parametrize(("missing", "left"), [("held", "learning"), ("learning", "held")])
def test_one_of_them_alone_has_its_own_slide(missing: str, left: str) -> None:
    told_of = kinds(compose(sample(**{missing: ()})).slides)
    assert left in told_of
    assert "held_and_learned" not in told_of


def grid(count: int) -> Slide:
    factor = replace(sample().factors[0], by_about=wording("5 min"), would_move=None)
    bare = Factor(FactorRow.TEAM, FactorRole.CONTRIBUTORY, wording("No word passed on"))
    return of("cause_grid", factors=(*(factor,) * count, bare))


@pytest.mark.parametrize(("length", "said"), [("5 min", "by about 5 min"), ("about 5 min", "by about 5 min")])
def test_a_length_that_says_about_is_not_told_so_twice(length: str, said: str) -> None:
    factor = replace(sample().factors[0], by_about=say(length))
    assert f" {said}" in differed(factor).reveal()
    assert "about about" not in differed(factor).reveal()


def test_the_grid_shows_four_and_counts_what_has_evidence() -> None:
    slide = grid(6)
    (table,) = slide.blocks
    assert isinstance(table, Table)
    assert len(table.rows) == 4
    assert slide.headline.reveal() == "The strongest four of six factors, on one level."
    assert grid(4).headline.reveal() == "Four factors on one level made this more likely."


def test_the_grid_says_whether_and_its_notes_say_how_it_would_have_gone_differently() -> None:
    slide = grid(1)
    (table,) = slide.blocks
    assert isinstance(table, Table)
    (row,) = table.rows
    assert row[2].text.reveal() == (
        "The old wheel stayed in use. Different without it: probably, by about 5 min."
    )
    assert slide.notes[1].reveal() == ("No spare wheels in store. Without it: Wheel changed a week before.")
    assert slide.notes[-1].reveal().startswith("Nothing recorded under: patient, ")


def test_a_longer_case_is_told_which_slides_to_leave_out() -> None:
    board = compose(sample())
    longer = replace(
        board, slides=tuple(replace(one, sheets=2) for one in board.slides[:3]) + board.slides[3:]
    )
    timed = timing(longer)
    assert (timed.sheets, timed.most, timed.too_many) == (21, 18, 3)
    assert [one.slide.kind for one in timed.to_cut] == ["rescued", "follow_up", "questions"]
    paper = told(make(longer, sample()).slides)
    assert "21 slides, where 18 are allowed." in paper
    assert "To fit, leave out" in paper


def test_what_a_chair_asks_for_is_left_out_last() -> None:
    # Named by practice.md (a) 1: the patient, the first timeline, the previous actions. The others are not.
    cuts = {entry.kind: entry.cut for entry in uses.load(Use.REVIEW).slides if entry.cut}
    order = sorted(cuts, key=cuts.__getitem__)
    assert order == [
        "orientation",
        "questions",
        "rescued",
        "previous_actions",
        "timeline_before",
        "patient_and_plan",
    ]


@pytest.mark.parametrize("use", [Use.REVIEW, Use.TEACHING])
def test_where_both_would_stand_half_empty_the_patient_stands_with_the_situation(use: Use) -> None:
    few = {"background": EMPTY, "plan": Plan(wording("Transfer to the ward"), wording("Rest"))}
    slides = compose(sample(**few), use).slides
    assert "patient_and_plan" not in kinds(slides)
    situation = told((slides[kinds(slides).index("situation")],))
    assert all(said in situation for said in ("routine transfer", "None.", "Rest.", "first have been seen?"))
    assert "patient_and_plan" in kinds(compose(sample(), use).slides)


def test_where_there_are_too_many_slides_the_patient_stands_with_the_situation() -> None:
    # practice.md (a): more than eighteen slides kill a review.
    (frame,) = sample().frames
    apart = replace(frame, event=2, at=at(10))
    slides = compose(sample(frames=(apart,), previous=(ROW,))).slides
    assert len(slides) == 18
    assert "patient_and_plan" not in kinds(slides)
    assert "Delay at the lift" in told((slides[kinds(slides).index("situation")],))
    assert "patient_and_plan" in kinds(compose(sample(frames=(apart,))).slides)
