"""When something is due: a day as it is, a length from the meeting as the day it ends on."""

from __future__ import annotations

from datetime import date

import pytest

from mmbuilder.case.due import day_due
from mmbuilder.case.freetext import FreeText

MEETING = date(2031, 11, 6)


# By the calendar, by hand.
@pytest.mark.parametrize(
    ("words", "day"),
    [
        ("1 Feb 2032", date(2032, 2, 1)),
        ("in three months", date(2032, 2, 6)),
        ("4 weeks after this meeting", date(2031, 12, 4)),
        ("within 10 days of the meeting", date(2031, 11, 16)),
        ("In a year.", date(2032, 11, 6)),
        ("in drei Monaten", date(2032, 2, 6)),
        ("innerhalb von 2 Wochen", date(2031, 11, 20)),
        ("Dec 2031", date(2031, 12, 31)),
        ("by the end of February 2032", date(2032, 2, 29)),
    ],
)
def test_a_day_and_a_length_are_read(words: str, day: date) -> None:
    assert day_due(FreeText(words), MEETING) == day


def test_a_month_without_that_day_ends_on_its_last() -> None:
    assert day_due(FreeText("in one month"), date(2032, 1, 31)) == date(2032, 2, 29)


@pytest.mark.parametrize(
    "words", ["next audit", "soon", "three months after the next audit", "in months", "Dec", "mid Jan 2032"]
)
def test_what_cannot_be_counted_from_the_meeting_is_no_day(words: str) -> None:
    assert day_due(FreeText(words), MEETING) is None


def test_without_a_meeting_a_length_is_no_day() -> None:
    assert day_due(FreeText("in three months"), None) is None
    assert day_due(None, MEETING) is None
