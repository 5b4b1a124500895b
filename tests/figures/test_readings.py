from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mmbuilder.analysis import Chart, build_timeline
from mmbuilder.figures.plan import make_plan
from mmbuilder.figures.sheet import Dots, Shape, Stroke
from mmbuilder.figures.strips import Strip, bounds, middle, part, runs, strips
from mmbuilder.figures.style import Ink
from mmbuilder.figures.timeline import compose
from mmbuilder.safe.case import Gap, Series
from mmbuilder.safe.terms import EventKind
from tests.figures.samples import Story, safe, vitals
from tests.figures.test_sheet_properties import overlapping

WIDE, HIGH = 31 * 72 / 2.54, 12.5 * 72 / 2.54


def line(*points: tuple[float, float], **more: object) -> Series:
    return Series(safe("Pulse"), safe("/min"), points, **more)  # type: ignore[arg-type]


def test_a_line_stops_at_a_gap_an_artefact_and_a_long_silence() -> None:
    points = [(float(t), 70.0) for t in (0, 1, 2, 3, 6, 7, 8, 9, 10, 20, 21)]
    made = runs(line(*points, artefacts=frozenset({7}), gaps=(Gap(3, 6, safe("probe off")),)))
    assert [[t for t, _ in run] for run in made] == [[0, 1, 2, 3], [6, 7, 8], [10], [20, 21]]


@given(st.lists(st.integers(0, 100), unique=True, min_size=1), st.integers(0, 90), st.integers(1, 20))
def test_no_run_spans_a_gap(times: list[int], start: int, wide: int) -> None:
    gap = Gap(start, start + wide, safe("not done"))
    points = [(float(t), 1.0) for t in sorted(times) if not start < t < start + wide]
    for run in runs(line(*points, gaps=(gap,))):
        assert run[-1][0] <= gap.start or run[0][0] >= gap.end


def test_no_drawn_line_crosses_the_hatched_gap() -> None:
    # The mean pressure is the only line in its colour; its gap runs from minute 24 to 33.
    timeline = build_timeline(vitals())
    sheet = compose(Chart(timeline), WIDE, HIGH)
    drawn = [item for item in sheet.items if isinstance(item, Stroke) and item.ink is Ink.VERMILLION]
    ends = sorted((run[0][0], run[-1][0]) for item in drawn for run in item.lines)
    axis = make_plan(timeline, WIDE, HIGH).axis
    assert not [1 for left, right in ends if left < axis.x(33) - 0.1 and right > axis.x(24) + 0.1]
    # From edge to edge of every panel, but for the gap: no time is skipped, so the line goes on.
    for scale in axis.scales[:-1]:
        assert any(abs(right - scale.right) < 0.1 for _, right in ends)


@given(st.integers(0, 9), st.integers(1, 9))
def test_what_lies_in_a_panel_is_on_the_line(start: int, wide: int) -> None:
    run = ((0.0, 10.0), (4.0, 18.0), (9.0, 8.0), (12.0, 8.0))
    inside = part(run, start + 0.5, start + 0.5 + wide)
    assert [t for t, _ in inside] == sorted({t for t, _ in inside})
    assert all(start + 0.5 <= t <= start + 0.5 + wide for t, _ in inside)
    # Source: numpy, an independent library, joins readings by straight lines too.
    for t, v in inside:
        assert v == pytest.approx(float(np.interp(t, [p[0] for p in run], [p[1] for p in run])))


def test_artefacts_are_crossed_and_not_joined() -> None:
    sheet = compose(Chart(build_timeline(vitals())), WIDE, HIGH)
    crosses = [item for item in sheet.items if isinstance(item, Dots) and item.shape is Shape.CROSS]
    assert [len(item.points) for item in crosses] == [1]


def test_a_value_that_is_no_number_is_never_drawn() -> None:
    made = runs(line((0, 70), (1, math.nan), (2, math.inf), (3, 71)))
    assert [value for run in made for _, value in run] == [70, 71]


def test_units_have_scales_of_their_own_that_hold_every_reading() -> None:
    made = strips(vitals().series)
    assert [strip.unit.reveal() for strip in made] == ["%", "/min", "mmHg"]
    for strip in made:
        low, high = bounds(strip)
        assert all(low <= value <= high for _, series in strip.lines for _, value in series.points)


def test_the_scale_of_a_calm_start_does_not_tell_of_the_fall() -> None:
    calm = Strip(safe("%"), ((0, line((0, 98), (1, 97))),))
    assert bounds(calm) == (80, 100)


def test_the_middle_of_a_scale_is_no_wider_than_its_column() -> None:
    # 1 and 2 are narrow, the middle between them is not: it stood in the name once.
    story = Story()
    story.add(EventKind.STEP, "Start", 0)
    points = tuple((float(minute), 1.0 + minute % 2) for minute in range(30))
    line = Series(safe("lactate in blood gas"), safe("mmol/L"), points)
    sheet = compose(Chart(build_timeline(story.case("start", series=(line,)))), WIDE, HIGH)
    assert "1.5" in {words.text.reveal() for words in sheet.words}
    assert not overlapping(sheet)


@pytest.mark.parametrize(
    ("counted", "scale"), [((0, 31, 5), (0, 40)), ((0, 0, 0), (0, 1)), ((64, 72, 70), (40, 140))]
)
def test_what_is_counted_in_a_minute_and_is_no_pulse_has_a_scale_of_its_own(
    counted: tuple[float, ...], scale: tuple[float, float]
) -> None:
    assert bounds(Strip(safe("/min"), ((0, line(*enumerate(counted))),))) == scale


# practice.md (b) 1 and 11: units on the axis, and a fall that the room can see. Names: from memory.
@pytest.mark.parametrize(
    ("names", "unit", "lanes"),
    [
        (("systolic", "diastolic", "mean arterial pressure"), "mmHg", [3]),
        (("systolic", "end-tidal CO2"), "mmHg", [1, 1]),
        (("ETCO\u2082", "PaCO2"), "kPa", [2]),
        (("mean pressure", "CVP", "intracranial pressure"), "mmHg", [1, 1, 1]),
        (("airway pressure", "insufflation pressure"), "cmH2O", [1, 1]),
        (("heart rate", "respiratory rate"), "/min", [1, 1]),
        (("SpO2", "FiO2"), "%", [1, 1]),
    ],
)
def test_lines_share_a_scale_only_if_they_measure_the_same(
    names: tuple[str, ...], unit: str, lanes: list[int]
) -> None:
    series = tuple(Series(safe(name), safe(unit), ((0.0, 1.0),)) for name in names)
    assert [len(strip.lines) for strip in strips(series)] == lanes


def test_a_fall_of_a_gas_is_seen_beside_a_pressure() -> None:
    # 36 to 21 mmHg, on a scale that reaches to 160 with the pressures: a flat line.
    pressure = Series(safe("systolic"), safe("mmHg"), ((0.0, 150.0), (10.0, 62.0)))
    gas = Series(safe("end-tidal CO2"), safe("mmHg"), ((0.0, 36.0), (10.0, 21.0)))
    scales = [bounds(strip) for strip in strips((pressure, gas))]
    assert scales == [(0, 160), (0, 60)]


def test_lanes_of_one_unit_stand_apart_and_nothing_lies_over_another() -> None:
    story = Story()
    for minute, what in ((0, "Start"), (20, "End")):
        story.add(EventKind.STEP, what, minute)
    named = (("systolic", 120.0), ("end-tidal CO2", 36.0), ("CVP", 4.0))
    series = tuple(
        Series(safe(name), safe("mmHg"), tuple((float(t), at + t) for t in range(20))) for name, at in named
    )
    timeline = build_timeline(story.case("start", series=series))
    bands = make_plan(timeline, WIDE, HIGH).bands
    assert [name for name in bands if name.startswith("strip")] == ["strip0", "strip1", "strip2"]
    assert not overlapping(compose(Chart(timeline), WIDE, HIGH))


def test_a_fall_of_a_mean_pressure_is_seen_where_it_stands_alone() -> None:
    # 78 to 57 mmHg: an eighth of a scale to 160. Beside a systolic pressure it shares that one's scale.
    mean = Series(safe("Mean pressure"), safe("mmHg"), ((0.0, 78.0), (10.0, 57.0)))
    upper = Series(safe("systolic"), safe("mmHg"), ((0.0, 121.0), (10.0, 82.0)))
    assert [bounds(strip) for strip in strips((mean,))] == [(40, 120)]
    assert [bounds(strip) for strip in strips((mean, upper))] == [(0, 160)]


@pytest.mark.parametrize(
    ("low", "high", "half"),
    [(40, 140, 90), (0, 5, 2.5), (35, 39, 37), (0, 1, 0.5), (25, 150, None), (0, 25, None), (-50, 25, None)],
)
def test_a_tick_half_way_is_a_round_number_or_none(low: float, high: float, half: float | None) -> None:
    # Common practice, no source: nobody reads 87.5 off a chart.
    assert middle(low, high) == half
