"""Where midnight lies and what counts as night cross the line as minutes; no date and no hour of a person does."""

from __future__ import annotations

from pathlib import Path

import pytest

from mmbuilder.casefile import check
from mmbuilder.safe.case import DayAndNight
from mmbuilder.scrub.apply import apply
from mmbuilder.scrub.layers import NoNameModel
from mmbuilder.scrub.propose import propose
from tests.scrub.small_case import CASE, small

ZERO = "  day zero: 2026-03-14\n"


def crossed(root: Path, more: str = "", index: str = '"14:20"') -> DayAndNight | None:
    case = CASE.replace(ZERO, ZERO + more).replace('"14:20"', index)
    folder = small(root, case)
    return apply(folder, propose(folder, names=NoNameModel())).day_and_night


def test_midnight_is_told_in_minutes_from_the_index_event(tmp_path: Path) -> None:
    # 24:00 less 14:20 is 9 h 40 min.
    assert crossed(tmp_path / "case") == DayAndNight(580.0)


def test_nights_are_shown_only_where_the_author_says_that_they_matter(tmp_path: Path) -> None:
    assert crossed(tmp_path / "a", "  night: no\n") == DayAndNight(580.0)
    assert crossed(tmp_path / "b", "  night: yes\n") == DayAndNight(580.0, 1200.0, 480.0, usual=True)


def test_hours_of_the_author_come_first(tmp_path: Path) -> None:
    more = '  night: yes\n  night from: "21:30"\n  night to: 0700\n'
    assert crossed(tmp_path / "case", more) == DayAndNight(580.0, 1290.0, 420.0)


def test_without_an_hour_of_the_index_event_no_midnight_is_made_up(tmp_path: Path) -> None:
    assert crossed(tmp_path / "case", index="between 14:12 and 15:30") is None


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ('  night: yes\n  night to: "07:00"\n', "night has one end only"),
        ('  night from: "21:00"\n  night to: "07:00"\n', "no night is shown"),
        ('  night: yes\n  night from: day 1 21:00\n  night to: "07:00"\n', "a time of day"),
    ],
)
def test_hours_that_cannot_be_meant_are_told(tmp_path: Path, more: str, told: str) -> None:
    folder = small(tmp_path / "case")
    file = folder.root / "case.yaml"
    file.write_text(CASE.replace(ZERO, ZERO + more), encoding="utf-8")
    (problem,) = (one for one in check(folder.root).problems if one.code == "night-half-said")
    assert told in problem.text
    assert problem.line > 0
