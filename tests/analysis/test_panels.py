from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given, settings

from mmbuilder.analysis import Chart, build_timeline, cut
from mmbuilder.analysis.heart import heart
from mmbuilder.analysis.panels import MOST, skipped
from mmbuilder.analysis.timeline import Panel, Timeline
from mmbuilder.safe.case import ScrubbedCase, Series
from mmbuilder.safe.moment import DAY
from mmbuilder.safe.terms import EventKind
from tests.figures.samples import Story, eye, safe, vitals, ward
from tests.figures.stories import stories

K = EventKind
HOUR = 60.0


def panels(case: ScrubbedCase) -> tuple[Panel, ...]:
    return build_timeline(case).panels


@pytest.mark.parametrize(("case", "sign", "response"), [(eye(), 18, 32), (vitals(), 17, 31)])
def test_a_short_window_of_the_marks_is_a_panel_of_its_own(
    case: ScrubbedCase, sign: int, response: int
) -> None:
    made = panels(case)
    assert [panel.heart for panel in made] == [False, True, False]
    assert made[1].start < sign < response < made[1].end
    assert made[1].end - made[1].start < 2 * (response - sign)


def test_where_only_the_scale_changes_nothing_is_skipped() -> None:
    assert [words.reveal() for words in skipped(panels(eye()))] == ["", ""]


def test_a_long_course_is_told_in_minutes_hours_and_days() -> None:
    made = panels(ward())
    assert [panel.unit for panel in made] == ["min", "h", "h", "day"]
    assert [panel.heart for panel in made] == [False, False, True, False]
    assert [words.reveal() for words in skipped(made)] == ["29 h", "", "46 h"]


def test_a_window_as_long_as_the_story_is_not_enlarged() -> None:
    story = Story()
    for kind, minute in (
        (K.STEP, 0),
        (K.FIRST_SIGN, 5),
        (K.RECOGNITION, 50),
        (K.RESPONSE, 95),
        (K.STEP, 100),
    ):
        story.add(kind, "entry", minute)
    assert not any(panel.heart for panel in panels(story.case("start")))


def test_recognition_to_response_is_enlarged_where_the_sign_came_long_before() -> None:
    story = Story()
    for kind, hour in ((K.STEP, 0), (K.FIRST_SIGN, 20), (K.RECOGNITION, 80), (K.RESPONSE, 83), (K.STEP, 100)):
        story.add(kind, "entry", hour * HOUR)
    window = heart(build_timeline(story.case("start")).events, (0, 100 * HOUR))
    assert window is not None
    assert 75 * HOUR < window[0] < 80 * HOUR
    assert 83 * HOUR < window[1] < 86 * HOUR


def test_a_recognition_that_came_after_a_first_response_is_in_the_window() -> None:
    story = Story()
    for kind, minute in (
        (K.STEP, -420),
        (K.FIRST_SIGN, 0),
        (K.RESPONSE, 5),
        (K.RECOGNITION, 58),
        (K.STEP, 240),
    ):
        story.add(kind, "entry", minute)
    window = heart(build_timeline(story.case("first sign")).events, (-420, 240))
    assert window is not None
    assert -15 <= window[0] < 0
    assert 58 < window[1] <= 75


def test_the_operation_before_days_on_the_ward_has_a_panel_of_minutes() -> None:
    story = Story()
    for minute in (0, 20, 90, 140):
        story.add(K.STEP, "step", minute)
    for hour in range(20, 100, 4):
        story.add(K.READING, "round", hour * HOUR)
    first, *_, last = panels(story.case("start"))
    assert first.unit == "min"
    assert first.start <= 0 < 140 <= first.end < 20 * HOUR
    assert last.end >= 96 * HOUR


def test_a_lone_reading_days_before_takes_up_no_axis() -> None:
    story = Story()
    for minute in (0, 30, 60, 90):
        story.add(K.STEP, "step", minute)
    points = ((-6 * DAY, 128.0), *((float(minute), 110.0) for minute in range(0, 90, 10)))
    lone = Series(safe("haemoglobin"), safe("g/L"), points)
    made = panels(story.case("start", series=(lone,)))
    assert made[0].start == 0


def test_a_story_of_even_days_is_not_cut() -> None:
    story = Story()
    for day in range(8):
        story.add(K.NOTE, "round", day * DAY)
    assert [panel.unit for panel in panels(story.case("start"))] == ["day"]


@settings(max_examples=150, deadline=None)
@given(stories())
def test_panels_are_few_in_order_and_hold_every_event(case: ScrubbedCase) -> None:
    timeline: Timeline = build_timeline(case)
    made = timeline.panels
    assert len(made) <= MOST
    assert all(panel.start < panel.end for panel in made)
    assert all(before.end <= after.start for before, after in pairwise(made))
    assert sum(panel.heart for panel in made) <= 1
    for event in timeline.events:
        centre = event.at.centre
        assert centre is None or any(panel.start <= centre <= panel.end for panel in made)


def test_a_chart_that_stops_early_has_an_axis_of_its_own_with_a_little_blank_behind() -> None:
    story, later = Story(), Story()
    for told in (story, later):
        for minute in (0, 10, 30, 40):
            told.add(K.STEP, "step", minute)
    for minute in (55, 300, 9 * DAY):
        later.add(K.COMPLICATION, "harm", minute)
    cuts = [cut(Chart(build_timeline(told.case("start")), until=45)).panels for told in (story, later)]
    assert cuts[0] == cuts[1]  # nothing of what comes is told: not even how long it goes on
    (panel,) = cuts[0]
    assert panel.start <= 0
    assert 45 < panel.end <= 45 + (45 - panel.start) / 4


def test_a_chart_that_stops_long_after_the_last_event_skips_what_lies_between() -> None:
    story = Story()
    for minute in (0, 10, 30, 40):
        story.add(K.STEP, "step", minute)
    *before, last = cut(Chart(build_timeline(story.case("start")), until=3 * DAY)).panels
    assert before
    assert before[-1].end < last.start <= 3 * DAY < last.end


def test_a_chart_that_stops_before_anything_has_no_axis() -> None:
    story = Story()
    story.add(K.STEP, "step", 10)
    assert cut(Chart(build_timeline(story.case("start")), until=5)).panels == ()
