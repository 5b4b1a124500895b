"""Signs of a grid filled in to be full: practice.md (c) 10, READ there; the cases are ours."""

from __future__ import annotations

from itertools import pairwise

import pytest

from mmbuilder.review.ticking import ALL_ROWS, Row, signs

ROWS = ("patient", "task", "individual", "team", "work environment", "organisation", "institution")
HONEST = (
    Row("patient", "Long eye, no vitreous", False),
    Row("task", "The tray has no infusion cannula", True),
    Row("team", "No agreed words for stopping", True),
)
ACTIONS = ("Cannula on every tray", "Teach the block")


def _said(factors=HONEST, actions=ACTIONS, went_well=2):
    return signs(factors, actions, went_well=went_well)


def test_an_honest_grid_is_left_alone():
    assert _said() == ()


def test_an_empty_grid_says_nothing():
    assert signs((), (), went_well=0) == ()


def test_plain_tuples_do():
    factor = ("team", "Communication", True)
    assert len(signs([Row(*factor)], (), went_well=1)) == 1


def test_all_rows_full():
    full = tuple(Row(row, f"Fact {place} of the day", True) for place, row in enumerate(ROWS))
    assert len(ROWS) == ALL_ROWS  # Vincent 1998, READ S51
    (said,) = _said(full)
    assert "all 7 rows" in said
    assert _said(full[:-1]) == ()


def test_the_same_sentence_in_three_rows():
    same = [
        Row(row, what, True)
        for row, what in zip(ROWS, ("No briefing.", "no briefing", "No  briefing!"), strict=False)
    ]
    (said,) = _said(same)
    assert "3 rows" in said
    assert _said(same[:2]) == ()


@pytest.mark.parametrize(
    ("what", "name"),
    [
        ("Communication", "communication"),
        ("Poor communication", "communication"),
        ("Communication failure between teams", "communication"),
        ("Miscommunication.", "communication"),
        ("Human factors", "human factors"),
        ("Human error", "human factors"),
    ],
)
def test_a_bare_word(what, name):
    (said,) = _said((Row("team", what, True),))
    assert f"'{name}'" in said


@pytest.mark.parametrize(
    "what",
    [
        "Communication of the drain by telephone, not written",
        "Human factors trainer away",
        "Factor VIII not in stock",
        "",
    ],
)
def test_a_word_with_its_fact_is_no_bare_word(what):
    assert _said((Row("team", what, True),)) == ()


def test_no_counterfactual_anywhere():
    (said,) = _said(tuple(factor._replace(counterfactual=False) for factor in HONEST))
    assert "would have been otherwise" in said


@pytest.mark.parametrize(
    "actions", [("Teach the block",), ("Training for staff", "Lecture on leaks", "One-off simulation day")]
)
def test_actions_all_training(actions):
    (said,) = _said(actions=actions)
    assert "every action is training" in said
    assert _said(actions=(*actions, "Checklist line")) == ()
    assert _said(actions=(*actions, "Speak to the network")) == ()


def test_nothing_that_went_well():
    (said,) = _said(went_well=0)
    assert "went well" in said


def test_all_at_once_and_none_twice():
    rows = tuple(Row(row, "Communication", False) for row in ROWS)
    said = signs(rows, ("Training",), went_well=0)
    assert len(said) == 6
    assert all(one != other for one, other in pairwise(sorted(said)))
