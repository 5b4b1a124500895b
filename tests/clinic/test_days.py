"""Stretches of time with their days."""

from __future__ import annotations

import pytest

from mmbuilder.clinic import InputFault, work


def cold(stretch: str) -> str:
    return str(work("ischaemia time", {"kind": "cold", "from to": stretch}).answers[0])


@pytest.mark.parametrize(
    ("stretch", "minutes"),
    [
        # All computed by hand.
        ("day 0 18:00 to day 1 16:30", "1,350 min"),
        ("Day 0, 18:00 - Day 1, 16:30", "1,350 min"),
        ("day -1 18:00 to day 0 03:10", "550 min"),
        ("day 1 03:10 to 04:00", "50 min"),
        ("2024-02-28 20:00 to 2024-03-01 02:30", "1,830 min"),
        ("2023-02-28 20:00 to 2023-03-01 02:30", "390 min"),
        ("31 December 2030 20:00 to 1 Jan 2031 20:00", "1,440 min"),
        ("day 0 00:00 to day 7 00:00", "10,080 min"),
    ],
)
def test_the_length_is_counted_over_the_days(stretch: str, minutes: str) -> None:
    assert cold(stretch) == minutes


@pytest.mark.parametrize(
    ("stretch", "found"),
    [
        ("day 1 16:30 to day 0 18:00", "an end before its start"),
        ("day 1 16:30 to 15:00", "an end before its start"),
        ("day 0 16:30 to day 7 16:31", "more than 7 days"),
        ("day 0 16:30 to 2024-03-01 02:30", "not in its notation"),
        ("2023-02-29 20:00 to 2023-03-01 02:30", "not in its notation"),
        ("03/04/2025 20:00 to 04/04/2025 02:30", "not in its notation"),
        ("16:00 to 15:00", "an end before its start, or more than 20 hours after it"),
    ],
)
def test_what_runs_backwards_or_can_be_read_two_ways_is_refused_with_an_example(
    stretch: str, found: str
) -> None:
    with pytest.raises(InputFault) as told:
        cold(stretch)
    fault = told.value.faults[0]
    assert fault.found == found
    assert fault.example == "from to: day 0 18:00 to day 1 16:30"
    assert cold(fault.example.removeprefix("from to: ")) == "1,350 min"


def test_no_date_is_told_back() -> None:
    worked = work("ischaemia time", {"kind": "cold", "from to": "2024-02-28 20:00 to 2024-03-01 02:30"})
    assert "2024" not in repr(worked)
