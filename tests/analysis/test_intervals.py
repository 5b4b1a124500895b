from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from mmbuilder.analysis import build_timeline
from mmbuilder.analysis.describe import describe, lengths
from mmbuilder.analysis.timeline import Chart
from mmbuilder.safe.case import OtherTime
from mmbuilder.safe.moment import Elapsed, Known, Moment, duration
from mmbuilder.safe.terms import EventKind, Recognised
from tests.figures.samples import UNKNOWN, Story, about, at, between

K = EventKind


def told(story: Story) -> dict[str, list[str]]:
    timeline = build_timeline(story.case("start"))
    return {
        i.name.reveal(): [duration(e).reveal() for e in (i.elapsed, *i.alternatives)]
        for i in timeline.intervals
    }


def test_an_uncertain_sign_and_recognition_give_a_range() -> None:
    # Source: worked example, practice.md (e)1: sign 20:10-20:40, recognition 21:05 +/- 5: 20 to 60 min.
    story = Story()
    story.add(K.FIRST_SIGN, "sign", between(10, 40))
    story.add(K.RECOGNITION, "named", about(65, 5))
    assert told(story)["first sign to recognition"] == ["20 to 60 min"]


def test_a_missing_or_unknown_mark_gives_unknown_and_never_zero() -> None:
    # Source: check-values.md B2 (CALC).
    story = Story()
    story.add(K.FIRST_SIGN, "sign", 10)
    story.add(K.RECOGNITION, "named", UNKNOWN)
    assert told(story) == {"first sign to recognition": ["unknown"], "recognition to response": ["unknown"]}


def test_times_that_contradict_the_order_are_unknown_with_both_ends_named() -> None:
    story = Story()
    sign = story.add(K.FIRST_SIGN, "sign", 26)
    named = story.add(K.RECOGNITION, "named", 20)
    interval = build_timeline(story.case("start")).intervals[0]
    assert (interval.start, interval.end, interval.elapsed) == (sign, named, Elapsed(None, None))


def test_sources_that_disagree_give_both_intervals_once() -> None:
    story = Story()
    others = (OtherTime(at(13)), OtherTime(at(13)), OtherTime(at(10)))
    story.add(K.FIRST_SIGN, "sign", 10, others=others)
    story.add(K.RECOGNITION, "named", 25)
    assert told(story)["first sign to recognition"] == ["15 min", "12 min"]


def test_detection_ends_at_the_complication_and_not_at_an_earlier_cause() -> None:
    story = Story()
    story.add(K.FIRST_SIGN, "sign", 0)
    story.add(K.RECOGNITION, "cause", 5, recognised=Recognised.CAUSE)
    story.add(K.RECOGNITION, "complication", 9, recognised=Recognised.COMPLICATION)
    assert told(story)["first sign to recognition"] == ["9 min"]


def test_the_three_parts_add_up_to_the_whole() -> None:
    # Source: check-values.md B2 (CALC): sum of three = resolution - first sign.
    story = Story()
    for kind, minutes in ((K.FIRST_SIGN, 3), (K.RECOGNITION, 11), (K.RESPONSE, 12), (K.RESOLUTION, 40)):
        story.add(kind, "mark", minutes)
    parts = build_timeline(story.case("start")).intervals
    assert sum(part.elapsed.lo or 0 for part in parts) == 40 - 3


_BOUND = st.one_of(st.none(), st.integers(-500, 5000))


@st.composite
def _moments(draw: st.DrawFn) -> Moment:
    lo, hi = draw(_BOUND), draw(_BOUND)
    if lo is not None and hi is not None and lo > hi:
        lo, hi = hi, lo
    return Moment(lo, hi, Known.BETWEEN, draw(st.sampled_from([1 / 60, 1.0, 1440.0])))


@given(st.lists(_moments(), min_size=4, max_size=4), _moments())
def test_no_interval_is_ever_negative_or_upside_down(moments: list[Moment], other: Moment) -> None:
    story = Story()
    kinds = (K.FIRST_SIGN, K.RECOGNITION, K.RESPONSE, K.RESOLUTION)
    for kind, moment in zip(kinds, moments, strict=True):
        story.add(kind, "mark", moment, others=(OtherTime(other),))
    for interval in build_timeline(story.case("start")).intervals:
        for elapsed in (interval.elapsed, *interval.alternatives):
            assert elapsed.lo is None or elapsed.lo >= 0
            assert elapsed.hi is None or elapsed.hi >= (elapsed.lo or 0)
            assert "−" not in duration(elapsed).reveal()


def _rescue(story: Story) -> str:
    found = [one for one in build_timeline(story.case("start")).intervals if one.by_days]
    return lengths(found[0]).reveal() if found else ""


def test_a_long_course_tells_first_warning_to_rescue_in_days_and_hours() -> None:
    # Worked by hand (practice.md (e)1, [b_lo - a_hi, b_hi - a_lo]): sign Day 2 between 06:00 and 10:00,
    # response Day 4 at 12:00 +/- 1 h: 49 h to 55 h, so 2 days 1 h to 2 days 7 h.
    story = Story()
    story.add(K.FIRST_SIGN, "pulse rises", between(2 * 1440 + 360, 2 * 1440 + 600))
    story.add(K.RECOGNITION, "leak named", 4 * 1440 + 600)
    story.add(K.RESPONSE, "return to theatre", about(4 * 1440 + 720, 60))
    assert _rescue(story) == "2 days 1 h to 2 days 7 h"
    timeline = build_timeline(story.case("start"))
    assert (
        "First warning to rescue: 2 days 1 h to 2 days 7 h"
        in describe(Chart(timeline, brackets=True)).reveal()
    )


def test_without_a_response_the_rescue_is_the_resolution() -> None:
    story = Story()
    story.add(K.FIRST_SIGN, "fever", 0)
    story.add(K.RESOLUTION, "drain out", 25 * 60)
    assert _rescue(story) == "1 day 1 h"


def test_two_sources_of_a_long_course_give_both_lengths() -> None:
    story = Story()
    story.add(K.FIRST_SIGN, "fever", 0, others=(OtherTime(at(24 * 60)),))
    story.add(K.RESPONSE, "drain", 72 * 60)
    assert _rescue(story) == "3 days or 2 days"


def test_a_bound_of_a_long_course_stays_a_bound() -> None:
    story = Story()
    story.add(K.FIRST_SIGN, "fever", Moment(None, 60, Known.BEFORE))
    story.add(K.RESPONSE, "drain", 49 * 60 + 60)
    assert _rescue(story) == "at least 2 days 1 h"


def test_days_alone_are_told_as_days() -> None:
    story = Story()
    story.add(K.FIRST_SIGN, "fever", Moment(1440, 2879, Known.EXACT, 1440.0))
    story.add(K.RESPONSE, "drain", Moment(4320, 5759, Known.EXACT, 1440.0))
    assert _rescue(story) == "1 to 3 days"


def test_a_course_within_a_day_has_its_three_parts_only() -> None:
    story = Story()
    story.add(K.FIRST_SIGN, "sign", 0)
    story.add(K.RESPONSE, "drug", 23 * 60)
    assert _rescue(story) == ""
