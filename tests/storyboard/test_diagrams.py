"""Diagrams: what is drawn, what is said beside it, and where they may stand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from mmbuilder import packs
from mmbuilder.analysis.barriers import Barriers
from mmbuilder.analysis.causes import Causes
from mmbuilder.analysis.marked_side import Marked
from mmbuilder.analysis.series import SeriesChart
from mmbuilder.safe.case import (
    Factor,
    Grade,
    Measure,
    Outcome,
    Plan,
    ScrubbedCase,
    Visit,
    Watch,
)
from mmbuilder.safe.moment import DAY, Known, Moment
from mmbuilder.safe.orientation import Finding, Orientation, orient
from mmbuilder.safe.terms import BarrierState, FactorRole, FactorRow, Scale, Seat, Side, Use, View
from mmbuilder.safe.text import SafeText, wording
from mmbuilder.storyboard import compose
from mmbuilder.storyboard.blocks import Diagram, Slide, Table
from tests.storyboard.paper import compose_handout
from tests.storyboard.sample import sample, say
from tests.storyboard.telling import told

HELD, FAILED, ABSENT = BarrierState.HELD, BarrierState.FAILED, BarrierState.ABSENT
OUTCOME = sample().outcome


def factor(what: str, barrier: str, state: BarrierState | None, **more: object) -> Factor:
    return replace(
        Factor(FactorRow.TASK, FactorRole.CONTRIBUTORY, say(what), barrier=say(barrier), barrier_state=state),
        **more,  # type: ignore[arg-type]
    )


FACTORS = (
    factor("no list", "tray list", HELD),
    factor("no time", "time out", FAILED),
    factor("no card", "stop card", ABSENT),
    factor("no card again", "stop card", ABSENT),
    factor("no rule", "written rule", None),
    factor("weather", "umbrella", FAILED, role=FactorRole.EXCLUDED),
)


def paper(case: ScrubbedCase, kind: str) -> Slide | None:
    slides = compose_handout(case, Use.TEACHING).slides
    return next((slide for slide in slides if slide.kind == kind), None)


def drawn(slide: Slide | None) -> Diagram:
    assert slide is not None
    (found,) = (block for block in slide.blocks if isinstance(block, Diagram))
    return found


def bars(slide: Slide | None) -> list[tuple[str, BarrierState]]:
    data = drawn(slide).data
    assert isinstance(data, Barriers)
    return [(bar.what.reveal(), bar.state) for bar in data.barriers]


def graded(scale: Scale, grade: str) -> Outcome:
    return replace(OUTCOME, grades=(Grade(scale, say(grade)),))


def visit(day: int, value: str) -> Visit:
    at = Moment(DAY * day, DAY * day, Known.EXACT, DAY)
    return Visit(at, wording("Clinic"), (Measure(wording("pressure"), say(value)),), wording("As before."))


# --- barriers ---------------------------------------------------------------------------------


def test_a_barrier_that_held_is_no_stop_where_harm_came() -> None:
    slide = paper(sample(factors=FACTORS), "barriers")
    assert bars(slide) == [("time out", FAILED), ("stop card", ABSENT)]
    data = drawn(slide).data
    assert isinstance(data, Barriers)
    assert data.stop is None
    assert drawn(slide).caption.reveal() == "Held, and not drawn: tray list. State not said: written rule."
    assert slide is not None
    assert slide.headline.reveal() == "Three barriers: one failed, one absent, one held."


def test_one_barrier_alone_is_not_counted() -> None:
    slide = paper(sample(factors=(FACTORS[1],)), "barriers")
    assert slide is not None
    assert slide.headline.reveal() == "One barrier, failed."


# Grades without harm: WHO ICPS "none" and AHRQ "none evident" by their words; NCC MERP, from memory.
@pytest.mark.parametrize(
    ("scale", "grade"),
    [(Scale.ICPS, "none"), (Scale.AHRQ, "none evident"), (Scale.NCC_MERP, "B"), (Scale.NCC_MERP, "D")],
)
def test_in_a_near_miss_all_stand_in_their_order_and_the_one_that_held_stops_it(
    scale: Scale, grade: str
) -> None:
    slide = paper(sample(factors=FACTORS[1:4] + FACTORS[:1], outcome=graded(scale, grade)), "barriers")
    assert bars(slide) == [("time out", FAILED), ("stop card", ABSENT), ("tray list", HELD)]
    data = drawn(slide).data
    assert isinstance(data, Barriers)
    assert data.stop == 2
    assert data.end.reveal() == "Harm to the patient"


@pytest.mark.parametrize(
    ("scale", "grade"), [(Scale.ICPS, "mild"), (Scale.NCC_MERP, "E"), (Scale.CLAVIEN_DINDO, "I")]
)
def test_a_grade_of_harm_is_no_near_miss(scale: Scale, grade: str) -> None:
    slide = paper(sample(factors=FACTORS, outcome=graded(scale, grade)), "barriers")
    assert HELD not in [state for _, state in bars(slide)]


def test_what_was_considered_and_excluded_has_no_barrier() -> None:
    assert "umbrella" not in told((paper(sample(factors=FACTORS), "barriers"),))  # type: ignore[arg-type]


@pytest.mark.parametrize("factors", [(), FACTORS[:1], FACTORS[4:]])
def test_without_barriers_to_draw_the_paper_says_why(factors: tuple[Factor, ...]) -> None:
    board = compose_handout(sample(factors=factors), Use.TEACHING)
    assert "barriers" not in {slide.kind for slide in board.slides}
    assert any(text.reveal().startswith("barriers: ") for text in board.left_out)


def test_the_path_begins_at_the_short_form_of_the_index_event() -> None:
    case = sample(factors=FACTORS)
    named = replace(case.events[0], what=case.zero, label=wording("Start"))
    for events, start in (((named, *case.events[1:]), "Start"), (case.events, "door opened")):
        data = drawn(paper(replace(case, events=events), "barriers")).data
        assert isinstance(data, Barriers)
        assert data.start.reveal() == start


# --- causes -----------------------------------------------------------------------------------


def test_the_cause_diagram_has_all_seven_rows_and_every_factor_with_its_role() -> None:
    # Rows: Vincent C, Taylor-Adams S, Stanhope N. BMJ 1998;316:1154-1157.
    case = sample(factors=(*sample().factors, *FACTORS))
    slide = paper(case, "cause_diagram")
    data = drawn(slide).data
    assert isinstance(data, Causes)
    assert [row.name.reveal() for row in data.rows] == [row.value for row in FactorRow]
    shown = {(row.name.reveal(), cause.what, cause.role) for row in data.rows for cause in row.causes}
    assert shown == {(found.row.value, found.what, found.role) for found in case.factors}
    assert data.event == case.title, "the author's neutral words"
    assert slide is not None
    assert slide.headline.reveal() == "One root cause and six contributory factors, on three levels."


def test_without_a_factor_that_played_a_part_there_is_no_cause_diagram() -> None:
    board = compose_handout(sample(factors=FACTORS[-1:]), Use.TEACHING)
    assert "cause_diagram" not in {slide.kind for slide in board.slides}
    assert any(text.reveal().startswith("cause diagram: ") for text in board.left_out)


# --- follow-up --------------------------------------------------------------------------------


def with_visits(*visits: Visit, specialty: SafeText | None = None) -> ScrubbedCase:
    changes: dict[str, object] = {"specialty": specialty} if specialty else {}
    return sample(outcome=replace(OUTCOME, visits=visits), **changes)


def test_follow_up_is_drawn_with_day_0_in_words_and_the_table_stays() -> None:
    eye = packs.load("ophthalmology")
    case = with_visits(visit(1, "38 mmHg"), visit(9, "18 mmHg"), specialty=eye.title)
    slide = paper(case, "follow_up")
    block = drawn(slide)
    assert isinstance(block.data, SeriesChart)
    assert (
        block.caption.reveal() == "Measured at each visit. Day 0 is the day of the index event: door opened."
    )
    (range_,) = [found for found in eye.references if "pressure" in found.names]
    assert any(range_.source in note.reveal() for note in block.notes), "the source of a range is told"
    assert slide is not None
    (table,) = (found for found in slide.blocks if isinstance(found, Table))
    assert [row[1].text.reveal() for row in table.rows] == ["pressure 38 mmHg", "pressure 18 mmHg"]


@pytest.mark.parametrize("visits", [(visit(1, "38 mmHg"),), (visit(1, "soft"), visit(9, "hard"))])
def test_what_makes_no_course_is_told_in_the_table_only(visits: tuple[Visit, ...]) -> None:
    slide = paper(with_visits(*visits), "follow_up")
    assert slide is not None
    assert [type(block) for block in slide.blocks] == [Table]


# --- monitoring and orientation ---------------------------------------------------------------


def test_what_is_still_watched_is_stamped_where_its_plan_is_not_whole() -> None:
    plan = (
        Watch(say("eye pressure"), say("Day 180"), say("above 25 mmHg"), say("eye clinic")),
        Watch(say("acuity"), say("Day 180")),
    )
    case = sample(outcome=replace(OUTCOME, monitoring=plan))
    (slide,) = (found for found in compose_handout(case).slides if found.kind == "monitoring")
    (table,) = slide.blocks
    assert isinstance(table, Table)
    assert [row[0].stamp.reveal() for row in table.rows] == ["", "INCOMPLETE: threshold, role"]
    assert [cell.text.reveal() for cell in table.rows[1]] == ["acuity", "Day 180", "not stated", "not stated"]
    assert slide.headline.reveal() == "Two things are still watched, of which 1 without a whole plan."
    board = compose_handout(sample())
    assert any(text.reveal().startswith("monitoring: ") for text in board.left_out)


def eye(side: Side, hour: int) -> ScrubbedCase:
    found = Finding(wording("main wound"), hour, View.ANATOMICAL, wound=True)
    told = orient(side, Seat.TEMPORAL, (found,))
    return sample(orientation=told, patient=replace(sample().patient, side=side))


def test_the_clock_face_tells_seat_and_hours_in_both_views() -> None:
    # A right eye's temporal side is at 9 on the face seen from the front. Geometry.
    slide = paper(eye(Side.RIGHT, 9), "orientation")
    data = drawn(slide).data
    assert isinstance(data, Orientation)
    assert [(place.anatomical, place.surgeon) for place in data.places] == [(9, 6)]
    assert slide is not None
    assert slide.headline.reveal() == "The surgeon sat at the temporal side of the right eye, at 9 o'clock."
    assert drawn(slide).notes == ()


def test_a_wound_that_cannot_lie_there_is_told_below_the_face() -> None:
    assert all(
        note.reveal().startswith("To be checked: ")
        for note in drawn(paper(eye(Side.RIGHT, 3), "orientation")).notes
    )
    assert drawn(paper(eye(Side.RIGHT, 3), "orientation")).notes


def test_without_hours_there_is_no_clock_face() -> None:
    board = compose_handout(sample(), Use.TEACHING)
    assert "orientation" not in {slide.kind for slide in board.slides}
    assert any(text.reveal().startswith("orientation: ") for text in board.left_out)


# --- the side of the body ---------------------------------------------------------------------


def sided(side: Side, specialty: str) -> ScrubbedCase:
    return sample(
        patient=replace(sample().patient, side=side),
        plan=Plan(wording("Transfer to the ward")),
        specialty=packs.load(specialty).title,
    )


@pytest.mark.parametrize("use", [Use.REVIEW, Use.TEACHING])
@pytest.mark.parametrize("specialty", ["general surgery", "anaesthesia"])
@pytest.mark.parametrize(
    ("side", "headline"),
    [
        (Side.RIGHT, "The side meant is the patient's right."),
        (Side.LEFT, "The side meant is the patient's left."),
        (Side.BOTH, "Both sides of the body are meant."),
    ],
)
def test_a_stated_side_is_drawn_on_a_body(side: Side, headline: str, specialty: str, use: Use) -> None:
    board = compose_handout(sided(side, specialty), use)
    (slide,) = (found for found in board.slides if found.kind == "orientation")
    assert drawn(slide).data == Marked(side)
    assert slide.headline.reveal() == headline
    assert drawn(slide).caption.reveal() == "Planned: Transfer to the ward."


@pytest.mark.parametrize(
    ("side", "specialty"), [(Side.NONE, "general surgery"), (Side.RIGHT, "ophthalmology")]
)
def test_without_a_side_or_for_an_eye_no_body_is_drawn(side: Side, specialty: str) -> None:
    board = compose_handout(sided(side, specialty))
    assert "orientation" not in {slide.kind for slide in board.slides}
    assert any(text.reveal().startswith("orientation: ") for text in board.left_out)


def test_an_eye_with_hours_has_its_face_whatever_the_specialty() -> None:
    case = replace(eye(Side.RIGHT, 9), specialty=packs.load("anaesthesia").title)
    assert isinstance(drawn(paper(case, "orientation")).data, Orientation)


# --- where they may stand ---------------------------------------------------------------------


@pytest.mark.parametrize("use", Use)
def test_no_diagram_stands_before_the_last_stop_of_the_story(use: Use) -> None:
    case = replace(sample(factors=FACTORS), outcome=replace(OUTCOME, visits=(visit(1, "9"), visit(9, "8"))))
    slides = compose(case, use).slides
    stops = [place for place, slide in enumerate(slides) if slide.pause and slide.kind != "questions"]
    diagrams = [
        place for place, slide in enumerate(slides) if any(isinstance(b, Diagram) for b in slide.blocks)
    ]
    assert all(place > max(stops, default=-1) for place in diagrams)
    assert diagrams or use is not Use.TEACHING


def test_the_review_has_its_diagrams_on_paper_only() -> None:
    case = sample(factors=FACTORS)
    assert not any(isinstance(block, Diagram) for slide in compose(case).slides for block in slide.blocks)
    kinds = [slide.kind for slide in compose_handout(case).slides]
    assert kinds.index("cause_diagram") < kinds.index("cause_grid_full") < kinds.index("barriers")
