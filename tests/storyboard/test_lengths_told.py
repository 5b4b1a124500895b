"""Lengths of time and readings in figures, as paper tells them."""

from __future__ import annotations

from dataclasses import replace
from types import ModuleType

import pytest

from mmbuilder import uses
from mmbuilder.analysis import build_timeline, cause_grid, cut
from mmbuilder.safe.case import Gap, OtherTime, Phase, ScrubbedCase
from mmbuilder.safe.moment import UNKNOWN
from mmbuilder.safe.terms import EventKind, Use
from mmbuilder.storyboard.blocks import Table, TimeChart
from mmbuilder.storyboard.context import Context
from mmbuilder.storyboard.slides import action_reasons, durations, readings_told
from mmbuilder.uses import Planned
from tests.figures.samples import Story, at, between, safe, vitals
from tests.storyboard.sample import sample


def tables(kind: ModuleType, case: ScrubbedCase) -> list[list[list[str]]]:
    context = Context(
        case, build_timeline(case), cause_grid(case), uses.load(Use.REVIEW), Planned(kind="durations")
    )
    blocks = [block for slide in kind.make(context) for block in slide.blocks]
    return [
        [[cell.text.reveal() for cell in row] for row in block.rows]
        for block in blocks
        if isinstance(block, Table)
    ]


def story() -> Story:
    # Source: practice.md (e) 1: sign 20:10 to 20:40, recognition 21:05 give or take 5: 20 to 60 min.
    told = Story()
    told.add(EventKind.FIRST_SIGN, "Sign", between(10, 40), others=(OtherTime(at(5), safe("log")),))
    told.add(EventKind.RECOGNITION, "Named", between(60, 70))
    return told


def test_every_interval_is_told_with_its_ends() -> None:
    (intervals,) = tables(durations, story().case("start"))
    assert intervals[0] == [
        "First sign to recognition",
        "20 to 60 min or 55 to 65 min",
        "T+0:10 to T+0:40 or T+0:05: Sign",
        "T+1:00 to T+1:10: Named",
    ]
    assert intervals[1][1:] == ["unknown", "T+1:00 to T+1:10: Named", "not recorded"]


def test_phases_and_what_is_in_none_make_up_the_total() -> None:
    # Source: practice.md (e) 5: 42 + 18 + 35 = 95 of 110: 15 min unassigned, shown.
    spans = ((0, 42), (50, 68), (75, 110))
    phases = tuple(Phase(safe(f"phase {n}"), at(a), at(b)) for n, (a, b) in enumerate(spans, 1))
    _, told = tables(durations, story().case("start", phases=phases))
    assert told == [
        ["Phase 1", "42 min"],
        ["Phase 2", "18 min"],
        ["Phase 3", "35 min"],
        ["In no phase", "15 min"],
        ["Total", "110 min"],
    ]


def test_a_phase_of_uncertain_ends_is_told_as_its_range_and_still_adds_up() -> None:
    """practice.md (e) 1 and 5: [b_lo − a_hi, b_hi − a_lo]; durations and the remainder make the total."""
    phases = (Phase(safe("one"), at(0), between(40, 50)), Phase(safe("two"), between(50, 60), at(100)))
    _, told = tables(durations, story().case("start", phases=phases))
    assert told == [
        ["One", "40 to 50 min, counted as 45 min"],
        ["Two", "40 to 50 min, counted as 45 min"],
        ["In no phase", "10 min"],
        ["Total", "100 min"],
    ]
    _, told = tables(durations, story().case("start", phases=(Phase(safe("one"), between(0, 20), at(90)),)))
    assert told[-1] == ["Total", "70 to 90 min, counted as 80 min"]


def test_a_stay_of_days_still_adds_up() -> None:
    phases = (Phase(safe("operation"), at(0), at(152)), Phase(safe("ward"), at(160), at(5900)))
    _, told = tables(durations, story().case("start", phases=phases))
    assert [length for _, length in told] == ["2 h 32 min", "95 h 40 min", "8 min", "98 h 20 min"]


def test_overlap_is_taken_off_and_an_open_phase_has_no_length() -> None:
    phases = (
        Phase(safe("one"), at(0), at(30)),
        Phase(safe("two"), at(20), at(50)),
        Phase(safe("open"), at(50), UNKNOWN),
    )
    _, told = tables(durations, story().case("start", phases=phases))
    assert told[2:] == [
        ["Open", "not recorded"],
        ["Counted in two phases", "−10 min"],
        ["In no phase", "none"],
        ["Total", "50 min"],
    ]


def test_readings_are_never_told_without_their_window() -> None:
    case = vitals()
    line = replace(case.series[0], dropped=3, gaps=(Gap(40, 44, safe("probe off")),))
    (rows,) = tables(readings_told, replace(case, series=(line,)))
    assert rows == [
        [
            "SpO₂, %",
            "64 at T+0:29",
            "98 at T−0:05",
            "T−0:05 to T+0:59",
            "61; 1 artefact, 3 device values, 1 gap",
        ]
    ]
    assert tables(readings_told, replace(case, series=())) == []


@pytest.mark.parametrize(("count", "drawn"), [(3, []), (4, [1]), (7, [3, 1])])
def test_lines_that_the_timeline_has_no_place_for_are_drawn_beside_their_figures(
    count: int, drawn: list[int]
) -> None:
    # practice.md (b) 1: three lines at most share an axis.
    lines = tuple(replace(vitals().series[0], name=safe(f"Line {n}")) for n in range(count))
    case = replace(vitals(), series=lines)
    planned = Planned(kind="readings_told")
    context = Context(case, build_timeline(case), cause_grid(case), uses.load(Use.REVIEW), planned)
    (part,) = readings_told.make(context)
    charts = [cut(block.chart) for block in part.blocks if isinstance(block, TimeChart)]
    assert [len(chart.series) for chart in charts] == drawn
    assert all(not chart.events and chart.panels == context.timeline.panels for chart in charts)


def test_an_action_says_why_it_has_its_strength_and_who_looks_at_it_again() -> None:
    first, *_ = sample().actions
    told = replace(
        first, strength_reason=safe("it stands where the work is done"), review=safe("March meeting")
    )
    (rows,) = tables(action_reasons, sample(actions=(told,)))
    assert rows[0][2:] == ["it stands where the work is done", "March meeting"]
    plain = replace(first, strength_reason=safe(""), review=safe(""))
    assert tables(action_reasons, sample(actions=(plain,))) == []
