"""Nights and midnights on the chart, and alarm limits on its readings."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from mmbuilder.analysis import Chart, build_timeline, cut
from mmbuilder.figures.days import flagged, shaded
from mmbuilder.figures.plan import make_plan
from mmbuilder.figures.sheet import Box, Dash, Dots, Fill, Sheet, Stroke
from mmbuilder.figures.strips import Strip, bounds
from mmbuilder.figures.style import Ink
from mmbuilder.figures.timeline import compose
from mmbuilder.safe.case import DayAndNight, ScrubbedCase, Series
from tests.figures.drawings import bounds as box_of
from tests.figures.samples import safe, vitals, ward
from tests.figures.stories import stories
from tests.figures.test_sheet_properties import overlapping

WIDE, HIGH = 31 * 72 / 2.54, 12.5 * 72 / 2.54
NIGHTS = DayAndNight(9.5 * 60, 20 * 60, 8 * 60, usual=True)
SOME = settings(
    max_examples=30,
    deadline=None,
    phases=(Phase.explicit, Phase.reuse, Phase.generate),
    suppress_health_check=list(HealthCheck),
)


def drawn(case: ScrubbedCase, until: float | None = None) -> Sheet:
    return compose(Chart(build_timeline(case), until, brackets=True), WIDE, HIGH)


def tinted(sheet: Sheet, ink: Ink = Ink.NIGHT) -> list[Box]:
    return [box_of(item.points) for item in sheet.items if isinstance(item, Fill) and item.ink is ink]


def told(sheet: Sheet) -> str:
    return " ".join(words.text.reveal() for words in sheet.words)


def midnights(sheet: Sheet) -> list[float]:
    strokes = [i for i in sheet.items if isinstance(i, Stroke)]
    return [
        item.lines[0][0][0]
        for item in strokes
        if (item.ink, item.width, item.dash) == (Ink.GREY, 1.0, Dash.DOTTED)
    ]


def test_nights_stand_where_the_axis_has_them() -> None:
    case = replace(ward(), day_and_night=NIGHTS)
    plan = make_plan(build_timeline(case), WIDE, HIGH)
    wanted = [piece for start, end in shaded(NIGHTS, plan.axis) for piece in plan.axis.pieces(start, end)]
    assert wanted
    for left, right in wanted:
        assert any(
            abs(box.left - left) < 0.01 and abs(box.right - right) < 0.01 for box in tinted(drawn(case))
        )


def test_a_story_without_nights_to_show_has_none() -> None:
    sheet = drawn(replace(ward(), day_and_night=DayAndNight(9.5 * 60)))
    assert tinted(sheet) == []
    assert "night" not in told(sheet)
    assert "+2 days" in told(sheet)
    assert "+2 days" not in told(drawn(ward()))


@SOME
@given(stories(), st.integers(-20, 14000))
def test_a_cut_shades_and_flags_nothing_that_came_later(case: ScrubbedCase, until: int) -> None:
    axis = make_plan(cut(Chart(build_timeline(case), until)), WIDE, HIGH).axis
    sheet = drawn(case, until)
    if not axis.scales:
        return
    here = axis.x(until)
    assert [box for box in tinted(sheet) if box.right > here + 0.01] == []
    assert [x for x in midnights(sheet) if x > here + 0.01] == []


@SOME
@given(stories())
def test_every_midnight_that_has_a_line_has_its_words(case: ScrubbedCase) -> None:
    axis = make_plan(build_timeline(case), WIDE, HIGH).axis
    sheet = drawn(case)
    wanted = [text.reveal() for _, text in flagged(case.day_and_night, axis)]
    words = [one.text.reveal() for one in sheet.words]
    assert [text for text in wanted if text not in words] == []
    assert len(midnights(sheet)) == len(wanted)


def test_a_plate_on_the_night_is_as_dark_as_the_night() -> None:
    sheet = drawn(replace(ward(), day_and_night=NIGHTS))
    (words,) = (one for one in sheet.words if one.text.reveal() == "pain, belly tense")
    covering = [
        item
        for item in sheet.items
        if isinstance(item, Fill) and box_of(item.points).overlaps(words.box) and item.ink is not Ink.STONE
    ]
    assert covering[-1].ink is Ink.NIGHT


# --- alarm limits -----------------------------------------------------------------------------


def limited() -> ScrubbedCase:
    case = vitals()
    first, second, third = case.series
    return replace(
        case, series=(replace(first, alarm_low=90), second, replace(third, alarm_low=55, alarm_high=110))
    )


def limit_lines(sheet: Sheet) -> list[Stroke]:
    looks = (Ink.GREY, 1.2, Dash.DASHED)
    return [i for i in sheet.items if isinstance(i, Stroke) and (i.ink, i.width, i.dash) == looks]


def test_every_limit_has_a_line_and_is_told_below() -> None:
    sheet = drawn(limited())
    assert len(limit_lines(sheet)) == 3
    note = "alarm limits set that day (grey dashes): SpO₂ below 90, Mean pressure below 55, Mean pressure above 110"
    assert note in told(sheet)
    assert "alarm" not in told(drawn(vitals()))


def test_words_of_a_limit_hide_and_cross_no_reading() -> None:
    sheet = drawn(limited())
    labels = [one.box for one in sheet.words if one.text.reveal().startswith("alarm ") and one.y < HIGH - 40]
    assert labels
    points = [point for item in sheet.items if isinstance(item, Dots) for point in item.points]
    for box in labels:
        assert not [1 for x, y in points if box.left < x < box.right and box.top < y < box.bottom]


def test_a_limit_stops_at_the_cut() -> None:
    axis = make_plan(cut(Chart(build_timeline(limited()), 20)), WIDE, HIGH).axis
    ends = [point[0] for item in limit_lines(drawn(limited(), 20)) for line in item.lines for point in line]
    assert max(ends) <= axis.x(20) + 0.01


def test_a_scale_holds_its_limits() -> None:
    line = Series(safe("Pulse"), safe("/min"), ((0.0, 70.0), (1.0, 72.0)), alarm_low=30, alarm_high=180)
    low, high = bounds(Strip(safe("/min"), ((0, line),)))
    assert low <= 30
    assert high >= 180


@SOME
@given(stories())
def test_no_words_meet_whatever_is_flagged_or_limited(case: ScrubbedCase) -> None:
    assert not overlapping(drawn(case))
