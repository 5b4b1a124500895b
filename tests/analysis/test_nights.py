"""Midnights and nights in minutes from the index event, held against the calendar of the standard library."""

from __future__ import annotations

from datetime import UTC, datetime, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mmbuilder.analysis.nights import later, midnights, nights, said
from mmbuilder.safe.case import DayAndNight

INDEX = datetime(2001, 2, 3, tzinfo=UTC)
MINUTES = st.integers(0, 1439)


def known(of_day: int, dusk: int = 1200, dawn: int = 480) -> DayAndNight:
    return DayAndNight(1440.0 - of_day, float(dusk), float(dawn))


@given(MINUTES, st.integers(-4000, 4000), st.integers(0, 12000))
def test_midnights_are_those_of_the_calendar(of_day: int, start: int, length: int) -> None:
    index = INDEX + timedelta(minutes=of_day)
    expected = [
        (float(minute), (index + timedelta(minutes=minute)).date().toordinal() - index.date().toordinal())
        for minute in range(start, start + length + 1)
        if (index + timedelta(minutes=minute)).time() == time.min
    ]
    assert list(midnights(known(of_day), start, start + length)) == expected


@given(MINUTES, st.integers(-3000, 3000), MINUTES, MINUTES)
def test_a_minute_is_in_a_night_by_its_time_of_day(of_day: int, start: int, dusk: int, dawn: int) -> None:
    end = start + 4500
    found = list(nights(known(of_day, dusk, dawn), start, end))
    assert all(start <= lo < hi <= end for lo, hi in found)
    index = INDEX + timedelta(minutes=of_day)
    for minute in range(start, end, 7):
        clock = index + timedelta(minutes=minute)
        face = clock.hour * 60 + clock.minute
        dark = dusk <= face < dawn if dusk <= dawn else face >= dusk or face < dawn
        assert any(lo <= minute < hi for lo, hi in found) is dark


def test_a_night_that_is_not_shown_is_none() -> None:
    assert list(nights(DayAndNight(600.0), -3000, 3000)) == []
    assert not said(DayAndNight(600.0))


def test_hours_are_said_and_whose_they_are() -> None:
    ours = DayAndNight(600.0, 1200.0, 480.0, usual=True)
    assert said(ours).reveal() == "shaded: night, 20:00 to 08:00 (common practice, no source)"
    assert said(DayAndNight(600.0, 1290.0, 420.0)).reveal() == "shaded: night, 21:30 to 07:00"


@pytest.mark.parametrize(("days", "told"), [(1, "+1 day"), (2, "+2 days"), (-1, "−1 day"), (0, "day of T+0")])
def test_days_later(days: int, told: str) -> None:
    assert later(days).reveal() == told
