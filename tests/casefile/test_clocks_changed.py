"""A case over the hour at which clocks are changed: its intervals may be an hour wrong, and nothing shows it."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from mmbuilder.casefile import check
from mmbuilder.casefile.rules.clocks_changed import changes
from tests.casefile.minimal import changed, minimal_case


@pytest.mark.parametrize("year", range(2008, 2031))
def test_the_nights_are_those_of_the_tz_database(year: int) -> None:
    assert set(changes(year)) == {*_changed("Europe/Berlin", year), *_changed("America/New_York", year)}
    assert set(_changed("Europe/London", year)) == set(_changed("Europe/Berlin", year))


def _changed(zone: str, year: int) -> list[date]:
    noons = [datetime(year, 1, 1, 12, tzinfo=UTC) + timedelta(days=day) for day in range(366)]
    offsets = [noon.astimezone(ZoneInfo(zone)).utcoffset() for noon in noons]
    return [
        noon.date()
        for noon, before, after in zip(noons[1:], offsets, offsets[1:], strict=False)
        if before != after and noon.year == year
    ]


def told(folder: Path, zero: str, times: tuple[str, ...], clocks: str = "") -> list[int]:
    """Places of the events at which it is told."""
    events = ", ".join(f"{at}: {{when: {time}}}" for at, time in enumerate(times))
    change = f"{{timeline: {{day zero: {zero}, events: {{{events}}}}}{clocks}}}"
    root = minimal_case(folder, changed(change))
    lines = (root / "case.yaml").read_text("utf-8").splitlines()
    whens = [number for number, line in enumerate(lines, 1) if line.strip().startswith("when:")]
    found = check(root).problems
    assert all(time not in str(problem) for problem in found for time in (zero, *times))  # no date is told
    return [whens.index(one.line) for one in found if one.code == "clocks-changed"]


@pytest.mark.parametrize(
    ("zero", "times", "at"),
    [
        # Put forward in Europe on 31 March 2024, put back in North America on 3 November 2024.
        ("2024-03-30", ("2024-03-30 22:30", "2024-03-31 00:50", "2024-03-31 03:30", "2024-03-31 04:10"), [2]),
        ("2024-03-31", ("2024-03-31 00:30", "2024-03-31 00:50", "2024-03-31 00:55", "2024-03-31 05:10"), [3]),
        ("2024-11-02", ("2024-11-02 22:30", "2024-11-02 23:10", "2024-11-03 01:30", "2024-11-03 02:50"), [2]),
        # Over before it, begun after it, by day, a week on, days between.
        ("2024-03-30", ("2024-03-30 22:30", "2024-03-31 00:10", "2024-03-31 00:30", "2024-03-31 00:50"), []),
        ("2024-03-31", ("2024-03-31 03:30", "2024-03-31 04:10", "2024-03-31 04:30", "2024-03-31 05:50"), []),
        ("2024-03-30", ("2024-03-30 08:30", "2024-03-30 09:10", "2024-03-31 08:30", "2024-03-31 10:50"), []),
        ("2024-04-06", ("2024-04-06 22:30", "2024-04-07 00:50", "2024-04-07 03:30", "2024-04-07 04:10"), []),
        ("2024-03-28", ("2024-03-28 22:30", "2024-03-28 23:50", "2024-04-02 03:30", "2024-04-02 04:10"), []),
    ],
)
def test_an_interval_over_a_changed_clock_is_asked_about(
    tmp_path: Path, zero: str, times: tuple[str, ...], at: list[int]
) -> None:
    assert told(tmp_path, zero, times) == at


def test_a_clock_that_is_an_hour_off_answers_it(tmp_path: Path) -> None:
    times = ("2024-03-30 22:30", "2024-03-31 00:50", "2024-03-31 03:30", "2024-03-31 04:10")
    clocks = ", clocks: [{name: wall, reference: yes}, {name: changed clock, offset: -1 h}]"
    assert told(tmp_path, "2024-03-30", times, clocks) == []
