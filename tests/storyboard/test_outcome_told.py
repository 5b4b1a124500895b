"""How the patient was when last seen, on the slide of the outcome. Order and content: common practice, no source."""

from __future__ import annotations

from dataclasses import replace

from mmbuilder.safe.text import EMPTY
from mmbuilder.storyboard import compose
from mmbuilder.storyboard.blocks import Facts
from tests.storyboard.sample import sample


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
