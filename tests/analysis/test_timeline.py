from __future__ import annotations

from mmbuilder.analysis import build_timeline
from mmbuilder.analysis.panels import skipped
from mmbuilder.analysis.timeline import Mark
from mmbuilder.safe.moment import DAY
from mmbuilder.safe.terms import EventKind
from tests.figures.samples import UNKNOWN, Story, eye, vitals, ward

K = EventKind


def test_events_follow_time_and_one_without_a_time_stays_where_it_was_told() -> None:
    story = Story()
    story.add(K.STEP, "second", 20)
    story.add(K.NOTE, "told after the second", UNKNOWN)
    story.add(K.STEP, "first", 10)
    order = [event.what.reveal() for event in build_timeline(story.case("start")).events]
    assert order == ["first", "second", "told after the second"]


def test_several_first_signs_and_recognitions_are_kept() -> None:
    marks = dict(build_timeline(ward()).marks)
    assert len(marks[Mark.FIRST_SIGN]) == 2
    assert len(marks[Mark.RECOGNITION]) == 2


def test_an_operation_is_one_panel_of_minutes() -> None:
    assert [panel.unit for panel in build_timeline(eye()).panels] == ["min"]
    assert [panel.unit for panel in build_timeline(vitals()).panels] == ["min"]


def test_a_long_course_is_told_in_minutes_hours_and_days() -> None:
    panels = build_timeline(ward()).panels
    assert [panel.unit for panel in panels] == ["min", "h", "day"]
    assert [words.reveal() for words in skipped(panels)] == ["29 h", "45 h"]


def test_panels_neither_overlap_nor_lose_an_event() -> None:
    timeline = build_timeline(ward())
    edges = [edge for panel in timeline.panels for edge in (panel.start, panel.end)]
    assert edges == sorted(edges)
    for event in timeline.events:
        centre = event.at.centre
        assert centre is None or any(p.start <= centre <= p.end for p in timeline.panels)


def test_a_story_of_even_days_is_not_cut() -> None:
    story = Story()
    for day in range(8):
        story.add(K.NOTE, "round", day * DAY)
    assert [panel.unit for panel in build_timeline(story.case("start")).panels] == ["day"]


def test_a_story_without_times_has_no_axis() -> None:
    story = Story()
    story.add(K.NOTE, "undated", UNKNOWN)
    assert build_timeline(story.case("start")).panels == ()


def test_the_clock_line_names_the_reference_and_every_shift() -> None:
    # Source: sign and size of the offset, practice.md (e)2: recorder 11:04:10 at wall 11:01:55: -2:15.
    assert build_timeline(eye()).clock.reveal() == "Times by the theatre wall clock; recorder −2 min 15 s"
    assert build_timeline(ward()).clock.reveal().endswith("theatre record: offset not stated")
