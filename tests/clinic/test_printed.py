"""Every number that a source prints, or that was recomputed from one, by its row of check-values.md C to I
and of practice.md (e); `basis` says which. Rows in words (definitions, factor types, hierarchy) are held
elsewhere: D1, D3 and C4 in `test_severity`, C1 and C2 in `tests/review` and `tests/packs`;
B2 (intervals, CALC) in `tests/analysis`. No figure here is a control chart or an agreement (F2 to F4).
"""

from __future__ import annotations

import pytest

from mmbuilder.clinic import catalogue, work
from mmbuilder.clinic.acuity import read_acuity
from mmbuilder.clinic.measures import capsule_rupture_risk, eye_grade, pressure_response, rate

# --- practice.md (e): each worked example is one of its figure ------------------------------------
# number, figure, what it prints. 1 to 5 are of clocks and phases: tests/case, tests/analysis. 33 is a rule: test_severity.

WORKED = (
    (6, "strength", "strength: 1.000 mg/mL"),  # 1 in 1,000
    (6, "strength", "strength: 0.005 mg/mL"),  # 1 in 200,000
    (6, "strength", "dose: 50.00 mg"),
    (6, "strength", "for the weight: 0.83 mg/kg"),
    (7, "serial dilution", "dose: 3.00 mg"),
    (8, "infusion rate", "0.114 µg/kg/min"),
    (9, "cumulative dose", "unresolved, lowest: 0.3 mg"),
    (9, "cumulative dose", "unresolved, highest: 1.2 mg"),
    (10, "blood loss", "738 mL"),
    (11, "allowable blood loss", "1,885 mL"),
    (12, "fluid balance", "+2,550 mL"),
    (13, "urine output", "0.18 mL/kg/h"),
    (14, "mean arterial pressure", "66 mmHg"),
    (15, "shock index", "1.33"),
    (16, "p/f ratio", "15.8 kPa"),
    (16, "p/f ratio", "in mmHg: 119 mmHg"),
    (17, "conversion", "168 µmol/L"),
    (18, "kidney injury stage", "stage 1"),
    (19, "visual acuity", "logMAR: 0.50"),
    (19, "visual acuity", "letters: 60"),
    (19, "visual acuity", "logMAR: 0.40"),
    (19, "visual acuity", "logMAR: 0.20"),
    (20, "refraction", "spherical equivalent: −1.50 D"),
    (21, "clock hours", "anatomy: 2 o'clock (superonasal)"),
    (22, "tourniquet time", "101 min"),
    (22, "tourniquet time", "flow between: 12 min"),
    (23, "ischaemia time", "97 min"),
    (24, "gestation", "37+4"),
    (24, "gestation", "263 days"),
    (25, "decision to delivery", "from decision 1: 39 min"),
    (25, "decision to delivery", "from decision 2: 18 min"),
    (26, "apgar", "7 of 10"),
    (27, "early warning score", "recomputed: 5"),
    (27, "early warning score", "written: 3"),
    (28, "glasgow coma scale", "13 (E3 V4 M6)"),
    (29, "predicted body weight", "57.0 kg"),
    (29, "predicted body weight", "6 mL/kg: 342 mL"),
    (30, "burns fluid", "in 24 h: 8,400 mL"),
    (30, "burns fluid", "an hour until then: 700 mL/h"),
    (31, "meld", "original 2001: 20"),
    (32, "mast cell tryptase", "limit: 6.8 µg/L"),
    (32, "mast cell tryptase", "raised"),
    (34, "comprehensive complication index", "33.5"),
    (35, "rate", "2.5%"),
    (35, "rate", "95 % limits: 0.9 to 7.1%"),
)


@pytest.mark.parametrize(("number", "name", "printed"), WORKED)
def test_worked_examples_of_practice_e_are_worked(number, name, printed):
    """They come out as printed by `test_measures`; here it is that none is left out."""
    shown = {
        answer.removeprefix("stage: ")
        for example in catalogue()[name].EXAMPLES
        for answer in (*example.printed, *example.disputed)
    }
    assert printed in shown, f"practice.md (e) {number}"


# --- D2: Comprehensive Complication Index (MEM+CALC; S78 for the range) ----------------------------


@pytest.mark.parametrize(
    ("grades", "index"),
    [
        ("I", "8.7"),  # S80 has squares under the root: that would be 150
        ("II", "20.9"),
        ("IIIa", "26.2"),
        ("IIIb", "33.7"),
        ("IVa", "42.4"),
        ("IVb", "46.2"),
        ("V", "100.0"),
        ("I, I", "12.2"),
        ("I, II", "22.6"),
        ("II, II", "29.6"),
        ("II, IIIa", "33.5"),
        ("IIIa, IIIa", "37.1"),
        ("II, IIIb", "39.7"),
        ("I, II, IIIb", "40.6"),
        ("IIIb, IVa", "54.2"),
        ("IVb, IVb", "65.4"),
        ("II, II, IVa, IVb, IVb", "83.4"),
        ("IVb, IVb, IVb, IVb", "92.5"),
    ],
)
def test_d2_complication_index(grades, index):
    assert str(work("comprehensive complication index", {"grades": grades}).answers[0]) == index


# --- E1: capsule rupture, composite odds ratios (READ S98) -----------------------------------------


@pytest.mark.parametrize(
    ("table", "row", "ratio"),
    [
        *(("AGE", *row) for row in (("under 60", 1.00), ("60-69", 1.14), ("70-79", 1.42), ("80-89", 1.58))),
        ("AGE", "90 or older", 2.37),
        *(("FACTORS", *row) for row in (("male", 1.28), ("glaucoma", 1.30), ("diabetic retinopathy", 1.63))),
        *(("FACTORS", *row) for row in (("no fundal view", 2.46), ("pseudoexfoliation", 2.92))),
        *(("FACTORS", *row) for row in (("medium pupil", 1.14), ("small pupil", 1.45), ("long eye", 1.47))),
        *(
            ("FACTORS", *row)
            for row in (("doxazosin", 1.51), ("cannot lie flat", 1.27), ("brunescent", 2.99))
        ),
        *(("GRADE", *row) for row in (("consultant", 1.00), ("associate specialist", 0.87))),
        *(("GRADE", *row) for row in (("staff grade", 0.36), ("fellow", 1.65))),
        *(("GRADE", *row) for row in (("specialist registrar", 1.60), ("senior house officer", 3.73))),
    ],
)
def test_e1_odds_ratios(table, row, ratio):
    assert getattr(capsule_rupture_risk, table)[row] == ratio


def test_e1_the_worst_of_all_stays_below_certainty():
    """READ S98 for the ratios, CALC for the product: 2105, 94.1 %; straight products would pass 100 %."""
    worst = [name for name in capsule_rupture_risk.FACTORS if name not in ("none", "medium pupil")]
    told = work(
        "capsule rupture risk",
        {"age": "90 or older", "factors": worst, "grade": "senior house officer"},
    )
    ratio, risk = told.answers
    assert round(ratio.value[0]) == 2105
    assert f"{risk.value[0]:.1f}" == "94.1"


def test_e1_the_benchmark_carries_its_years():
    """READ S88, S89: 1.92 %, 2001 to 2006; READ S93: 0.87 % in 2021-22; S92: the model of 2024 parts on age."""
    leaf = catalogue()["capsule rupture risk"]
    assert "2001 to 2006" in leaf.SOURCE
    assert all(said in leaf.CAUTION for said in ("2009", "1.92 %", "0.87 %", "2021-22", "2024"))


# --- E2: visual acuity (READ+CALC, S100 and S101) --------------------------------------------------

LINES = (
    ("6/3", "20/10", "2.00", -0.301, "100"),
    ("6/4.8", "20/16", "1.25", -0.097, "90"),
    ("6/6", "20/20", "1.00", 0.000, "85"),
    ("6/7.5", "20/25", "0.80", 0.097, "80"),
    ("6/9", "20/30", "0.667", 0.176, "76"),
    ("6/9.5", "20/32", "0.63", 0.200, "75"),
    ("6/12", "20/40", "0.50", 0.301, "70"),
    ("6/15", "20/50", "0.40", 0.398, "65"),
    ("6/18", "20/60", "0.333", 0.477, "61"),
    ("6/19", "20/63", "0.316", 0.501, "60"),
    ("6/24", "20/80", "0.25", 0.602, "55"),
    ("6/30", "20/100", "0.20", 0.699, "50"),
    ("6/36", "20/120", "0.167", 0.778, "46"),
    ("6/38", "20/125", "0.16", 0.802, "45"),
    ("6/60", "20/200", "0.10", 1.000, "35"),
    ("3/60", "20/400", "0.05", 1.301, "20"),
    ("6/120", "20/400", "0.05", 1.301, "20"),
    ("6/600", "20/2000", "0.01", 2.000, "0"),
)


@pytest.mark.parametrize(("metric", "feet", "decimal", "logmar", "letters"), LINES)
def test_e2_lines(metric, feet, decimal, logmar, letters):
    for written in (metric, feet, f"decimal {decimal}"):
        # Decimals and lines of the table are rounded: 20/125 is printed as 0.16, 6/38 beside it.
        assert read_acuity(written).logmar == pytest.approx(logmar, abs=0.0065)
    assert str(work("visual acuity", {"acuity": metric}).answers[1]) == f"letters: {letters}"


@pytest.mark.parametrize(
    ("line", "logmar"),
    [("20/30", 0.18), ("20/60", 0.48), ("20/63", 0.50), ("20/70", 0.54), ("20/114", 0.76), ("20/150", 0.88)],
)
def test_e2_holladay_rounded(line, logmar):
    """READ S101."""
    assert read_acuity(line).logmar == pytest.approx(logmar, abs=0.005)


@pytest.mark.parametrize(
    ("word", "disputed"),
    [
        ("CF", ("logMAR by Schulze-Bonsel and Bach: 1.9", "logMAR by Holladay, at 2 ft: 2.0")),
        ("HM", ("logMAR by Schulze-Bonsel and Bach: 2.3", "logMAR by Holladay, at 2 ft: 3.0")),
        ("PL", ("logMAR by Bach, imputed: 2.7",)),
        ("NPL", ("logMAR by Bach, imputed: 3.0",)),
    ],
)
def test_e2_low_vision_is_disputed(word, disputed):
    """READ S100 and S101; PL and NPL are imputed by the one, and not told by the other."""
    told = work("visual acuity", {"acuity": word})
    assert [answer.figure() for answer in told.answers] == [word]
    assert tuple(map(str, told.disputed)) == disputed


# --- E3: pressure, lens ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("before", "after", "reached", "rise"),
    [
        # Becker by the pressure reached, READ S104: low < 20, intermediate 20 to 31, high > 31.
        ("15 mmHg", "19.9 mmHg", "low", "no response"),
        ("15 mmHg", "20 mmHg", "intermediate", "no response"),
        ("15 mmHg", "31 mmHg", "intermediate", "response"),
        ("15 mmHg", "31.1 mmHg", "high", "response"),
        # a rise of 6 or more, READ S148
        ("15 mmHg", "20.9 mmHg", "intermediate", "no response"),
        ("15 mmHg", "21 mmHg", "intermediate", "response"),
    ],
)
def test_e3_response_to_a_steroid(before, after, reached, rise):
    told = work(pressure_response.NAME, {"before": before, "on steroid": after}).disputed
    assert [answer.words for answer in told[1:]] == [reached, rise]


@pytest.mark.parametrize(
    ("scale", "least", "most"),
    [
        ("LOCS III nuclear opalescence", "0.1", "6.9"),
        ("LOCS III nuclear colour", "0.1", "6.9"),
        ("LOCS III cortical", "0.1", "5.9"),
        ("LOCS III posterior subcapsular", "0.1", "5.9"),
    ],
)
def test_e3_locs_iii_runs_as_it_is_remembered(scale, least, most):
    """MEM, Chylack 1993; that grades are decimals: READ S106."""
    for grade in (least, most):
        assert (
            "within the scale" in work(eye_grade.NAME, {"scale": scale, "grade": grade}).answers[0].figure()
        )


@pytest.mark.parametrize(
    ("eye", "seat", "seen", "told"),
    [
        # MEM: temporal is 9 in a right eye and 3 in a left one, seen from the front.
        ("right", "temporal", "6", "9 o'clock (temporal)"),
        ("left", "temporal", "6", "3 o'clock (temporal)"),
        ("right", "temporal", "12", "3 o'clock (nasal)"),
        ("right", "above", "3", "9 o'clock (temporal)"),
    ],
)
def test_e3_temporal_side(eye, seat, seen, told):
    answer = work("clock hours", {"eye": eye, "seat": seat, "seen at": seen}).answers[0]
    assert answer.figure() == told


# --- F1: Wilson limits (MEM+CALC, Newcombe table I; 81/263, 0/8 and 8/8 READ S108) ------------------


@pytest.mark.parametrize(
    ("k", "n", "low", "high"),
    [
        (81, 263, 0.2553, 0.3662),
        (15, 148, 0.0624, 0.1605),
        (0, 20, 0.0000, 0.1611),
        (1, 29, 0.0061, 0.1718),
        (0, 8, 0.0000, 0.3244),
        (8, 8, 0.6756, 1.0000),
    ],
)
def test_f1_wilson(k, n, low, high):
    assert rate.wilson(k, n) == pytest.approx((low, high), abs=0.00005)


# --- I: dilution and dose --------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("ratio", "in_all", "with_so_many"),
    [
        ("1:3", "13.33", "10.00"),
        ("1:4", "10.00", "8.00"),
        ("1:5", "8.00", "6.67"),
        ("1:9", "4.44", "4.00"),
        ("1:10", "4.00", "3.64"),
        ("1:20", "2.00", "1.90"),
    ],
)
def test_i_a_bare_dilution_by_both_conventions(ratio, in_all, with_so_many):
    """READ S140, S141 (1 in 4) and S141, S142 (1 to 4): both alive; figures of 40 mg/mL are CALC."""
    told = work("bare dilution", {"strength": "40 mg/mL", "dilution": ratio})
    assert told.answers == ()
    assert [answer.figure() for answer in told.disputed] == [f"{in_all} mg/mL", f"{with_so_many} mg/mL"]


@pytest.mark.parametrize(
    ("strength", "told"),
    [
        ("1 %", "10.000 mg/mL"),  # definition, MEM+CALC
        ("0.1 %", "1.000 mg/mL"),
        ("1:1000", "1.000 mg/mL"),  # epinephrine, READ S143, S144
        ("1:10,000", "0.100 mg/mL"),
        ("1:5000", "0.200 mg/mL"),  # isoproterenol, READ S144
        ("1:50,000", "0.020 mg/mL"),
        ("1:400", "2.500 mg/mL"),  # neostigmine, READ S144
        ("1:1,000", "1.000 mg/mL"),
        ("1:2000", "0.500 mg/mL"),
        ("1:200,000", "0.005 mg/mL"),  # lidocaine with epinephrine, READ+CALC S144
    ],
)
def test_i_strengths(strength, told):
    assert work("strength", {"strength": strength}).answers[0].figure() == told


def test_i_a_dilution_is_no_strength():
    """READ+CALC: `1:4` is a volume dilution, `1:1000` a weight in volume; they share no way in."""
    for given in ({"strength": "1:4"}, {"strength": "1:99"}):
        with pytest.raises(ValueError, match="a dilution such as 1:4"):
            work("strength", given)


def test_i_the_harm_precedent():
    """READ S144: 4 mL of 1:1000 is 4 mg."""
    assert str(work("strength", {"strength": "1:1000", "volume": "4 mL"}).answers[1]) == "dose: 4.00 mg"


def test_i_stock_and_vial_of_triamcinolone():
    """READ S102: 40 mg in 1 mL; 4 mg in 0.1 mL. CALC: 0.1 mL with 0.9 mL is 4 mg/mL."""
    straight = {"strength": "40 mg/mL", "drawn": "0.1 mL", "diluent": "0 mL", "given": "0.1 mL"}
    assert [str(answer) for answer in work("dilution", straight).answers] == [
        "strength: 40.000 mg/mL",
        "dose: 4.000 mg",
    ]
    made_up = {"strength": "40 mg/mL", "drawn": "0.1 mL", "diluent": "0.9 mL"}
    assert str(work("dilution", made_up).answers[0]) == "strength: 4.000 mg/mL"


def test_e1_the_rate_of_the_national_audit():
    """READ+CALC S92: 9,730 of 961,208 is 1.01 %."""
    told = work("rate", {"happened": "9,730", "out of": "961,208"}).answers[0]
    assert told.value[0] == pytest.approx(1.01, abs=0.005)
