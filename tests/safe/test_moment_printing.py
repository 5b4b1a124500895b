from __future__ import annotations

import pytest

from mmbuilder.safe.moment import DAY, SECOND, UNKNOWN, Elapsed, Known, Moment, between, clock, duration


@pytest.mark.parametrize(
    ("elapsed", "printed"),
    [
        (Elapsed(20, 60), "20 to 60 min"),
        (Elapsed(0, 0), "under 1 min"),
        (Elapsed(0, 0, SECOND), "under 1 s"),
        (Elapsed(0, DAY - 1, DAY), "0 to 1 day"),
        (Elapsed(4 * DAY, 5 * DAY, DAY), "4 to 5 days"),
        (Elapsed(DAY, DAY, DAY), "1 day"),
        (Elapsed(0, None), "unknown"),
        (Elapsed(5, None), "at least 5 min"),
        (Elapsed(None, None), "unknown"),
    ],
)
def test_a_length_is_printed_as_precisely_as_it_is_known(elapsed: Elapsed, printed: str) -> None:
    assert duration(elapsed).reveal() == printed


def test_an_end_after_an_unbounded_time_is_unknown_and_not_zero() -> None:
    start = Moment(10, 10, Known.EXACT)
    assert not between(start, Moment(5, None, Known.AFTER), ordered=True).known
    assert not between(start, UNKNOWN, ordered=True).known


def test_the_order_keeps_a_range_from_going_below_zero() -> None:
    # Source: practice.md (e)1: floor 0 only if the order is known.
    start, end = Moment(0, 20, Known.BETWEEN), Moment(10, 30, Known.BETWEEN)
    assert between(start, end, ordered=True).lo == 0
    assert between(start, end, ordered=False).lo == -10


@pytest.mark.parametrize(
    ("minutes", "precision", "printed"),
    [
        (0, 1, "T+0:00"),
        (-65, 1, "T−1:05"),
        (1439, 1, "T+23:59"),
        (1440, 1, "T+24 h"),
        (36 * 60 + 48, 5, "T+36 h 48"),
        (-(30 * 60 + 5), 1, "T−30 h 05"),
        (34 + 50 / 60, SECOND, "T+0:34:50"),
        (36 * 60 + 48, DAY, "Day 1"),
    ],
)
def test_from_a_day_on_a_time_cannot_be_read_as_minutes_and_seconds(
    minutes: float, precision: float, printed: str
) -> None:
    assert clock(Moment(minutes, minutes, Known.EXACT, precision)).reveal() == printed
