from __future__ import annotations

from mmbuilder.analysis import build_timeline
from mmbuilder.analysis.timeline import Mark
from mmbuilder.safe.terms import EventKind
from tests.figures.samples import UNKNOWN, Story, eye, ward

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


def test_a_story_without_times_has_no_axis() -> None:
    story = Story()
    story.add(K.NOTE, "undated", UNKNOWN)
    assert build_timeline(story.case("start")).panels == ()


def test_the_clock_line_names_the_reference_and_every_shift() -> None:
    # Source: sign and size of the offset, practice.md (e)2: recorder 11:04:10 at wall 11:01:55: -2:15.
    assert build_timeline(eye()).clock.reveal() == "Times by the theatre wall clock; recorder −2 min 15 s"
    assert build_timeline(ward()).clock.reveal().endswith("theatre record: offset not stated")
