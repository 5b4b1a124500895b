"""How the patient was when last seen, on the slide of the outcome. Order and content: common practice, no source."""

from __future__ import annotations

from dataclasses import replace

import pytest

from mmbuilder.safe.case import Grade, Visit
from mmbuilder.safe.moment import DAY, Known, Moment
from mmbuilder.safe.terms import Course, Scale, Use
from mmbuilder.safe.text import EMPTY, wording
from mmbuilder.storyboard import compose, compose_papers
from mmbuilder.storyboard.blocks import Facts
from tests.storyboard.paper import compose_handout
from tests.storyboard.sample import sample, say
from tests.storyboard.telling import told


def last_seen(**outcome: object) -> str | None:
    case = sample()
    changed = sample(outcome=replace(case.outcome, **outcome))
    (slide,) = (one for one in compose(changed).slides if one.kind == "outcome")
    (facts,) = slide.blocks
    assert isinstance(facts, Facts)
    return {label.reveal(): text.reveal() for label, text in facts.rows}.get("Last seen")


def test_it_is_what_the_author_wrote() -> None:
    assert last_seen() == "Nothing is left of it"


def test_where_nobody_wrote_it_it_is_the_last_visit() -> None:
    assert last_seen(last_state=EMPTY) == "Day 7 · Clinic: Mood good"


def test_without_a_visit_nothing_is_said() -> None:
    assert last_seen(last_state=EMPTY, visits=()) is None


def grades(*, paper: bool) -> list[str]:
    grade = Grade(
        Scale.CLAVIEN_DINDO,
        wording("IIIb"),
        wording("the wheel"),
        wording("The audit lead"),
        wording("Day 30"),
        (wording("operation under general anaesthesia"),),
    )
    case = sample(outcome=replace(sample().outcome, grades=(grade,)))
    deck = compose(case, Use.REVIEW)
    boards = [one.board for one in compose_papers(case, deck, Use.REVIEW) if one.slug == "handout"]
    slides = boards[0].slides if paper else deck.slides
    (slide,) = (one for one in slides if one.kind == "outcome")
    (told,) = slide.blocks
    assert isinstance(told, Facts)
    return [text.reveal() for label, text in told.rows if label.reveal() == "Clavien-Dindo"]


def test_a_slide_has_the_grade_who_gave_it_and_when_and_the_paper_what_it_was_given_for() -> None:
    # practice.md (a), slide 10 of a department review: grade, who (role), when graded; half a minute.
    assert grades(paper=False) == ["IIIb: the wheel (graded by the audit lead, Day 30)"]
    (written,) = grades(paper=True)
    assert "given for: operation under general anaesthesia" in written


def visit(day: int, note: str, *, to_come: bool = False) -> Visit:
    return Visit(Moment(DAY * day, DAY * day, Known.EXACT, DAY), EMPTY, note=say(note), to_come=to_come)


def test_visits_that_are_to_come_are_not_told_as_held() -> None:
    # Common practice, no source.
    visits = (visit(3, "Seen at home"), visit(42, "Nerve test", to_come=True))
    case = sample(outcome=replace(sample().outcome, last_state=EMPTY, visits=visits))
    assert last_seen(last_state=EMPTY, visits=visits) == "Day 3: Seen at home"
    paper = compose_handout(case)
    told_of = {slide.kind: slide for slide in paper.slides}
    assert told_of["follow_up"].headline.reveal() == "One visit so far, the last at Day 3; one to come."
    assert "Nerve test" not in told((told_of["follow_up"],))
    assert "Nerve test" in told((told_of["monitoring"],))


@pytest.mark.parametrize(
    ("course", "by", "prompt"),
    [
        (Course.HARM, ("audit lead",), "State each grade and who gave it."),
        (Course.HARM, ("", "audit lead"), "State each grade and who gave it."),
        (Course.HARM, ("",), "State each grade."),
        (Course.HARM, (), "It is not graded yet: say so."),
        (Course.NEAR_MISS, (), "Nothing reached the patient, so there is no grade: say so first."),
    ],
)
def test_the_presenter_is_asked_only_for_what_is_told(
    course: Course, by: tuple[str, ...], prompt: str
) -> None:
    given = tuple(Grade(Scale.CLAVIEN_DINDO, wording("I"), wording("delay"), say(one)) for one in by)
    case = sample(course=course, outcome=replace(sample().outcome, grades=given))
    (slide,) = (one for one in compose(case).slides if one.kind == "outcome")
    assert [note.reveal() for note in slide.notes] == [prompt]
