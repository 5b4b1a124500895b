"""A private reflection: three to five slides, two pages under headings, a line of support that names nobody."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from pypdf import PdfReader

from mmbuilder.casefile import load
from mmbuilder.errors import CaseInvalid
from mmbuilder.pipeline import BuildOptions, build
from mmbuilder.safe.case import Reflection, Thought
from mmbuilder.safe.terms import Headings, Use
from mmbuilder.safe.text import wording
from mmbuilder.storyboard import compose, compose_papers
from mmbuilder.storyboard.timing import guessed
from tests.storyboard.sample import at, sample
from tests.storyboard.telling import told

TOLD = Reflection(
    Headings.GIBBS,
    feelings=(wording("A cold minute."),),
    thoughts=(Thought(1, wording("It will be the left door.")),),
    control=(wording("Saying it aloud."),),
    escalate=(wording("The rota, to the lead."),),
    change=wording("I stop at the second sign."),
    change_by=wording("Day 38"),
)


def written(headings: Headings) -> list[str]:
    case = sample(reflection=Reflection(**{**vars(TOLD), "headings": headings}))
    papers = compose_papers(case, compose(case, Use.REFLECTION), Use.REFLECTION)
    (paper,) = [one for one in papers if one.slug == "written-reflection"]
    return [slide.headline.reveal() for slide in paper.board.slides]


# Three to five slides: common practice, no source.
def test_three_to_five_slides_in_the_order_of_a_reflection() -> None:
    board = compose(sample(reflection=TOLD), Use.REFLECTION)
    kinds = [slide.kind for slide in board.slides]
    assert kinds == ["timeline_whole", "known_when", "fair_alternatives", "in_my_hands", "one_change"]


# Gibbs 1988 and Rolfe, Freshwater and Jasper 2001, from memory.
def test_the_headings_are_those_of_the_model_the_author_chose() -> None:
    assert written(Headings.GIBBS) == [
        "Description",
        "Feelings",
        "Evaluation",
        "Analysis",
        "Conclusion",
        "Action plan",
    ]
    assert written(Headings.ROLFE) == ["What?", "So what?", "Now what?"]


def test_a_thought_stands_beside_the_fact() -> None:
    (slide,) = [
        one for one in compose(sample(reflection=TOLD), Use.REFLECTION).slides if one.kind == "known_when"
    ]
    rows = [[cell.text.reveal() for cell in row] for row in slide.blocks[0].rows]
    fact = f"{sample().events[0].what.reveal()}."
    assert [fact, "It will be the left door."] in [row[1:] for row in rows]


def test_of_too_many_decisions_those_with_a_thought_stay_on_the_slides() -> None:
    reasons = wording("There was time, and there was somebody to ask, and nobody had said otherwise. " * 2)
    first = replace(sample().decisions[0], because=reasons)
    made = [replace(first, number=n, event=n, at=at(n), question=wording(f"Way {n}?")) for n in range(1, 7)]
    told_of = replace(TOLD, thoughts=(Thought(5, wording("Left.")), Thought(6, wording("Right."))))
    case = sample(reflection=told_of, decisions=tuple(made))
    board = compose(case, Use.REFLECTION)
    assert sum(map(guessed, board.slides)) <= 5
    (slide,) = [one for one in board.slides if one.kind == "fair_alternatives"]
    asked = [row[0].text.reveal() for row in slide.blocks[0].rows]
    assert asked[-2:] == ["Way 5?", "Way 6?"]
    assert len(asked) < len(made)
    text = told(compose_papers(case, board, Use.REFLECTION)[0].board.slides)
    assert all(one.question.reveal() in text for one in made)


def test_where_a_decision_lists_nothing_that_could_be_seen_its_event_was() -> None:
    case = sample(reflection=TOLD, decisions=tuple(replace(one, visible=()) for one in sample().decisions))
    (slide,) = [one for one in compose(case, Use.REFLECTION).slides if one.kind == "known_when"]
    seen = [row[1].text.reveal() for row in slide.blocks[0].rows]
    events = {event.number: event.what.reveal() for event in case.events}
    assert {f"{events[one.event]}." for one in case.decisions} <= set(seen)
    assert all(seen)


def test_a_change_without_a_date_says_so() -> None:
    case = sample(reflection=Reflection(Headings.GIBBS, change=wording("I stop.")))
    assert "NO DATE YET" in told(compose(case, Use.REFLECTION).slides)


def test_a_change_says_by_its_month_that_it_is_due_then() -> None:
    for day in ("August", "in a year or later"):
        case = sample(
            reflection=Reflection(Headings.GIBBS, change=wording("I stop."), change_by=wording(day))
        )
        (slide,) = [one for one in compose(case, Use.REFLECTION).slides if one.kind == "one_change"]
        assert slide.blocks[0].cue.reveal() == f"Due: {day}"


def department(case: Path, line: str) -> None:
    (case.parent / "department.yaml").write_text(f"support: {line}\n", "utf-8")


@pytest.fixture
def case(tmp_path: Path, seen: Path) -> Path:
    import shutil

    from mmbuilder import resources

    root = next(path for path in resources.bundled_cases() if path.name.startswith("eye"))
    return Path(shutil.copytree(root, tmp_path / "cases" / "eye"))


def test_the_line_of_support_comes_from_the_department(case: Path, tmp_path: Path) -> None:
    department(case, "Talk to the staff support lead")
    report = build(case, BuildOptions(tmp_path / "out", Use.REFLECTION, skip_names=True))
    text = " ".join(page.extract_text() for page in PdfReader(report.papers[0]).pages)
    assert "Talk to the staff support lead" in " ".join(text.split())


@pytest.mark.parametrize("line", ["Ring Dr Ollivander Quench", "Ring 020 7946 0018", "Mail help@example.org"])
def test_a_line_of_support_that_names_somebody_is_refused(line: str, case: Path, tmp_path: Path) -> None:
    department(case, line)
    with pytest.raises(CaseInvalid) as caught:
        build(case, BuildOptions(tmp_path / "out", Use.REFLECTION, skip_names=True))
    (problem,) = caught.value.problems
    assert problem.code == "support-names-somebody"
    assert line not in repr(problem)


def test_a_wrong_key_in_the_settings_is_told_with_its_line(case: Path) -> None:
    (case.parent / "department.yaml").write_text("papper: a4\n", "utf-8")
    with pytest.raises(CaseInvalid) as caught:
        load(case)
    assert [(one.code, one.line) for one in caught.value.problems if one.stops] == [("unknown-key", 1)]
