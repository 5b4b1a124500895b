from __future__ import annotations

from math import log10

import pytest

from mmbuilder.analysis.day_panels import day_panels
from mmbuilder.analysis.panels import skipped
from mmbuilder.analysis.series import LEAST, MOST, FollowUp, VisitSeries, describe_series, follow_up
from mmbuilder.analysis.values import RANKS, Measured, NotDone, Ranked, Side, Worded, read
from mmbuilder.clinic.measures.visual_acuity import LOW
from mmbuilder.packs.schema import Reference, load
from mmbuilder.safe.case import Measure, Patient, Visit
from mmbuilder.safe.moment import DAY, UNKNOWN, Known, Moment
from mmbuilder.safe.terms import Sex, YesNo
from tests.figures.samples import at, safe


def on_day(first: int, last: int | None = None) -> Moment:
    """A day as the clocks give it: its minutes count from an index event at 15:20."""
    last = first if last is None else last
    return Moment(first * DAY - 920, last * DAY + 519, Known.EXACT, DAY, days=(first, last))


def visit(when: int | Moment, **measures: str) -> Visit:
    moment = on_day(when) if isinstance(when, int) else when
    told = tuple(Measure(safe(name.replace("_", " ")), safe(value)) for name, value in measures.items())
    return Visit(moment, safe("clinic"), told)


def only(found: FollowUp) -> VisitSeries:
    assert found.chart is not None
    (one,) = found.chart.series
    return one


def words(one: VisitSeries) -> list[str]:
    return [point.words.reveal() for point in one.points]


# --- acuity -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("written", "logmar"),
    [
        # Acuity table, READ in check-values E2 (Bach's table; Holladay's chart).
        ("6/3", -0.301), ("6/6", 0.0), ("6/7.5", 0.097), ("6/9", 0.176), ("6/12", 0.301), ("6/18", 0.477),
        ("6/19", 0.501), ("6/24", 0.602), ("6/36", 0.778), ("6/60", 1.0), ("3/60", 1.301), ("20/20", 0.0),
        ("20/32", 0.204), ("20/50", 0.398), ("20/200", 1.0),
        # Letters = 85 - 50 logMAR: the table's own letters for 6/60, 6/19 and 6/3.
        ("35 letters", 1.0), ("60 letters", 0.5), ("100 letters", -0.3),
        # A letter is 0.02 (check-values E2, MEM): one short of 6/12, two more than 6/9.
        ("6/12-1", 0.321), ("6/9 +2", 0.136), ("6/12−1", 0.321),
        ("6/9 part", 0.176), ("0.30 logMAR", 0.3), ("logMAR -0.1", -0.1),
    ],
)  # fmt: skip
def test_a_line_stands_at_its_logmar(written: str, logmar: float) -> None:
    value = read(safe("acuity"), safe(written))
    assert isinstance(value, Measured)
    assert value.middle == pytest.approx(logmar, abs=0.0006)


@pytest.mark.parametrize(
    ("written", "rank"),
    [("CF", 0), ("CF at 1 m", 0), ("counting fingers", 0), ("FC", 0), ("HM", 1), ("HMM", 1), ("hand movements", 1),
     ("PL", 2), ("LP", 2), ("perception of light with projection", 2), ("NPL", 3), ("NLP", 3), ("no PL", 3),
     ("no perception of light", 3)],
)  # fmt: skip
def test_low_vision_is_a_rank_and_never_a_number(written: str, rank: int) -> None:
    assert read(safe("VA right"), safe(written)) == Ranked(rank)


def test_the_ranks_run_as_the_published_conventions_have_them() -> None:
    # Schulze-Bonsel and Bach: CF 1.9, HM 2.3, PL 2.7, NPL 3.0 (READ in check-values E2); Holladay differs on HM.
    assert [rank.reveal() for rank in RANKS] == list(LOW)
    by_bach = [conventions[0][1] for conventions in LOW.values()]
    assert by_bach == sorted(by_bach)


@pytest.mark.parametrize("written", ["0.3", "1.0", "6/0", "6/9 or 6/12", "N8", "blurred", "18"])
def test_what_could_be_two_things_stays_words(written: str) -> None:
    assert read(safe("acuity"), safe(written)) == Worded()


def test_pinhole_and_unaided_are_not_joined() -> None:
    found = follow_up(
        [visit(1, acuity="6/60 unaided"), visit(8, acuity="6/36 unaided"), visit(30, acuity="6/12 pinhole")]
    )
    pairs = [(a.words.reveal(), b.words.reveal()) for a, b in only(found).joined]
    assert pairs == [("6/60 unaided", "6/36 unaided")]


# --- figures ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("written", "low", "high", "unit", "side"),
    [
        ("14 mmHg", 14, 14, "mmHg", Side.EXACT), ("14mmHg", 14, 14, "mmHg", Side.EXACT),
        ("20 mm Hg", 20, 20, "mmHg", Side.EXACT), ("118 g/l", 118, 118, "g/L", Side.EXACT),
        ("14-16 mmHg", 14, 16, "mmHg", Side.EXACT), ("<5 mg/L", 5, 5, "mg/L", Side.BELOW),
        ("less than 5 mg/L", 5, 5, "mg/L", Side.BELOW), ("> 60 mmHg", 60, 60, "mmHg", Side.ABOVE),
        ("unter 5 mg/L", 5, 5, "mg/L", Side.BELOW), ("ca. 14 mmHg", 14, 14, "mmHg", Side.EXACT),
        ("11.2 × 10⁹/L", 11.2, 11.2, "10⁹/L", Side.EXACT), ("11,2 x10^9/L", 11.2, 11.2, "10⁹/L", Side.EXACT),
        ("1,885 mL", 1885, 1885, "mL", Side.EXACT), ("−1.25 D", -1.25, -1.25, "D", Side.EXACT),
        ("37.8°C", 37.8, 37.8, "°C", Side.EXACT), ("96%", 96, 96, "%", Side.EXACT),
        ("88 umol/L", 88, 88, "µmol/L", Side.EXACT), ("14 mmHg on two drops", 14, 14, "mmHg", Side.EXACT),
        ("3 of 10", 3, 3, "of 10", Side.EXACT), ("3 pads", 3, 3, "pads", Side.EXACT), ("15", 15, 15, "", Side.EXACT),
    ],
)  # fmt: skip
def test_a_figure_keeps_its_unit(written: str, low: float, high: float, unit: str, side: Side) -> None:
    assert read(safe("value"), safe(written)) == Measured(low, high, safe(unit), side)


@pytest.mark.parametrize("written", ["7", "7/10", "7 of 10", "7 out of 10", "7 points"])
def test_pain_told_as_a_number_is_of_ten_however_it_is_written(written: str) -> None:
    """LOINC 72514-3, READ in HL7 Belgium's value set of it: 0 is no pain, 10 the worst imaginable."""
    assert read(safe("pain at rest"), safe(written)) == Measured(7, 7, safe("of 10"))


@pytest.mark.parametrize(
    ("name", "written"),
    [("pain", "12"), ("pain", "12/10"), ("pain", "70/100"), ("pressure", "7/10"), ("pain relief", "7/10")],
)
def test_what_is_no_score_of_pain_stays_words(name: str, written: str) -> None:
    assert read(safe(name), safe(written)) == Worded()


def test_a_mark_on_a_line_keeps_its_unit() -> None:
    assert read(safe("pain"), safe("45 mm")) == Measured(45, 45, safe("mm"))


@pytest.mark.parametrize(
    "written", ["not done", "Not recorded", "could not be measured", "n/a", "—", "unrecordable", "awaited"]
)
def test_not_done_is_not_zero_and_not_a_word(written: str) -> None:
    assert read(safe("eye pressure"), safe(written)) == NotDone()


@pytest.mark.parametrize(
    "written",
    ["18/16", "120/80 mmHg", "off since 06.30", "2 drains in place", "14:05", "−1.50/−0.75 × 90", "Day 12", "3/10"],
)  # fmt: skip
def test_two_figures_or_a_sentence_stay_words(written: str) -> None:
    assert read(safe("value"), safe(written)) == Worded()


# --- series -----------------------------------------------------------------------------------


def test_a_visit_without_the_measure_breaks_the_line_and_says_so() -> None:
    one = only(
        follow_up([visit(1, IOP="38 mmHg"), visit(5), visit(9, IOP="18 mmHg"), visit(23, IOP="22 mmHg")])
    )
    assert words(one) == ["38 mmHg", "not recorded", "18 mmHg", "22 mmHg"]
    assert isinstance(one.points[1].value, NotDone)
    assert [(a.time / DAY, b.time / DAY) for a, b in one.joined] == [(9, 23)]


def test_a_limit_is_drawn_and_not_joined() -> None:
    one = only(follow_up([visit(1, CRP="96 mg/L"), visit(5, CRP="31 mg/L"), visit(30, CRP="<5 mg/L")]))
    assert len(one.joined) == 1
    assert one.figures[-1].side is Side.BELOW


def test_one_unit_a_series_by_conversion_where_the_kind_is_the_same() -> None:
    # Practice (e) 17: Hb g/dL x 10 = g/L.
    found = follow_up([visit(1, Hb="118 g/L"), visit(8, hb="9.9 g/dL")])
    one = only(found)
    assert [value.middle for value in one.figures] == [pytest.approx(118), pytest.approx(99)]
    assert words(one) == ["118 g/L", "9.9 g/dL"]
    assert [note.reveal() for note in found.notes] == ["Hb in g/dL is labelled as written and drawn in g/L."]


def test_kilopascals_and_millimetres_of_mercury() -> None:
    # NIST SP 811: 1 mmHg = 133.3224 Pa, so 2 kPa = 15.0 mmHg.
    one = only(follow_up([visit(1, IOP="14 mmHg"), visit(8, IOP="2 kPa")]))
    assert one.figures[1].middle == pytest.approx(15.0, abs=0.01)


def test_a_unit_of_another_kind_gets_a_series_of_its_own_and_a_note() -> None:
    # mg/dL to µmol/L needs a molar mass, which is known of creatinine (practice (e) 17) and not of a protein.
    found = follow_up(
        [
            visit(n, protein=value)
            for n, value in enumerate(("88 µmol/L", "1.9 mg/dL", "167 µmol/L", "1.7 mg/dL"))
        ]
    )
    assert found.chart is not None
    first, second = found.chart.series
    assert [value.middle for value in first.figures] == [88, 167]
    assert [value.middle for value in second.figures] == [1.9, 1.7]
    assert not first.joined
    assert [isinstance(point.value, Worded) for point in first.points] == [False, True, False, True]
    assert any("cannot be turned into one another" in note.reveal() for note in found.notes)


def test_a_figure_without_a_unit_is_not_taken_for_one_with_a_unit() -> None:
    found = follow_up([visit(1, IOP="14 mmHg"), visit(8, IOP="16 mmHg"), visit(9, IOP="15")])
    assert len(only(found).figures) == 2
    assert [(name.reveal(), why.reveal()) for name, why in found.table_only] == [
        ("IOP", "figures of one visit only")
    ]


def test_fewer_figures_than_two_are_left_to_the_table() -> None:
    assert LEAST == 2
    found = follow_up([visit(1, CRP="96 mg/L", acuity="HM"), visit(8, CRP="not done", acuity="CF")])
    assert found.chart is None
    assert {name.reveal(): why.reveal() for name, why in found.table_only} == {
        "CRP": "figures of one visit only",
        "acuity": "no figure that can be plotted",
    }


def test_two_figures_of_one_day_make_no_course() -> None:
    found = follow_up([visit(1, IOP="30 mmHg"), visit(1, IOP="22 mmHg")])
    assert found.chart is None


def test_the_fullest_four_are_drawn_in_the_order_of_the_visits() -> None:
    full = {f"m{n}": "1 mm" for n in range(6)}
    visits = [visit(1, **full), visit(2, **full), visit(3, m4="1 mm", m5="2 mm")]
    found = follow_up(visits)
    assert found.chart is not None
    assert [one.name.reveal() for one in found.chart.series] == ["m0", "m1", "m4", "m5"]
    assert [(name.reveal(), why.reveal()) for name, why in found.table_only] == [
        ("m2", "only 4 series are drawn"),
        ("m3", "only 4 series are drawn"),
    ]
    assert MOST == 4


def test_a_day_stays_its_day_whatever_the_time_of_the_index_event() -> None:
    one = only(
        follow_up([visit(8, CRP="31 mg/L"), visit(1, CRP="96 mg/L"), visit(on_day(28, 30), CRP="9 mg/L")])
    )
    assert [(point.start / DAY, point.end / DAY) for point in one.points] == [(1, 1), (8, 8), (28, 30)]
    assert [point.when.reveal() for point in one.points] == ["Day 1", "Day 8", "Day 28 to Day 30"]


def test_a_visit_without_a_day_is_told_and_not_drawn() -> None:
    after = Moment(30 * DAY, None, Known.AFTER, DAY, days=(30, None))
    found = follow_up(
        [
            visit(1, CRP="96 mg/L"),
            visit(8, CRP="31 mg/L"),
            visit(UNKNOWN, CRP="9 mg/L"),
            visit(after, CRP="5 mg/L"),
        ]
    )
    assert words(only(found)) == ["96 mg/L", "31 mg/L"]
    assert [note.reveal() for note in found.notes] == [
        "2 visits have no day of their own and are told in the table only."
    ]


def test_no_visits_give_nothing() -> None:
    assert follow_up([]) == FollowUp(None, (), ())


# --- reference ranges -------------------------------------------------------------------------

EYES = load("ophthalmology").references
SURGERY = load("general surgery").references


@pytest.mark.parametrize(
    "name", ["pressure", "IOP", "IOP right", "pressure left eye", "intraocular pressure"]
)
def test_the_range_is_found_by_any_name_and_side(name: str) -> None:
    visits = [visit(1, **{name: "38 mmHg"}), visit(8, **{name: "14 mmHg"})]
    usual = only(follow_up(visits, EYES)).usual
    # check-values E3: 10-21 mmHg (Hollows & Graham 1966; MEM there).
    assert usual is not None
    assert (usual.low, usual.high, usual.with_unit.reveal()) == (10, 21, "10 to 21 mmHg")
    assert "Hollows" in usual.source.reveal()


def test_the_range_is_turned_into_the_unit_of_the_series() -> None:
    usual = only(
        follow_up([visit(1, Hb="9.9 g/dL"), visit(8, Hb="11 g/dL")], SURGERY, Patient(sex=Sex.FEMALE))
    ).usual
    assert usual is not None
    assert (usual.low, usual.high) == (pytest.approx(12), None)
    assert usual.with_unit.reveal() == "12 g/dL or more"


NO_CHILD = "there is none for children here, and that of adults does not hold"


@pytest.mark.parametrize(
    ("patient", "value", "why"),
    [
        (Patient(age=safe("9"), sex=Sex.MALE), "99 g/L", NO_CHILD),
        (Patient(age=safe("15"), sex=Sex.MALE), "99 g/L", NO_CHILD),
        (Patient(age=safe("8 months"), sex=Sex.MALE), "99 g/L", NO_CHILD),
        (Patient(age=safe("71")), "99 g/L", "it differs by sex, and the sex is not stated"),
        (Patient(sex=Sex.MALE), "99", "the figures have no unit"),
        (Patient(sex=Sex.MALE), "6 U/L", "the figures are in another unit"),
    ],
)
def test_a_range_that_does_not_hold_is_not_drawn(patient: Patient, value: str, why: str) -> None:
    found = follow_up([visit(1, Hb=value), visit(8, Hb=value)], SURGERY, patient)
    assert only(found).usual is None
    assert f"No reference for Hb is drawn: {why}." in [note.reveal() for note in found.notes]


def test_in_pregnancy_the_range_is_that_of_pregnancy() -> None:
    # Anaemia in pregnancy below 110 g/L: World Health Organization 2011, from memory.
    patient = Patient(age=safe("31"), sex=Sex.FEMALE, pregnant=YesNo.YES)
    found = follow_up([visit(1, Hb="99 g/L"), visit(8, Hb="104 g/L")], SURGERY, patient)
    usual = only(found).usual
    assert usual is not None
    assert usual.with_unit.reveal() == "110 g/L or more"
    assert any("110 g/L or more, in pregnancy (World" in note.reveal() for note in found.notes)


def test_in_pregnancy_no_other_range_stands_in() -> None:
    patient = Patient(age=safe("31"), sex=Sex.FEMALE, pregnant=YesNo.YES)
    found = follow_up([visit(1, bilirubin="18 µmol/L"), visit(8, bilirubin="19 µmol/L")], SURGERY, patient)
    assert only(found).usual is None
    assert "there is none for pregnancy here" in found.notes[-1].reveal()


def test_a_range_for_children_is_drawn_for_a_child_and_for_nobody_else() -> None:
    own = Reference.model_validate(
        {"names": ["drain"], "unit": "mL", "high": 20, "for": "child", "source": "common practice, no source"}
    )
    visits = [visit(1, drain="120 mL"), visit(2, drain="40 mL")]
    child = only(follow_up(visits, [own], Patient(age=safe("9")))).usual
    assert child is not None
    assert child.high == 20
    for grown in (Patient(age=safe("16")), Patient(), Patient(age=safe("9"), pregnant=YesNo.YES)):
        assert only(follow_up(visits, [own], grown)).usual is None


def test_a_measure_nobody_has_a_range_for_is_not_spoken_of() -> None:
    found = follow_up([visit(1, weight="87 kg"), visit(8, weight="86 kg")], SURGERY)
    assert found.notes == ()


def test_mean_pressure_is_no_eye_pressure() -> None:
    found = follow_up([visit(1, mean_pressure="87 mmHg"), visit(8, mean_pressure="86 mmHg")], EYES)
    usual = only(found).usual
    assert usual is not None
    assert (usual.low, usual.high) == (70, 105)


def test_a_bare_figure_has_a_range_and_the_same_figure_with_a_unit_has_none() -> None:
    # 1.0 to 1.4 in healthy people: Best Practice Journal (bpac New Zealand), April 2014, READ.
    legs = load("vascular surgery").references
    usual = only(follow_up([visit(1, ABPI="0.42"), visit(8, ABPI="0.9")], legs)).usual
    assert usual is not None
    assert usual.with_unit.reveal() == "1 to 1.4"
    found = follow_up([visit(1, ABPI="42 mmHg"), visit(8, ABPI="90 mmHg")], legs)
    assert only(found).usual is None
    assert "No reference for ABPI is drawn: the figures are in another unit." in [
        note.reveal() for note in found.notes
    ]


def test_ranges_of_ones_own_are_data() -> None:
    own = Reference(names=("drain",), unit="mL", high=50, source="common practice, no source")
    usual = only(follow_up([visit(1, drain="120 mL"), visit(2, drain="40 mL")], [own])).usual
    assert usual is not None
    assert usual.words.reveal() == "up to 50"


# --- words and axis ---------------------------------------------------------------------------


def test_alt_text_tells_values_as_written_and_the_gaps() -> None:
    visits = [
        visit(1, acuity="HM", IOP="38 mmHg"),
        visit(23, acuity="6/36"),
        visit(58, acuity="6/24", IOP="14 mmHg"),
    ]
    found = follow_up(visits, EYES)
    assert found.chart is not None
    assert describe_series(found.chart).reveal() == (
        "Acuity, better upwards: Day 1 HM, Day 23 6/36, Day 58 6/24. "
        "IOP: Day 1 38 mmHg, Day 58 14 mmHg; reference 10 to 21 mmHg; no value at Day 23."
    )


def test_an_even_course_has_one_scale() -> None:
    panels, shares = day_panels([n * DAY for n in (1, 8, 15, 30)])
    assert (len(panels), shares) == (1, (1.0,))
    assert panels[0].start < DAY < 30 * DAY < panels[0].end


def test_an_even_crowd_stays_on_one_scale() -> None:
    panels, _ = day_panels([n * DAY for n in range(60)])
    assert len(panels) == 1


def test_a_crowded_start_gets_its_own_scale_and_no_time_is_lost() -> None:
    panels, shares = day_panels([n * DAY for n in (1, 5, 9, 23, 58, 72, 120)])
    assert len(panels) == 2
    assert panels[0].end == panels[1].start
    assert sum(shares) == pytest.approx(1)
    assert [text.reveal() for text in skipped(panels)] == [""]


def test_a_year_without_visits_is_skipped_in_words() -> None:
    panels, _ = day_panels([n * DAY for n in (1, 2, 3, 7, 365)])
    assert panels[0].end < panels[1].start
    (told,) = [text.reveal() for text in skipped(panels)]
    assert told.endswith(" days")
    assert int(told.split()[0]) == round((panels[1].start - panels[0].end) / DAY)


def test_hours_are_told_in_hours() -> None:
    one = [visit(at(60.0 * h), lactate=f"{h} mmol/L") for h in (2, 6, 12)]
    found = follow_up(one)
    assert found.chart is not None
    assert [panel.unit for panel in found.chart.panels] == ["h"]


@pytest.mark.parametrize("name", ["acuity", "visual acuity right", "VA", "BCVA left", "vision"])
def test_acuity_goes_by_these_names_and_runs_upside_down(name: str) -> None:
    one = only(follow_up([visit(1, **{name: "6/60"}), visit(8, **{name: "6/6"})]))
    assert one.better_up
    assert one.unit.reveal() == "logMAR"
    assert one.figures[0].middle == pytest.approx(log10(10))


def test_a_laboratory_that_changes_its_unit_leaves_one_series_by_the_molar_mass() -> None:
    """practice.md (e) 17, READ: creatinine mg/dL × 88.42; one unit per series."""
    found = follow_up([visit(3, creatinine="168 µmol/L"), visit(4, creatinine="1.9 mg/dL")])
    series = only(found)
    assert [round(figure.low) for figure in series.figures] == [168, 168]
    assert series.unit.reveal() == "µmol/L"
    assert any("labelled as written and drawn in µmol/L" in note.reveal() for note in found.notes)
