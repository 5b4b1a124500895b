"""Near misses, deaths, mechanism and rescue: what the kind of story adds."""

from __future__ import annotations

from dataclasses import replace

import pytest

from mmbuilder.analysis.barriers import Barriers
from mmbuilder.safe.case import Governance, Grade, Harm, Mechanism
from mmbuilder.safe.terms import (
    BarrierState,
    Care,
    Course,
    EventKind,
    Loss,
    Scale,
    Symptoms,
    Use,
    YesNo,
)
from mmbuilder.safe.terms import grade as graded
from mmbuilder.safe.text import wording
from mmbuilder.storyboard import compose
from mmbuilder.storyboard.blocks import Diagram
from tests.storyboard.paper import compose_handout
from tests.storyboard.sample import sample
from tests.storyboard.telling import told
from tests.storyboard.test_diagrams import FACTORS


def kinds(use: Use, course: Course) -> list[str]:
    return [slide.kind for slide in compose(sample(course=course, factors=FACTORS), use).slides]


# Practice notes, variants of the four uses: common practice, no source.
@pytest.mark.parametrize("use", [Use.REVIEW, Use.TEACHING])
def test_a_near_miss_shows_its_barriers(use: Use) -> None:
    assert "barriers" in kinds(use, Course.NEAR_MISS)
    assert "barriers" not in kinds(use, Course.HARM)


def test_a_near_miss_reaches_no_grade() -> None:
    case = sample()
    case = replace(case, course=Course.NEAR_MISS, outcome=replace(case.outcome, grades=()))
    assert "None reached" in told(compose(case, Use.REVIEW).slides)
    assert "Not graded yet" not in told(compose(case, Use.REVIEW).slides)


@pytest.mark.parametrize("use", [Use.REVIEW, Use.TEACHING])
def test_after_a_death_disclosure_comes_before_causes(use: Use) -> None:
    shown = [slide.kind for slide in compose(sample(course=Course.DEATH), use).slides]
    causes = [shown.index(kind) for kind in ("cause_grid", "cause_diagram") if kind in shown]
    assert shown.index("disclosure") < min(causes)


@pytest.mark.parametrize(
    ("coroner", "hold", "words"),
    [
        (YesNo.YES, YesNo.YES, "With the coroner and on legal hold: internal only."),
        (YesNo.YES, YesNo.NO, "With the coroner: internal only."),
        (YesNo.NO, YesNo.YES, "On legal hold: internal only."),
        (YesNo.NO, YesNo.NO, "Not with the coroner; no legal hold."),
        (YesNo.NO, YesNo.UNKNOWN, "Legal hold not recorded: internal only."),
        (YesNo.UNKNOWN, YesNo.NO, "Coroner not recorded: internal only."),
        (YesNo.UNKNOWN, YesNo.UNKNOWN, "Coroner and legal hold not recorded: internal only."),
    ],
)
def test_after_a_death_every_slide_says_where_the_law_stands(coroner: YesNo, hold: YesNo, words: str) -> None:
    case = replace(sample(), course=Course.DEATH, governance=Governance(coroner=coroner, legal_hold=hold))
    assert words in compose(case, Use.REVIEW).banner.reveal()


@pytest.mark.parametrize("course", Course)
@pytest.mark.parametrize("use", [Use.REVIEW, Use.TEACHING])
def test_what_is_added_takes_its_time_from_the_pauses(use: Use, course: Course) -> None:
    board = compose(replace(sample(), course=course), use)
    minutes = {Use.REVIEW: 15, Use.TEACHING: 20}[use]
    assert sum(slide.seconds for slide in board.slides) == minutes * 60
    assert min(slide.seconds for slide in board.slides if slide.pause) >= 30


# Common practice, no source: what reached nobody is no complication, also where no barrier is known to have held.
@pytest.mark.parametrize(("held", "end"), [(True, "Harm to the patient"), (False, "The near miss")])
def test_the_barriers_of_a_near_miss_lead_to_no_complication(held: bool, end: str) -> None:
    factors = tuple(one for one in FACTORS if held or one.barrier_state is not BarrierState.HELD)
    slides = compose(sample(course=Course.NEAR_MISS, factors=factors), Use.REVIEW).slides
    (drawn,) = next(slide for slide in slides if slide.kind == "barriers").blocks
    assert isinstance(drawn, Diagram)
    assert isinstance(drawn.data, Barriers)
    assert drawn.data.end.reveal() == end
    assert ("which barrier held is not recorded" in drawn.caption.reveal()) != held


@pytest.mark.parametrize("use", [Use.REVIEW, Use.TEACHING])
def test_what_the_family_was_told_stands_once_in_a_deck_and_also_on_paper(use: Use) -> None:
    outcome = replace(sample().outcome, told=wording("Her son was told the same evening"))
    case = sample(course=Course.DEATH, outcome=outcome)
    assert [slide.kind for slide in compose(case, use).slides if "same evening" in told((slide,))] == [
        "disclosure"
    ]
    assert "same evening" in told(compose_handout(case, use).slides)
    harmed = replace(case, course=Course.HARM)
    assert "same evening" in told(compose(harmed, use).slides)


def test_the_drawing_of_the_mechanism_is_not_a_still_of_the_story() -> None:
    case = replace(sample(), mechanism=Mechanism((wording("First the wound leaks."),), 1))
    with_it = compose(case, Use.TEACHING)
    (slide,) = [one for one in with_it.slides if one.kind == "mechanism"]
    assert slide.beside
    assert sum(one.kind == "frame_marked" for one in with_it.slides) == len(case.frames) - 1


def test_rescue_steps_are_told_in_order() -> None:
    case = replace(sample(), rescue=(wording("Stop."), wording("Say it.")))
    (slide,) = [one for one in compose(case, Use.TEACHING).slides if one.kind == "rescue"]
    assert [text.reveal() for text in slide.blocks[0].items] == ["Stop.", "Say it."]


def headlines(course: Course, use: Use, **parts: object) -> dict[str, str]:
    case = replace(sample(course=course, factors=FACTORS), rescue=(wording("Say stop."),), **parts)
    return {slide.kind: slide.headline.reveal() for slide in compose(case, use).slides}


# Common practice, no source: nobody is rescued from what did not reach them, and a death is no rescue that went well.
@pytest.mark.parametrize(
    ("course", "told"),
    [
        (Course.HARM, "This is how the rescue went"),
        (Course.NEAR_MISS, "This is how it was stopped"),
        (Course.DEATH, "This is what was done"),
    ],
)
def test_what_was_done_is_called_a_rescue_only_after_harm(course: Course, told: str) -> None:
    shown = headlines(course, Use.TEACHING)
    assert shown["rescued"].startswith(told)
    assert shown["rescue"].startswith("To stop it" if course is Course.NEAR_MISS else "The rescue has")


@pytest.mark.parametrize("course", [Course.NEAR_MISS, Course.DEATH])
def test_the_end_of_a_near_miss_or_a_death_is_not_headed_by_its_grade(course: Course) -> None:
    outcome = replace(sample().outcome, summary=wording("long " * 40), grades=())
    assert headlines(course, Use.REVIEW, outcome=outcome)["outcome"] == "This is how it ended."


def test_of_a_death_no_degree_of_harm_is_told_beside_it() -> None:
    harm = Harm(
        occurred=True,
        reached=True,
        symptoms=Symptoms.MARKED,
        care=Care.LIFE_SUPPORT,
        longer_stay=True,
        loss=Loss.MAJOR,
        died=True,
    )
    grade = Grade(
        Scale.CLAVIEN_DINDO,
        graded(Scale.CLAVIEN_DINDO, "V"),
        wording("Bleeding."),
        treatments=(wording("death"),),
    )
    outcome = replace(sample().outcome, harm=harm, grades=(grade,))
    paper = told(compose_handout(sample(course=Course.DEATH, outcome=outcome), Use.REVIEW).slides)
    assert "The patient died" in paper
    assert "extra care" not in paper
    assert "given for" not in paper


def test_nobody_waits_for_a_resolution_after_a_death() -> None:
    events = tuple(event for event in sample().events if event.kind is not EventKind.RESOLUTION)
    for course, left in ((Course.HARM, True), (Course.DEATH, False)):
        case = sample(course=course, events=events)
        assert ("resolution" in told(compose_handout(case, Use.REVIEW).slides)) == left


@pytest.mark.parametrize("use", [Use.REVIEW, Use.TEACHING])
def test_after_a_death_nothing_looks_for_a_cause_before_the_family(use: Use) -> None:
    case = replace(
        sample(course=Course.DEATH, factors=FACTORS), mechanism=Mechanism((wording("First it tore."),))
    )
    for shown, first in ((compose(case, use), "disclosure"), (compose_handout(case, use), "outcome")):
        kinds = [slide.kind for slide in shown.slides]
        causes = ("looking_back", "mechanism", "cause_grid", "cause_diagram", "cause_grid_full")
        assert kinds.index(first) < min(kinds.index(kind) for kind in causes if kind in kinds)


def test_the_barriers_of_a_near_miss_stand_before_a_hazard() -> None:
    for use in (Use.REVIEW, Use.TEACHING, Use.REPORT):
        slides = compose(sample(course=Course.NEAR_MISS, factors=FACTORS), use).slides
        (drawn,) = next(slide for slide in slides if slide.kind == "barriers").blocks
        assert drawn.data.start.reveal() == "The hazard"  # type: ignore[union-attr]
