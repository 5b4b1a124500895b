"""Months that something has lasted since, told from Day 0. Sentences are invented; months counted by hand."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from mmbuilder.casefile import load
from mmbuilder.scrub import since_month
from mmbuilder.scrub.apply import apply
from mmbuilder.scrub.crossing.spoken import spoken
from mmbuilder.scrub.layers import NoNameModel
from mmbuilder.scrub.propose import propose
from mmbuilder.scrub.surrogates import is_stand_in
from tests.casefile.minimal import changed, minimal_case

ZERO, MEETING = date(2031, 11, 17), date(2031, 12, 2)
FACTOR = ("factors", 0, "what")


def told(said: str, path: tuple[str | int, ...] = FACTOR, meeting: date | None = MEETING) -> str | None:
    before = "known fault since "
    text = f"{before}{said}, not reported"
    found = since_month.told(path, text, len(before), len(before) + len(said), ZERO, meeting)
    return found and text[: found[0]] + found[1]


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("Sept", "for about 2 months"),
        ("May", "for about 6 months"),
        ("October", "since the month before"),
        ("Nov", "since the same month"),
        ("Sept 2031", "for about 2 months"),
        ("March 2030", "for about 20 months"),
        ("03/2030", "for about 20 months"),
        ("May 2028", "for about 3 years"),
    ],
)
def test_a_month_is_counted_back_from_day_zero(said: str, expected: str) -> None:
    assert told(said) == f"known fault {expected}"
    stand_in = expected.removeprefix("since ")
    assert is_stand_in(stand_in)
    assert spoken(stand_in).reveal() == stand_in


@pytest.mark.parametrize("said", ["April", "Dec", "Dec 2031", "13/2030", "4 Sept", "Christmas"])
def test_one_that_is_far_or_later_is_not(said: str) -> None:
    assert told(said) is None


def test_what_may_be_after_day_zero_is_not_counted() -> None:
    assert told("Sept", ("outcome", "summary")) is None
    assert told("Sept", ("actions", 0, "what")) is None
    assert told("Sept", meeting=date(2032, 8, 30)) == "known fault for about 2 months"
    assert told("Sept", meeting=date(2032, 9, 1)) is None


def test_only_what_lasted_since_it_is_told_so() -> None:
    text = "opened in Sept"
    assert since_month.told(FACTOR, text, 10, len(text), ZERO, MEETING) is None


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Since Sept off sick", "For about 2 months off sick"),
        ("off ever since Sept", "off for about 2 months"),
    ],
)
def test_what_stands_for_it_fits_its_sentence(text: str, expected: str) -> None:
    start = text.index("Sept")
    found = since_month.told(FACTOR, text, start, start + len("Sept"), ZERO, MEETING)
    assert found is not None
    assert text[: found[0]] + found[1] + text[start + len("Sept") :] == expected
    assert is_stand_in(found[1])
    assert spoken(found[1]).reveal() == found[1]


def test_in_a_case_it_stands_in_its_sentence(tmp_path: Path) -> None:
    change = """{background: "Known fault since Sept, seen in Sept", meeting: 2031-12-02,
      timeline: {day zero: 2031-11-17}}"""
    folder = load(minimal_case(tmp_path, changed(change)))
    case = apply(folder, propose(folder, names=NoNameModel()))
    assert case.background.reveal() == "Known fault for about 2 months, seen in [date]"
