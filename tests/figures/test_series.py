from __future__ import annotations

import io
import re

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from PIL import Image

from mmbuilder.analysis.series import SeriesChart, follow_up
from mmbuilder.analysis.values import Measured, Ranked
from mmbuilder.figures.drawn import Size
from mmbuilder.figures.series import compose, draw_series, least
from mmbuilder.figures.series_page import crosses
from mmbuilder.figures.sheet import Box, Dash, Dots, Fill, Shape, Sheet, Stroke
from mmbuilder.figures.style import TEXT, TEXT_INKS, Ink
from mmbuilder.packs.schema import every, load
from mmbuilder.safe.case import Patient, Visit
from mmbuilder.safe.moment import DAY
from mmbuilder.safe.terms import Sex
from tests.analysis.test_series import on_day, visit
from tests.figures.test_sheet_properties import overlapping

CM = 72 / 2.54
WIDE, HIGH = 31 * CM, 12.5 * CM

EYE = (
    (1, {"acuity": "HM", "pressure": "38 mmHg"}),
    (5, {"acuity": "HM", "pressure": "29 mmHg"}),
    (9, {"acuity": "HM", "pressure": "18 mmHg"}),
    (23, {"acuity": "CF", "pressure": "22 mmHg"}),
    (58, {"acuity": "6/36", "pressure": "27 mmHg"}),
    (72, {"acuity": "6/36", "pressure": "not done"}),
    (120, {"acuity": "6/24", "pressure": "14 mmHg"}),
)


def chart(*told: tuple[int, dict[str, str]], pack: str = "ophthalmology") -> SeriesChart:
    visits = [visit(day, **measures) for day, measures in told]
    found = follow_up(visits, load(pack).references, Patient(sex=Sex.FEMALE)).chart
    assert found is not None
    return found


def said(sheet: Sheet) -> list[str]:
    return [words.text.reveal() for words in sheet.words]


# --- whatever the visits ----------------------------------------------------------------------

PHASES = (Phase.explicit, Phase.reuse, Phase.generate)  # shrinking a whole follow-up takes minutes
MANY = settings(max_examples=60, deadline=None, phases=PHASES, suppress_health_check=list(HealthCheck))

_VALUES = {
    "acuity": ["6/6", "6/9 part", "6/36 pinhole", "3/60", "CF at 1 m", "HM", "PL", "NPL", "not done", "20/400 with glasses"],
    "pressure": ["38 mmHg", "2 mmHg", "14-22 mmHg on two drops", ">60 mmHg", "soft to touch", "could not be measured"],
    "haemoglobin": ["118 g/L", "9.9 g/dL", "131 g/L", "not recorded"],
    "C-reactive protein": ["<5 mg/L", "96 mg/L", "312 mg/L", "9 mg/L"],
    "potassium of the first sample taken": ["3.1 mmol/L", "5.9 mmol/L", "haemolysed, asked to be sent again"],
    "pain on walking up the stairs": ["0 of 10", "7 of 10", "10 of 10", "asleep"],
    "gastrointestinalobstruction": ["0 mL", "1,885 mL", "−20 mL"],
}  # fmt: skip


@st.composite
def follow_ups(draw: st.DrawFn) -> SeriesChart:
    last = draw(st.sampled_from([6, 30, 120, 900]))
    names = draw(st.lists(st.sampled_from(sorted(_VALUES)), min_size=1, max_size=5, unique=True))
    days = draw(st.lists(st.integers(-2, last), min_size=2, max_size=13))
    visits = []
    for day in days:
        moment = on_day(day, day + draw(st.sampled_from([0, 0, 0, 2, 9])))
        given_ = [name for name in names if draw(st.integers(0, 4))]
        visits.append(
            Visit(moment, visit(1).label, visit(1, **{n: draw(_value(n)) for n in given_}).measures)
        )
    # Two figures at least, so that there is something to draw.
    visits += [
        visit(-5, **{names[0]: _VALUES[names[0]][0]}),
        visit(last + 3, **{names[0]: _VALUES[names[0]][1]}),
    ]
    sex = draw(st.sampled_from([Sex.FEMALE, Sex.MALE, Sex.NOT_STATED]))
    ranges = [found for pack in every() for found in pack.references]
    made = follow_up(visits, ranges, Patient(sex=sex)).chart
    assert made is not None
    return made


def _value(name: str) -> st.SearchStrategy[str]:
    return st.sampled_from(_VALUES[name])


@MANY
@given(follow_ups(), st.floats(20, 32), st.floats(0, 6))
def test_no_text_overlaps_leaves_the_frame_or_is_small(drawn: SeriesChart, wide: float, more: float) -> None:
    high = least(len(drawn.series)).height + more
    sheet = compose(drawn, wide * CM, high * CM)
    frame = Box(-0.5, -0.5, wide * CM + 0.5, high * CM + 0.5)
    assert overlapping(sheet) == []
    assert [words.text.reveal() for words in sheet.words if not words.box.inside(frame)] == []
    assert min(words.size for words in sheet.words) >= TEXT
    assert {words.ink for words in sheet.words} <= TEXT_INKS
    for item in sheet.items:
        for x, y in _corners(item):
            assert -3 <= x <= wide * CM + 3
            assert -3 <= y <= high * CM + 3


def _corners(item: object) -> list[tuple[float, float]]:
    match item:
        case Stroke():
            return [point for line in item.lines for point in line]
        case Fill() | Dots():
            return list(item.points)
    return []


@MANY
@given(follow_ups())
def test_every_value_is_written_or_counted_and_its_mark_is_bare(drawn: SeriesChart) -> None:
    sheet = compose(drawn, WIDE, HIGH)
    points = [point for one in drawn.series for point in one.points]
    marked = [point for point in points if isinstance(point.value, Measured | Ranked)]
    dots = [at for item in sheet.items if isinstance(item, Dots) for at in item.points]
    assert len(dots) == len(marked)
    assert not [w for w in sheet.words for x, y in dots if w.box.overlaps(Box(x - 3, y - 3, x + 3, y + 3))]
    told = said(sheet)
    short = {point.words.reveal().split()[0] for point in marked}
    values = {point.words.reveal() for point in points} | short | {"–"}
    written = [
        text for words in sheet.words if (text := words.text.reveal()) in values and _in_rows(words.x, sheet)
    ]
    counted = [
        int(found[1]) for text in told if (found := re.search(r"(\d+) more values? in the table", text))
    ]
    assert len(written) + sum(counted) >= len(points)


def _in_rows(x: float, sheet: Sheet) -> bool:
    """Right of the scale, where values stand."""
    guides = [item for item in sheet.items if isinstance(item, Stroke) and item.ink is Ink.RULE]
    return x >= min(point[0] for item in guides for line in item.lines for point in line)


@MANY
@given(follow_ups())
def test_lines_join_neighbours_only_and_pass_no_gap_and_no_skipped_time(drawn: SeriesChart) -> None:
    sheet = compose(drawn, WIDE, HIGH)
    strokes = [item for item in sheet.items if isinstance(item, Stroke)]
    lines = [line for item in strokes if item.ink is Ink.BLUE and item.width > 1 for line in item.lines]
    marks = {at for item in sheet.items if isinstance(item, Dots) for at in item.points}
    axis = [
        line for item in strokes if item.ink is Ink.BLACK for line in item.lines if line[0][1] == line[1][1]
    ]
    edges = [x for (left, _), (right, _) in axis for x in (left, right)]
    for line in lines:
        assert all(_met(end, marks) or any(abs(end[0] - edge) < 0.01 for edge in edges) for end in line)
        assert any(left - 0.01 <= line[0][0] and line[1][0] <= right + 0.01 for (left, _), (right, _) in axis)
    joined = [pair for one in drawn.series for pair in one.joined]
    assert len(lines) <= len(joined) * len(drawn.panels)
    for one in drawn.series:
        for before, after in one.joined:
            assert not [point for point in one.points if before.time < point.time < after.time]


def _met(end: tuple[float, float], marks: set[tuple[float, float]]) -> bool:
    return any(abs(end[0] - x) < 0.01 and abs(end[1] - y) < 0.01 for x, y in marks)


# --- what is drawn ----------------------------------------------------------------------------


def test_acuity_stands_higher_the_better_and_low_vision_under_the_zigzag() -> None:
    sheet = compose(chart(*EYE), WIDE, HIGH)
    squares = [y for item in _dots(sheet, Shape.SQUARE) for _, y in item.points]
    dots = sorted(at for item in _dots(sheet, Shape.DOT) for at in item.points)
    acuity = [y for _, y in dots if y < min(squares)]
    assert len(squares) == 4
    assert squares[:3] == [squares[0]] * 3
    assert squares[3] < squares[0]
    assert sorted(acuity, reverse=True) == acuity
    assert len(set(acuity)) == 2
    text = " ".join(said(sheet))
    assert "below the zigzag: ranks of low vision, no distances (dotted)" in text
    assert {"CF", "HM", "6/24"} <= set(said(sheet))
    assert not {"2", "2.3", "3", "1.9"} & set(said(sheet))


def test_a_line_to_a_rank_is_dotted_and_one_between_figures_is_not() -> None:
    sheet = compose(
        chart((1, {"acuity": "HM"}), (8, {"acuity": "6/60"}), (15, {"acuity": "6/24"})), WIDE, HIGH
    )
    dashes = [i.dash for i in sheet.items if isinstance(i, Stroke) and i.ink is Ink.BLUE]
    assert dashes == [Dash.DOTTED, Dash.SOLID]


def test_even_scale_in_days_within_a_panel() -> None:
    sheet = compose(chart(*((n, {"IOP": f"{n} mmHg"}) for n in (10, 20, 40))), WIDE, HIGH)
    first, second, third = sorted(x for item in _dots(sheet, Shape.DOT) for x, _ in item.points)
    assert third - second == pytest.approx(2 * (second - first))


def test_skipped_time_is_written_at_a_zigzag() -> None:
    told = said(compose(chart(*((n, {"IOP": f"{n + 9} mmHg"}) for n in (1, 2, 3, 7, 365))), WIDE, HIGH))
    (skip,) = [text for text in told if re.fullmatch(r"\d+ days", text)]
    assert 340 < int(skip.split()[0]) < 358


def test_the_range_is_a_band_with_its_word_at_its_height() -> None:
    sheet = compose(
        chart((1, {"IOP": "38 mmHg"}), (8, {"IOP": "21 mmHg"}), (30, {"IOP": "10 mmHg"})), WIDE, HIGH
    )
    (band,) = [item for item in sheet.items if isinstance(item, Fill) and item.edge is Ink.RULE]
    dots = sorted(at for item in _dots(sheet, Shape.DOT) for at in item.points)
    heights = [y for _, y in band.points]
    assert min(heights) == pytest.approx(dots[1][1])
    assert max(heights) == pytest.approx(dots[2][1])
    assert "reference 10 to 21" in said(sheet)


def test_no_edge_of_a_narrow_range_runs_through_its_word() -> None:
    """Common practice, no source."""
    told = [(day, {"CRP": f"{value} mg/L"}) for day, value in ((8, 96), (13, 31), (30, 12), (90, 9))]
    sheet = compose(chart(*told, pack="general surgery"), WIDE, HIGH)
    (band,) = (i for i in sheet.items if isinstance(i, Fill) and i.ink is Ink.BAND)
    (word,) = (w for w in sheet.words if w.text.reveal() == "reference up to 5")
    edges = {y for _, y in band.points}
    assert max(edges) - min(edges) < TEXT
    assert not [y for y in edges if word.box.top < y < word.box.bottom]


def test_values_of_a_row_are_all_written_without_the_unit_that_its_name_says() -> None:
    told = said(compose(chart(*EYE), WIDE, HIGH))
    assert {"38", "29", "18", "22", "27", "14"} <= set(told)
    assert [text for text in told if "mmHg" in text] == ["pressure, mmHg"]


def test_no_range_no_word() -> None:
    told = said(compose(chart((1, {"weight": "87 kg"}), (8, {"weight": "86 kg"})), WIDE, HIGH))
    assert not [text for text in told if "reference" in text]


def test_a_limit_is_a_hollow_triangle_in_words_too() -> None:
    sheet = compose(chart((1, {"x": "9 mg/L"}), (8, {"x": "7 mg/L"}), (30, {"x": "<5 mg/L"})), WIDE, HIGH)
    (mark,) = _dots(sheet, Shape.DOWN)
    assert mark.hollow
    assert "hollow triangle: a limit, the value is beyond it" in " ".join(said(sheet))


def test_nothing_but_zero_has_a_scale_that_does_not_go_below_it() -> None:
    told = said(compose(chart((1, {"drain": "0 mL"}), (8, {"drain": "0 mL"})), WIDE, HIGH))
    assert {"0", "1"} <= set(told)
    assert not [text for text in told if text.startswith("-")]


def test_fourteen_and_fifteen_do_not_look_far_apart() -> None:
    sheet = compose(chart((1, {"x": "14 mL"}), (8, {"x": "15 mL"})), WIDE, HIGH)
    heights = [y for item in _dots(sheet, Shape.DOT) for _, y in item.points]
    assert max(heights) - min(heights) < HIGH / 2


def test_of_a_long_name_the_first_words_and_the_unit_are_written() -> None:
    name = "drain fluid of the second bottle on the left side as read off by the night staff"
    told = " ".join(said(compose(chart((1, {name: "14 mL"}), (8, {name: "15 mL"})), WIDE, HIGH)))
    assert re.search(r"drain fluid of the second .*…, mL", told)


def test_a_gap_is_told_in_words() -> None:
    told = said(compose(chart(*EYE), WIDE, HIGH))
    assert "not done" in told


def test_words_that_find_no_place_are_counted() -> None:
    crowd = [(day, {"IOP": f"{20 + day % 3} mmHg"}) for day in range(200)]
    told = said(compose(chart(*crowd), WIDE, HIGH))
    assert re.search(r"\d+ more values in the table", " ".join(told))


def _dots(sheet: Sheet, shape: Shape) -> list[Dots]:
    return [item for item in sheet.items if isinstance(item, Dots) and item.shape is shape]


# --- pictures ---------------------------------------------------------------------------------


def test_pictures_are_the_same_each_time_and_their_text_is_fourteen_points(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("MMBUILDER_CACHE", "")
    first, second = (draw_series(chart(*EYE), Size(31, 12.5)) for _ in range(2))
    assert first == second
    (drawing,) = first.pictures
    svg = drawing.svg.decode()
    sizes = [float(size) for size in re.findall(r"(?:font-size: |font: (?:bold |700 )?)([\d.]+)px", svg)]
    assert len(sizes) == svg.count("<text")
    assert min(sizes) >= 14
    with Image.open(io.BytesIO(drawing.png)) as picture:
        assert picture.size == (round(31 / 2.54 * 150), round(12.5 / 2.54 * 150))
        greys = {grey for _, grey in picture.convert("L").getcolors(256) or []}
    assert len(greys) > 3


def test_the_words_and_rows_of_a_drawing_tell_the_same_story() -> None:
    drawn = draw_series(chart(*EYE), Size(31, 12.5))
    assert "Day 120 6/24" in drawn.alt.reveal()
    head, *told = [[cell.reveal() for cell in row] for row in drawn.rows]
    assert head == ["Visit", "acuity, logMAR", "pressure, mmHg"]
    assert told[0] == ["Day 1", "HM", "38 mmHg"]
    assert told[5] == ["Day 72", "6/36", "not done"]
    assert len(told) == len(EYE)


def test_too_little_room_is_refused_in_plain_words() -> None:
    with pytest.raises(ValueError, match=r"expected at least 20 by 8\.2 cm"):
        draw_series(chart(*EYE), Size(31, 5))


@pytest.mark.parametrize(
    ("start", "end", "meets"),
    [((0, 5), (10, 5), True), ((0, 0), (10, 1), False), ((5, 4.5), (5.5, 5), True), ((0, 9), (9, 0), True), ((0, 3), (3, 0), False)],
)  # fmt: skip
def test_a_line_meets_a_box_or_not(start: tuple[float, float], end: tuple[float, float], meets: bool) -> None:
    assert crosses(Box(4, 4, 6, 6), start, end) is meets


def test_days_before_the_index_event_have_a_place() -> None:
    told = said(compose(chart((-3, {"IOP": "15 mmHg"}), (4, {"IOP": "21 mmHg"})), WIDE, HIGH))
    assert "Day -3" in told
    assert on_day(-3).days == (-3, -3)
    assert on_day(4).hi is not None
    assert on_day(4).hi / DAY < 5


def test_a_missing_value_is_not_told_beside_a_figure_of_the_scale() -> None:
    # Common practice, no source: "76 not recorded" is read as if the weight of 76 were not.
    drawn = chart(
        (8, {"haemoglobin": "99 g/L"}),
        (13, {"haemoglobin": "101 g/L", "weight": "87 kg"}),
        (30, {"haemoglobin": "112 g/L", "weight": "86 kg"}),
        (90, {"haemoglobin": "124 g/L", "weight": "90 kg"}),
    )
    sheet = compose(drawn, 880, 360)
    (missing,) = [words for words in sheet.words if words.text.reveal() == "not recorded"]
    figures = [words for words in sheet.words if words.x < missing.x and words.text.reveal().isdigit()]
    assert figures
    assert not [words for words in figures if abs(words.y - missing.y) < TEXT]
