"""How the width is shared, and where the lengths stand."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, Phase, given, settings

from mmbuilder.analysis import Chart, build_timeline
from mmbuilder.analysis.timeline import MOST_LABELS
from mmbuilder.figures.brackets import brackets
from mmbuilder.figures.gutter import untimed_width
from mmbuilder.figures.plan import make_plan
from mmbuilder.figures.sheet import Words
from mmbuilder.figures.style import BIG, FLAG
from mmbuilder.figures.ticks import ticks
from mmbuilder.figures.timeline import compose
from mmbuilder.safe.case import ScrubbedCase, Series
from mmbuilder.safe.terms import EventKind
from tests.figures.samples import UNKNOWN, Story, eye, safe, vitals, ward
from tests.figures.stories import stories

POINTS = 72 / 2.54
WIDE, HIGH = 31 * POINTS, 12.5 * POINTS

SOME = settings(
    max_examples=30,
    deadline=None,
    phases=(Phase.explicit, Phase.reuse, Phase.generate),
    suppress_health_check=list(HealthCheck),
)


@pytest.mark.parametrize("case", [eye(), ward(), vitals()])
@pytest.mark.parametrize(("wide", "high"), [(31, 12.5), (27, 12)])
def test_the_plot_gets_three_quarters_of_the_width_and_its_heart_the_most(
    case: ScrubbedCase, wide: float, high: float
) -> None:
    plan = make_plan(build_timeline(case), wide * POINTS, high * POINTS)
    assert plan.need <= plan.height
    assert plan.axis.right - plan.axis.left >= 0.75 * plan.width
    (heart,) = (scale for scale in plan.axis.scales if scale.panel.heart)
    drawn = sum(scale.right - scale.left for scale in plan.axis.scales)
    assert heart.right - heart.left >= 0.4 * drawn


def slow() -> ScrubbedCase:
    """A sign that stands for 60 of 118 hours, then a rescue within three."""
    story, hour = Story(), 60.0
    for place, words in enumerate(("Knife to skin", "Port-site bleed", "Join made", "Skin closed")):
        story.add(EventKind.STEP, words, 45.0 * place)
    story.add(EventKind.FIRST_SIGN, "Cramps in waves", 36.8 * hour)
    story.add(EventKind.NOTE, "Bruise, firm", 52 * hour)
    story.add(EventKind.NOTE, "Weekend handover", 80 * hour)
    story.add(EventKind.RECOGNITION, "Blocked, not slow", 96.6 * hour)
    story.add(EventKind.RESPONSE, "Second look begun", 99.8 * hour)
    story.add(EventKind.RESOLUTION, "Lactate 1.0", 117.3 * hour)
    return story.case("knife to skin")


# "Days drawn as wide as minutes" (reference/practice.md, part b) is a fault: the eye compares the brackets.
def test_a_length_of_days_is_not_drawn_shorter_than_one_of_hours() -> None:
    plan = make_plan(build_timeline(slow()), WIDE, HIGH)
    assert any(scale.panel.heart for scale in plan.axis.scales)
    sign, recognition, response = (plan.axis.x(60 * hours) for hours in (36.8, 96.6, 99.8))
    assert recognition - sign >= 1.5 * (response - recognition)


# Common practice, no source: what belongs together stands together, and what is left over lies around it.
def test_a_lone_lane_stands_by_its_axis_in_the_middle_of_the_sheet() -> None:
    story = Story()
    story.add(EventKind.NOTE, "Two kits on one trolley", 0)
    story.add(EventKind.NOTE, "Brief, other knee first", 18)
    plan = make_plan(build_timeline(story.case("brief")), WIDE, HIGH)
    lane, axis, last = plan.bands["events"], plan.bands["axis"], list(plan.bands.values())[-1]
    assert axis.top - lane.bottom < 0.15 * plan.height
    assert lane.top == pytest.approx(plan.height - last.bottom, abs=1)


def test_three_units_keep_their_height() -> None:
    plan = make_plan(build_timeline(vitals()), WIDE, HIGH)
    heights = [band.bottom - band.top for name, band in plan.bands.items() if name.startswith("strip")]
    assert len(heights) == 3
    assert min(heights) >= 1.4 * POINTS


@SOME
@given(stories())
def test_labels_are_few_and_no_length_is_struck_through(case: ScrubbedCase) -> None:
    timeline = build_timeline(case)
    plan = make_plan(timeline, WIDE, HIGH)
    events = [key for key in plan.labelled if isinstance(key, tuple) and key[0] == "event"]
    assert len(events) <= MOST_LABELS
    for bracket in brackets(timeline, plan.axis, plan.poles, plan.width)[0]:
        assert not any(bracket.left < pole < bracket.right for pole in plan.poles)


def test_each_length_stands_over_its_bracket_and_a_short_one_beside_with_a_leader() -> None:
    story = Story()
    for kind, minute in ((EventKind.FIRST_SIGN, 30), (EventKind.RECOGNITION, 34), (EventKind.RESPONSE, 34.4)):
        story.add(kind, "mark", minute)
    story.add(EventKind.STEP, "start", 0)
    story.add(EventKind.STEP, "end", 60)
    timeline = build_timeline(story.case("start"))
    plan = make_plan(timeline, WIDE, HIGH)
    long, short = brackets(timeline, plan.axis, plan.poles, plan.width)[0]
    assert (long.left + long.right) / 2 == pytest.approx((long.start + long.end) / 2)
    assert not short.over
    assert min(abs(short.left - short.end), abs(short.start - short.right)) < 20


def test_marks_and_lengths_are_the_largest_words() -> None:
    sheet = compose(Chart(build_timeline(eye()), brackets=True), WIDE, HIGH)
    sizes = {words.text.reveal(): (words.size, words.bold) for words in sheet.words}
    assert sizes["3 min"] == (BIG, True)
    assert sizes["RESPONSE T+0:32"] == (FLAG, True)
    assert BIG >= 20
    assert FLAG >= 16


@pytest.mark.parametrize("high", [3, 5, 7])
def test_where_room_is_short_the_resolution_gives_up_its_flag(high: int) -> None:
    told = [words.text.reveal() for words in compose(Chart(build_timeline(eye())), WIDE, high * POINTS).words]
    assert {"FIRST SIGN T+0:18", "Eye soft again"} <= set(told)
    assert not any(words.startswith("Resolution") for words in told)


def test_every_panel_says_what_its_ticks_count() -> None:
    plan = make_plan(build_timeline(ward()), WIDE, HIGH)
    told = [ticks(scale, None).step.reveal() for scale in plan.axis.scales]
    assert [words.split()[0] for words in told] == ["ticks"] * 4
    assert [words.split()[2] for words in told] == ["min", "h", "h", "day"] or told[2].endswith("min")


def test_what_has_no_words_has_a_number_and_a_line_in_the_list() -> None:
    timeline = build_timeline(_steps())
    plan = make_plan(timeline, WIDE, HIGH)
    words = [words.text.reveal() for words in compose(Chart(timeline), WIDE, HIGH).words]
    worded = {key[1] for key in plan.labelled if isinstance(key, tuple)}
    rest = [n for n in range(1, 26) if n not in worded]
    assert len(rest) >= 25 - MOST_LABELS
    tags = [tag for tag in words if set(tag) <= set("0123456789–")]
    for n in rest:
        assert any(_holds(tag, n) for tag in tags), n
        assert f"step {4 * (n - 1)} of the operation" in words
    assert "in the handout" not in " ".join(words)


def _steps() -> ScrubbedCase:
    story = Story()
    for minute in range(0, 100, 4):
        story.add(EventKind.STEP, f"step {minute} of the operation", minute)
    return story.case("start")


def _holds(tag: str, n: int) -> bool:
    first, last = (tag.split("–") * 2)[:2]
    return int(first) <= n <= int(last)


def test_a_cut_lists_only_what_it_shows() -> None:
    timeline = build_timeline(_steps())
    whole, part = (
        {
            int(name.split()[1])
            for name in map(_said, compose(Chart(timeline, until), WIDE, HIGH).words)
            if name
        }
        for until in (None, 80)
    )
    assert max(part) == 80
    assert part < whole


def _said(words: Words) -> str:
    said = words.text.reveal()
    return said if said.startswith("step ") else ""


def test_a_list_that_has_no_room_is_left_to_the_handout_by_number() -> None:
    timeline = build_timeline(_steps())
    plan = make_plan(timeline, WIDE, 0.4 * HIGH)
    told = " ".join(words.text.reveal() for words in compose(Chart(timeline), WIDE, 0.4 * HIGH).words)
    assert f"{25 - len(plan.labelled)} more events in the handout, by number" in told


def test_what_is_off_the_axis_is_told_in_the_notes() -> None:
    story = Story()
    for minute in range(0, 100, 4):
        story.add(EventKind.STEP, f"step {minute} of the operation", minute)
    points = ((-8642.0, 128.0), (0.0, 111.0), (50.0, 108.0), (90.0, 109.0))
    case = story.case("start", series=(Series(safe("haemoglobin"), safe("g/L"), points),))
    told = " ".join(words.text.reveal() for words in compose(Chart(build_timeline(case)), WIDE, HIGH).words)
    assert "off the axis: haemoglobin 128 g/L, 6 days before T+0" in told


def test_a_cut_does_not_say_that_a_sign_was_seen_only_later() -> None:
    timeline = build_timeline(_two_signs())
    whole = _told(Chart(timeline))
    assert "In hindsight: second sign" in whole
    assert "In hindsight" not in _told(Chart(timeline, until=30.5))
    assert "second sign" in _told(Chart(timeline, until=30.5))


def _two_signs() -> ScrubbedCase:
    from mmbuilder.safe.terms import Noticed

    story = Story()
    story.add(EventKind.FIRST_SIGN, "first sign", 10, noticed=Noticed.AT_THE_TIME)
    story.add(EventKind.FIRST_SIGN, "second sign", 30, noticed=Noticed.IN_HINDSIGHT)
    story.add(EventKind.RESPONSE, "stopped", 60)
    return story.case("start")


def _told(chart: Chart) -> str:
    return " ".join(words.text.reveal() for words in compose(chart, WIDE, HIGH).words)


def test_the_box_of_what_has_no_time_is_small_and_left_of_the_axis() -> None:
    # Its words and ring take up less than a tenth of the slide, and of the handout.
    assert untimed_width() <= 0.1 * WIDE
    assert untimed_width() <= 0.105 * 27 * POINTS
    assert make_plan(build_timeline(eye()), WIDE, HIGH).axis.left > untimed_width()


def test_the_box_of_what_has_no_time_needs_no_lane_of_events() -> None:
    story = Story()
    story.add(EventKind.DRUG, "Propofol", 5)
    story.add(EventKind.NOTE, "told after the drug", UNKNOWN)
    sheet = compose(Chart(build_timeline(story.case("start"))), WIDE, HIGH)
    (box,) = (words.box for words in sheet.words if words.text.reveal() == "no time")
    assert box.top >= 0
