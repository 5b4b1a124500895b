from __future__ import annotations

from dataclasses import replace

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from mmbuilder.analysis import Chart, build_timeline, cut, describe
from mmbuilder.analysis.timeline import Mark
from mmbuilder.safe.case import Gap, OtherTime, ScrubbedCase, Series
from mmbuilder.safe.terms import EventKind
from tests.figures.samples import UNKNOWN, Story, at, safe, vitals
from tests.figures.stories import stories

K = EventKind


def test_without_a_cut_all_of_it_is_shown() -> None:
    timeline = build_timeline(vitals())
    assert cut(Chart(timeline)) is timeline


def test_a_cut_ends_phases_readings_and_gaps_where_it_falls() -> None:
    timeline = cut(Chart(build_timeline(vitals()), until=27))
    assert [phase.name.reveal() for phase in timeline.phases] == ["Induction", "Operation", "Crisis"]
    assert not timeline.phases[-1].end.placed
    assert timeline.phases[0].end == at(8)
    assert max(time for line in timeline.series for time, _ in line.points) <= 27
    assert [gap.end for line in timeline.series for gap in line.gaps] == [27]


def test_artefacts_keep_their_readings_when_earlier_ones_go() -> None:
    line = Series(safe("Pulse"), safe("/min"), ((9.0, 70.0), (1.0, 71.0), (2.0, 300.0)), frozenset({2}))
    story = Story()
    story.add(K.STEP, "start", 0)
    timeline = build_timeline(story.case("start", series=(line,)))
    shown = cut(Chart(timeline, until=5)).series[0]
    assert [shown.points[place] for place in shown.artefacts] == [(2.0, 300.0)]


def test_an_event_without_a_time_waits_for_the_one_told_after_it() -> None:
    story = Story()
    story.add(K.STEP, "first", 10)
    story.add(K.NOTE, "between", UNKNOWN)
    story.add(K.STEP, "last", 20)
    timeline = build_timeline(story.case("start"))
    shown = {until: [e.what.reveal() for e in cut(Chart(timeline, until=until)).events] for until in (15, 20)}
    assert shown == {15: ["first"], 20: ["first", "between", "last"]}


def test_a_later_time_from_another_source_is_held_back() -> None:
    story = Story()
    story.add(K.FIRST_SIGN, "sign", 10, others=(OtherTime(at(30)),))
    assert cut(Chart(build_timeline(story.case("start")), until=15)).events[0].others == ()


def test_values_that_mean_nothing_are_not_counted_before_they_came() -> None:
    timeline = build_timeline(vitals())
    timeline = replace(timeline, series=tuple(replace(line, dropped=3) for line in timeline.series))
    assert [line.dropped for line in cut(Chart(timeline, until=27)).series] == [0] * len(timeline.series)
    assert [line.dropped for line in cut(Chart(timeline)).series] == [3] * len(timeline.series)


def test_a_gap_that_has_not_begun_is_not_told() -> None:
    line = Series(
        safe("Pulse"), safe("/min"), ((1.0, 70.0), (20.0, 70.0)), gaps=(Gap(10, 18, safe("probe off")),)
    )
    story = Story()
    story.add(K.STEP, "start", 0)
    assert cut(Chart(build_timeline(story.case("start", series=(line,))), until=10)).series[0].gaps == ()


@settings(deadline=None, suppress_health_check=list(HealthCheck), max_examples=60)
@given(stories(), st.integers(-20, 14000))
def test_nothing_later_is_left(case: ScrubbedCase, until: int) -> None:
    chart = Chart(build_timeline(case), until=until, brackets=True)
    shown = cut(chart)
    moments = [event.at for event in shown.events if event.at.placed]
    moments += [moment for _, moment, _ in shown.decisions]
    moments += [other.at for event in shown.events for other in event.others]
    moments += [phase.start for phase in shown.phases] + [tape.start for tape in shown.recordings]
    assert all(moment.centre is not None and moment.centre <= until for moment in moments)
    assert all(time <= until for line in shown.series for time, _ in line.points)
    assert all(gap.start < until >= gap.end for line in shown.series for gap in line.gaps)
    numbers = {event.number for event in shown.events}
    assert {n for _, marks in shown.marks for n in marks} <= numbers
    assert all({i.start, i.end} <= numbers for i in shown.intervals)
    assert all(panel.start <= until for panel in shown.panels)
    if shown.panels:
        last = shown.panels[-1]
        assert until < last.end <= until + max(5, (until - last.start) / 4)
    assert f"{len(shown.events)} event" in describe(chart).reveal() or not shown.events


def test_what_the_story_is_counted_from_is_not_told_before_it_came() -> None:
    # Its words may be the answer to what the room is asked first.
    story = Story()
    story.add(K.STEP, "start", -20)
    story.add(K.FIRST_SIGN, "blood in the drain", 0)
    timeline = build_timeline(story.case("blood in the drain"))
    early, late = Chart(timeline, until=-5), Chart(timeline, until=0)
    assert cut(early).zero.reveal() == "an event still to come"
    assert "blood" not in describe(early).reveal()
    assert cut(late).zero.reveal() == "blood in the drain"


def test_a_first_sign_is_not_called_so_before_anybody_recognised_it() -> None:
    # practice.md: what could have been seen, and when, is what the room is asked.
    story = Story()
    story.add(K.FIRST_SIGN, "blood in the drain", 0)
    story.add(K.RECOGNITION, "bleeding", 20)
    timeline = build_timeline(story.case("blood in the drain"))
    early, late = cut(Chart(timeline, until=10)), cut(Chart(timeline, until=20))
    assert [event.what.reveal() for event in early.events] == ["blood in the drain"]
    assert early.marks == ()
    assert dict(late.marks)[Mark.FIRST_SIGN] == (1,)
