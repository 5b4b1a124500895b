"""Scales of harm that part on the same facts are shown with both results and the reason."""

from __future__ import annotations

from pathlib import Path

from mmbuilder.casefile import load
from mmbuilder.scrub.apply import apply
from mmbuilder.scrub.layers import NoNameModel
from mmbuilder.scrub.propose import propose
from mmbuilder.storyboard import compose
from tests.casefile.minimal import changed, minimal_case
from tests.storyboard.telling import told

GRADES = """
outcome:
  harm: {reached: yes, care: monitoring}
  grades: [{scale: %s, grade: %s, by: audit lead, when: Day 30}]
"""


def _outcome(folder: Path, scale: str, grade: str) -> str:
    read = load(minimal_case(folder, changed(GRADES % (scale, grade))), None)
    case = apply(read, propose(read, names=NoNameModel()))
    board = compose(case, read.case.use)
    return told(tuple(slide for slide in board.slides if slide.kind == "outcome"))


def test_both_results_and_the_reason_stand_on_the_slide(tmp_path: Path) -> None:
    """Definitions READ in S71 (NCC MERP: D needed monitoring to rule out harm) and S69 (WHO: no treatment)."""
    words = _outcome(tmp_path, "NCC MERP", "D")
    assert "NCC MERP D, WHO ICPS none: both say no harm" in words


def test_a_case_that_grades_no_harm_is_told_no_degree_of_it(tmp_path: Path) -> None:
    words = _outcome(tmp_path, "ClassIntra", "not applicable")
    assert "WHO ICPS" not in words
    assert "NCC MERP" not in words
