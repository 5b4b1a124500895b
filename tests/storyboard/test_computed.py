"""A figure that the case asks for reaches the paper with inputs, formula, source and caution, and nothing typed."""

from __future__ import annotations

from pathlib import Path

import pytest

from mmbuilder import apply, load_case, propose
from mmbuilder.safe.case import ScrubbedCase
from tests.casefile.minimal import changed, minimal_case
from tests.storyboard.paper import compose_handout
from tests.storyboard.telling import told

CASE = """
compute:
  - what: Mean arterial pressure
    from: [{name: systolic, value: 96 mmHg}, {name: diastolic, value: 51 mmHg}]
timeline:
  events:
    0:
      compute:
        - what: visual acuity
          from: [{name: acuity, value: HM}]
"""


@pytest.fixture
def case(tmp_path: Path) -> ScrubbedCase:
    folder = load_case(minimal_case(tmp_path, changed(CASE)))
    return apply(folder, propose(folder))


def test_the_worked_example_is_printed_with_all_it_came_from(case: ScrubbedCase) -> None:
    # 96/51 gives 66: practice, worked example of a mean arterial pressure; common practice, no source.
    text = told(compose_handout(case).slides)
    assert "66 mmHg" in text
    assert "systolic 96 mmHg" in text
    assert "(systolic + 2 × diastolic) ÷ 3" in text
    assert "not for treatment" in text


def test_what_sources_dispute_is_shown_with_both_results(case: ScrubbedCase) -> None:
    # Hand movements are 2.3 or 3.0 logMAR: check-values, both READ.
    text = told(compose_handout(case).slides)
    (figure,) = (figure for event in case.events for figure in event.computed)
    said = [answer.reveal() for answer in figure.disputed]
    assert [any(value in answer for answer in said) for value in ("2.3", "3.0")] == [True, True], said
    assert all(answer in text for answer in ("sources disagree", *said))


def test_the_working_is_behind_a_switch(case: ScrubbedCase) -> None:
    plain, whole = (told(compose_handout(case, working=on).slides) for on in (False, True))
    step = next(step.reveal() for figure in case.computed for step in figure.steps)
    assert step in whole
    assert step not in plain


def test_a_case_without_figures_says_what_is_left_out(tmp_path: Path) -> None:
    folder = load_case(minimal_case(tmp_path))
    board = compose_handout(apply(folder, propose(folder)))
    assert any("computed figures" in reason.reveal() for reason in board.left_out)
