from __future__ import annotations

from mmbuilder.analysis import Chart, build_timeline, describe
from tests.figures.samples import eye


def test_the_whole_is_counted_and_its_marks_and_intervals_told() -> None:
    told = describe(Chart(build_timeline(eye()), brackets=True)).reveal()
    assert told.startswith("Timeline: 11 events, 1 decision; T+0 is incision.")
    assert "Recognition T+0:29" in told
    assert "First sign to recognition: 11 min or 9 min" in told


def test_a_cut_tells_nothing_of_what_it_does_not_show() -> None:
    told = describe(Chart(build_timeline(eye()), until=17, brackets=True)).reveal()
    assert told == "Timeline up to T+0:17: 2 events; T+0 is incision."
