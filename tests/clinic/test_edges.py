"""What lies just on a limit is taken, what lies just beyond is not, and a formula turns where it says.

The limits are those of the measures (ours, of common practice, where no other source is named beside
them); what comes out on one is computed.
"""

from __future__ import annotations

import pytest

from mmbuilder.clinic import InputFault, work
from mmbuilder.clinic.faults import Fault
from mmbuilder.clinic.inputs import STRETCH, TIME, Chosen, Counted, Many, Measured, Written, WrittenRange
from mmbuilder.clinic.measure import one, places
from mmbuilder.clinic.measures.rate import wilson
from mmbuilder.clinic.measures.refraction import dioptres
from mmbuilder.clinic.measures.visual_acuity import line
from mmbuilder.clinic.severity import clavien_dindo
from mmbuilder.clinic.units import amount, factor, number
from tests.clinic.test_working import VIAL

MG = (("mg/dL", lambda value: value * 10),)
KIDNEYS = {"baseline": "80 µmol/L"}
CRYSTALS = {"strength": "40 mg/mL", "drawn": "1 mL", "diluent": "4 mL"}
SWABS = {"swabs": "72 g", "number": "4", "dry": "18 g"}

ON_THE_LIMIT = [
    ("conversion", {"of": "pressure", "value": "-10 mmHg"}, "−13.6 cmH2O"),
    ("fluid balance", {"in": "1001 mL", "out": "1000 mL"}, "+1 mL"),
    ("strength", {"strength": "1 % w/v"}, "strength: 10.000 mg/mL"),
    ("strength", {"strength": "1 in 10 000"}, "strength: 0.100 mg/mL"),
    ("conversion", {"of": "haemoglobin", "value": "250 g/L"}, "25.0 g/dL"),
    ("conversion", {"of": "creatinine", "value": "3000 µmol/L"}, "33.9 mg/dL"),
    ("predicted body weight", {"sex": "female", "height": "5 ft 11 in"}, "70.9 kg"),
    ("allowable blood loss", {"weight": "70 kg", "blood volume": "70 mL/kg", "first haemoglobin": "80 g/L", "limit": "80 g/L"}, "0 mL"),
    ("blood loss", SWABS, "0 mL"),
    ("blood loss", {**SWABS, "bottle": "300 mL", "wash": "300 mL"}, "0 mL"),
    ("blood loss", {**SWABS, "bottle": "900 mL"}, "900 mL"),
    ("conversion", {"of": "haemoglobin", "value": "120 g /L"}, "12.0 g/dL"),
    ("conversion", {"of": "creatinine", "value": "1.9 MG/DL"}, "168 µmol/L"),
    ("cumulative dose", {"entries": "0 mg"}, "0 mg"),
    ("eye grade", {"scale": "LOCS III cortical", "grade": "5,9"}, "LOCS III cortical 5.9 (0.1 to 5.9): within the scale"),
    ("eye grade", {"scale": "SUN flare", "grade": "4 +"}, "SUN flare 4+ (0, 1+, 2+, 3+, 4+): within the scale"),
    ("infusion total", {"stages": "2000 mL/h for 1 h"}, "volume: 2,000.0 mL"),
    ("infusion total", {"stages": "6 mL/h for 0 min"}, "volume: 0.0 mL"),
    ("infusion total", {"stages": "60 mL/h for 0.5 min"}, "volume: 0.5 mL"),
    ("ischaemia time", {"kind": "warm", "from to": "00:00-12:00"}, "720 min"),
    ("kidney injury stage", {"baseline": "10 µmol/L", "creatinine": "3000 µmol/L"}, "ratio: 300.00"),
    ("mean arterial pressure", {"systolic": "60 mmHg", "diastolic": "60 mmHg"}, "60 mmHg"),
    ("p/f ratio", {"oxygen": "15 kPa", "inspired": "0.15"}, "100.0 kPa"),
    ("p/f ratio", {"oxygen": "15 kPa", "inspired": "100 %"}, "15.0 kPa"),
    ("rate", {"happened": "20", "out of": "20"}, "100.0%"),
    ("refraction", {"sphere": "−40", "cylinder": "0"}, "spherical equivalent: −40.00 D"),
    ("refraction", {"sphere": "+40", "cylinder": "0"}, "spherical equivalent: +40.00 D"),
    ("serial dilution", {**VIAL, "drawn": "10 mL", "made up to": "10 mL"}, "first: 4.00 mg/mL"),
    ("strength", {"strength": "100 %"}, "strength: 1,000.000 mg/mL"),
    ("strength", {"strength": "1 in 100"}, "strength: 10.000 mg/mL"),
    ("tourniquet time", {"inflated": "00:00-12:00"}, "720 min"),
    ("tourniquet time", {"inflated": ["08:00-09:00", "21:00-22:00"]}, "120 min"),
    ("visual acuity", {"acuity": "24/6"}, "logMAR: −0.60"),
    ("visual acuity", {"acuity": "6/6000"}, "logMAR: 3.00"),
    ("visual acuity", {"acuity": "0.63 decimal"}, "logMAR: 0.20"),
    ("visual acuity", {"acuity": "LP"}, "PL"),
]  # fmt: skip


@pytest.mark.parametrize(("name", "given", "first"), ON_THE_LIMIT)
def test_a_limit_belongs_to_what_can_be(name, given, first):
    assert str(work(name, given).answers[0]) == first


BEYOND = [
    ("conversion", {"of": "creatinine", "value": "1.9 g/dL"}),
    ("conversion", {"of": "haemoglobin", "value": "251 g/L"}),
    ("conversion", {"of": "creatinine", "value": "34 mg/dL"}),
    ("predicted body weight", {"sex": "female", "height": "5 ft 12 in"}),
    ("predicted body weight", {"sex": "female", "height": "5 ft 5 lb"}),
    ("infusion rate", {"rate": "6 mL/h", "drug": "4 mg", "volume": "50 mL", "weight": "11 st 14 lb"}),
    ("bare dilution", {"strength": "40 mg/mL", "dilution": "1:1"}),
    ("cumulative dose", {"entries": "-0.1 mg"}),
    ("infusion total", {"stages": "2001 mL/h for 1 h"}),
    ("infusion total", {"stages": "6 mL/h for -1 min"}),
    ("infusion total", {"stages": "-6 mL/h for 1 min"}),
    ("ischaemia time", {"kind": "warm", "from to": "00:00-12:01"}),
    ("kidney injury stage", {"baseline": "9 µmol/L", "creatinine": "90 µmol/L"}),
    ("kidney injury stage", {"baseline": "90 µmol/L", "creatinine": "3001 µmol/L"}),
    ("p/f ratio", {"oxygen": "15 kPa", "inspired": "0.14"}),
    ("p/f ratio", {"oxygen": "15 kPa", "inspired": "101 %"}),
    ("p/f ratio", {"oxygen": "15 kPa", "inspired": "1.5"}),
    ("refraction", {"sphere": "−40.25", "cylinder": "0"}),
    ("refraction", {"sphere": "+40.25", "cylinder": "0"}),
    ("strength", {"strength": "100.5 %"}),
    ("strength", {"strength": "1 in 99"}),
    ("tourniquet time", {"inflated": "00:00-12:01"}),
    ("tourniquet time", {"inflated": ["08:00-09:00", "21:01-22:00"]}),
    ("visual acuity", {"acuity": "25/6"}),
    ("visual acuity", {"acuity": "6/6001"}),
    ("visual acuity", {"acuity": "decimal 0.63 decimal"}),
    ("visual acuity", {"acuity": "logMAR 3.1"}),
]


@pytest.mark.parametrize(("name", "given"), BEYOND)
def test_what_lies_beyond_it_is_refused(name, given):
    with pytest.raises(InputFault):
        work(name, given)


_FORTY = {"bilirubin": "10 mg/dL", "inr": "4", "creatinine": "2.65 mg/dL"}
"""3.78 ln 10 + 11.2 ln 4 + 9.57 ln 2.65 + 6.43 = 39.99; 40 is where policies end the score, not beyond it."""
QUIET = [
    ("meld", {"version": "original 2001", **_FORTY}),
    (
        "meld",
        {"version": "3.0", **_FORTY, "sodium": "137 mmol/L", "albumin": "3.0 g/dL", "sex": "male"},
    ),
    ("blood loss", {**SWABS, "bottle": "900 mL", "wash": "0 mL"}),
    ("dilution", {**CRYSTALS, "given": "5 mL"}),
    (
        "dilution",
        {**CRYSTALS, "written strength": "8.15 mg/mL"},
    ),  # under 2 % of 8.00 apart: it may be rounded
    ("infusion total", {"stages": "50 mL/h for 1 h", "drug": "4 mg", "volume": "50 mL"}),
    ("kidney injury stage", {"baseline": "80 µmol/L", "creatinine": "106.4 µmol/L"}),
    ("kidney injury stage", {"baseline": "100 µmol/L", "creatinine": "150 µmol/L"}),
    ("kidney injury stage", {"baseline": "100 µmol/L", "creatinine": "353.6 µmol/L"}),
    ("meld", {"version": "original 2001", "bilirubin": "100 mg/dL", "inr": "1", "creatinine": "5.0 mg/dL"}),
    ("predicted body weight", {"sex": "female", "height": "152.4 cm"}),
    ("visual acuity", {"acuity": "6/12"}),
]


@pytest.mark.parametrize(("name", "given"), QUIET)
def test_up_to_its_limit_a_note_is_not_written(name, given):
    assert work(name, given).notes == ()


TOLD = [
    ("dilution", {**CRYSTALS, "given": "5.1 mL"}, "More was given"),
    ("dilution", {**CRYSTALS, "written strength": "8.17 mg/mL"}, "differ: 1.02 times"),
    ("infusion total", {"stages": "51 mL/h for 1 h", "drug": "4 mg", "volume": "50 mL"}, "one syringe"),
    ("infusion total", {"stages": "51 mL/h for 1 h", "drug": "4 mg"}, "No dose"),
    ("infusion total", {"stages": "51 mL/h for 1 h", "volume": "50 mL"}, "No dose"),
    ("ischaemia time", {"kind": "warm", "from to": "23:00-00:00"}, "next day"),
    ("visual acuity", {"acuity": "6/12−1"}, "1 letter fewer"),
    ("visual acuity", {"acuity": "6/12–1"}, "1 letter fewer"),
    # 26.5 µmol/L, and 353.6 with a rise of 1.5 times: KDIGO 2012, from memory
    ("kidney injury stage", {"baseline": "80 µmol/L", "creatinine": "106.5 µmol/L"}, "within 48 hours"),
    ("kidney injury stage", {"baseline": "235 µmol/L", "creatinine": "353.6 µmol/L"}, "not by the ratio"),
]


@pytest.mark.parametrize(("name", "given", "said"), TOLD)
def test_from_its_limit_on_it_is(name, given, said):
    assert said in " ".join(work(name, given).notes)


def test_six_conflicts_are_worked_out_and_any_number_of_plain_doses():
    low, high = work("cumulative dose", {"entries": ["1 mg or 2 mg"] * 6}).disputed
    assert (low.figure(), high.figure()) == ("6 mg", "12 mg")
    assert work("cumulative dose", {"entries": ["1 mg"] * 7}).answers[0].figure() == "7 mg"


def test_a_heavier_grade_outranks_a_lighter_one_that_was_still_there():
    # practice.md (e) 33, READ: the headline is the highest grade, and d only tells equals apart
    assert clavien_dindo.headline(["Id", "II"]) == "II"
    assert clavien_dindo.headline(["II", "IId"]) == "IId"


# Geometry: from above, what is seen at 6 is superior; 3 o'clock is nasal in a right eye, temporal in a left.
SECTORS = {
    1: "superonasal", 2: "superonasal", 3: "nasal", 4: "inferonasal", 5: "inferonasal", 6: "inferior",
    7: "inferotemporal", 8: "inferotemporal", 9: "temporal", 10: "superotemporal", 11: "superotemporal",
    12: "superior",
}  # fmt: skip


@pytest.mark.parametrize(("hour", "sector"), SECTORS.items())
def test_every_hour_of_both_eyes_has_its_sector(hour, sector):
    seen = str((hour + 6 - 1) % 12 + 1)
    right = work("clock hours", {"eye": "right", "seat": "above", "seen at": seen}).answers[0]
    assert right.figure() == f"{hour} o'clock ({sector})"
    turned = {"nasal": "temporal", "temporal": "nasal"}
    side = next((name for name in turned if sector.endswith(name)), "")
    left = work("clock hours", {"eye": "left", "seat": "above", "seen at": seen}).answers[0]
    mirrored = sector.removesuffix(side) + turned.get(side, "")
    assert left.figure() == f"{hour} o'clock ({mirrored})"


def test_limits_of_all_of_a_number_end_at_one():
    # Newcombe 1998, method 3: of n out of n the upper limit is 1, the lower n ÷ (n + z²)
    assert wilson(11, 11)[1] == 1.0  # without its end the sum of floats comes out above it
    low, high = wilson(20, 20)
    assert high == pytest.approx(1)
    assert low == pytest.approx(20 / (20 + 1.959963984540054**2))


# --- kinds of input -----------------------------------------------------------------------------


@pytest.mark.parametrize("text", ["10-100 mL", "10 mL", "100 mL", "0.01-0.1 L"])
def test_both_ends_of_a_range_may_be_limits(text):
    assert Measured("mL", 10, 100).read("volume", text)[0] in (10.0, 100.0)


@pytest.mark.parametrize("text", ["9-50 mL", "50-101 mL", "5-200 mL"])
def test_neither_end_of_a_range_may_be_beyond(text):
    with pytest.raises(InputFault) as told:
        Measured("mL", 10, 100).read("volume", text)
    (fault,) = told.value.faults
    assert (fault.name, fault.found, fault.expected) == (
        "volume",
        "a figure that cannot be",
        "from 10 to 100 mL",
    )
    assert fault.example == "volume: 55 mL"


def test_both_ends_are_converted_by_scale_and_by_substance():
    creatinine = Measured("µmol/L", 0, 3000, also=MG)
    assert creatinine.read("creatinine", "10-20 mg/L") == (10.0, 20.0)
    assert creatinine.read("creatinine", "1-2 mg/dL") == (10.0, 20.0)
    assert creatinine.read("creatinine", "0.001-0.002 mmol/L") == pytest.approx((1.0, 2.0))
    assert amount("it", "1-2 L", "").within("mL") == (1000.0, 2000.0)


def _fault(kind, name, raw):
    with pytest.raises(InputFault) as told:
        kind.read(name, raw)
    (fault,) = told.value.faults
    return (fault.name, fault.found, fault.expected, fault.why, fault.example)


def test_a_substance_in_a_wrong_unit_is_told_by_what_a_patient_can_have():
    with pytest.raises(InputFault) as told:
        work("conversion", {"of": "creatinine", "value": "34 mg/dL"})
    (fault,) = told.value.faults
    assert (fault.found, fault.expected) == ("a figure that cannot be", "at most 3,000 µmol/L")
    assert (fault.name, fault.example) == ("value", "value: 1 mg/dL")


_NEVER = "a unit is never guessed: the same figure in another unit is another dose"
ROMAN = Chosen(("II", "III"))
FAULTS = [
    (Measured("mL", 10, 100), "12", "a figure without a unit", "a figure in mL", _NEVER, "it: 55 mL"),
    (Measured("µmol/L", also=MG), "12", "a figure without a unit", "a figure in µmol/L or mg/dL", _NEVER, "it: 1 µmol/L"),
    (Measured("µmol/L", also=MG), "12 kPa", "a unit of another kind", "µmol/L or mg/dL", "", "it: 1 µmol/L"),
    (Measured("mL", 0), "-1 mL", "a figure that cannot be", "of 0 or more mL", "", "it: 1 mL"),
    (Measured("mL", 5), "1 mL", "a figure that cannot be", "of 5 or more mL", "", "it: 5 mL"),
    (Measured("mL", high=9), "10 mL", "a figure that cannot be", "of 9 or less mL", "", "it: 5 mL"),
    (Counted(1, 5), ["1", "2"], "a list", "one figure", "", "it: 1"),
    (Measured("mL", 0, 100), ["1 mL", "2 mL"], "a list", "one figure", "", "it: 50 mL"),
    (Measured("mL", 0, 100), "a lot", "words", "a figure with its unit", "", "it: 50 mL"),
    (Measured("mL", 0, 100), "1.2.3 mL", "a figure that can be read in two ways, or not at all", "one figure", "", "it: 50 mL"),
    (Measured("mL", 0, 100), "9" * 400 + " mL", "a figure that is too large", "one figure", "", "it: 50 mL"),
    (Measured("mL", 0, 100), "3-2 mL", "a range that runs backwards", "the lower figure first", "", "it: 50 mL"),
    (Counted(1, 9), "many", "not a plain number", "a number without a unit", "", "it: 1"),
    (Counted(1, 9), "10", "a number that cannot be", "a whole number from 1 to 9", "", "it: 1"),
    (Counted(1, 9), "1.5", "a number that cannot be", "a whole number from 1 to 9", "", "it: 1"),
    (Counted(1, 9, whole=False), "0.5", "a number that cannot be", "a number from 1 to 9", "", "it: 1"),
    (ROMAN, "IV", "a word that is not on the list", "II, III", "", "it: II"),
    (ROMAN, ["II", "III"], "a list", "one figure", "", "it: II"),
    (TIME, "noon", "not in its notation", "a time of day", "", "it: 14:05"),
    (TIME, ["9:00", "9:30"], "a list", "one figure", "", "it: 14:05"),
    (Many(ROMAN, least=2), "II", "1 of them", "at least 2", "", ""),
]  # fmt: skip


@pytest.mark.parametrize(("kind", "raw", "found", "expected", "why", "example"), FAULTS)
def test_a_fault_says_what_was_found_what_was_expected_and_what_would_do(
    kind, raw, found, expected, why, example
):
    assert _fault(kind, "it", raw) == ("it", found, expected, why, example)


@pytest.mark.parametrize("ending", ["", " D", " DS", "DC", " dioptres", " diopters"])
def test_a_power_is_read_with_each_of_its_endings(ending):
    assert dioptres(f"−1.25{ending}") == -1.25


# NIST SP 811 (2008): 0.45359237 kg to the pound, 2.54 cm to the inch
@pytest.mark.parametrize(
    ("text", "unit", "value"), [("11 st 4", "kg", 158 * 0.45359237), ("5 ft 6", "cm", 66 * 2.54)]
)
def test_the_smaller_unit_of_two_may_be_left_out(text, unit, value):
    assert amount("it", text, "").within(unit)[0] == pytest.approx(value)


@pytest.mark.parametrize(
    ("text", "value"), [("23:59", 1439), ("00:00", 0), ("9h30", 570), ("0930 hrs", 570), ("0930h", 570)]
)
def test_the_ends_of_a_day_and_its_notations(text, value):
    assert TIME.read("at", text) == (value,)


@pytest.mark.parametrize("text", ["24:00", "9:60", "9:5", "24:30"])
def test_what_no_clock_shows(text):
    with pytest.raises(InputFault):
        TIME.read("at", text)


@pytest.mark.parametrize(
    ("text", "ends"), [("10:00-10:00", (600, 600)), ("11:15 to 12:52", (675, 772)), ("9:00→9:30", (540, 570))]
)
def test_a_stretch_may_be_of_no_length_and_is_written_in_four_ways(text, ends):
    assert STRETCH.read("from to", text) == (ends,)


def test_a_range_of_a_notation_gives_one_value_or_two():
    kind = WrittenRange(lambda text: tuple(map(float, text.split())), "figures", "1 2")
    assert kind.read("it", "1 2") == (1.0, 2.0)
    assert kind.read("it", "1 1") == (1.0,)
    assert Written(lambda text: text, "a word", "one").read("it", ["one"]) == ("one",)


def test_a_list_of_ranges_gives_the_lowest_and_the_highest_of_all():
    assert Many(Measured("mL")).read("it", ["1-2 mL", "3 mL"]) == ((1.0, 3.0), (2.0, 3.0))
    assert Many(Measured("mL")).read("it", ["1 mL", "3 mL"]) == ((1.0, 3.0),)


@pytest.mark.parametrize(
    ("one_way", "other"),
    [
        ("mL/(kg·h)", "mL/kg/h"),
        ("mL per min", "mL/min"),
        ("breaths/min", "1/min"),
        ("beats/min", "1/min"),
        ("BPM", "1/min"),
        (" per min ", "1/min"),
        ("kg/m²", "kg/m**2"),
        ("kg/m2", "kg/m**2"),
    ],
)
def test_a_unit_may_be_written_in_more_than_one_way(one_way, other):
    factor.cache_clear()
    assert factor(one_way, other) == 1.0


@pytest.mark.parametrize(
    ("text", "value"),
    [("+1", 1.0), ("-1", -1.0), (" 12 ", 12.0), ("1,234,567", 1234567.0), (".5", 0.5), ("−1,5", -1.5)],
)
def test_signs_and_separators_of_a_figure(text, value):
    assert number(text) == value


@pytest.mark.parametrize("text", ["1,2,3", "1.5,2", "1,5.2", "--1", "1 2"])
def test_separators_that_may_mean_two_things(text):
    with pytest.raises(ValueError, match="two ways"):
        number(text)


@pytest.mark.parametrize(
    ("value", "least", "digits"), [(1e-13, 0, 12), (1.01, 0, 0), (0.994, 0, 0), (0.98, 0, 2), (5.0, 1, 1)]
)
def test_decimals_stop_within_a_hundredth_and_at_the_twelfth(value, least, digits):
    assert places(value, least) == digits
    assert one(value).value == (value, value)


@pytest.mark.parametrize(
    ("text", "how"),
    [
        ("0.001", "bare"),
        ("4", "decimal"),
        ("3.0", "bare"),
        ("-0.6", "logmar"),
        ("6/12", "line"),
        ("6/12p", "part"),
    ],
)
def test_how_an_acuity_was_written(text, how):
    assert line(text)[0] == how
    assert line(text)[2] == 0.0


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("day 1 18:00 to day 1 17:59", "an end before its start"),
        ("day 0 18:00 to day 7 18:01", "more than 7 days"),
    ],
)
def test_a_cold_time_with_its_days_runs_forward_and_not_for_ever(text, found):
    with pytest.raises(InputFault) as told:
        work("ischaemia time", {"kind": "cold", "from to": text})
    (fault,) = told.value.faults
    assert (fault.name, fault.found) == ("from to", found)
    assert fault.expected == "the earlier day and time first, at most 7 days before the later"
    assert fault.why == "one of the two was written wrong, and nobody can tell which"
    assert fault.example == "from to: day 0 18:00 to day 1 16:30"


@pytest.mark.parametrize(
    ("text", "minutes"),
    [
        ("day 1 18:00 to day 1 18:00", "0 min"),
        ("day 0 18:00 to day 7 18:00", "10,080 min"),
        ("day 0 18:00 to day 0 18:01", "1 min"),
    ],
)
def test_both_ends_of_a_cold_time_are_within_it(text, minutes):
    worked = work("ischaemia time", {"kind": "cold", "from to": text})
    assert str(worked.answers[0]) == minutes


def test_letters_are_worked_back_in_the_steps():
    # 85 - 50 x 1.0 = 35 letters: Bach M, acuity table
    steps = work("visual acuity", {"acuity": "35 letters"}).steps
    assert steps == ("(85 − 35) ÷ 50 = 1.00", "85 − 50 × 1.00 = 35")


@pytest.mark.parametrize(
    ("name", "given", "key", "shown"),
    [
        ("strength", {"strength": "1 in 1,000"}, "strength", "1 mg/mL"),
        ("cumulative dose", {"entries": ["2 x 0.1 mg", "1 mg"]}, "entries", "2 x 0.1 mg; 1 x 1 mg"),
        ("infusion total", {"stages": "6 mL/h for 20 min"}, "stages", "6 mL/h for 20 min"),
        ("bare dilution", {"strength": "40 mg/mL", "dilution": "1 : 4"}, "dilution", "1:4"),
        ("bare dilution", {"strength": "40 mg/mL", "dilution": "1 in 4"}, "dilution", "1 in 4"),
        ("refraction", {"sphere": "-0.75", "cylinder": "plano"}, "sphere", "−0.75 D"),
        ("refraction", {"sphere": "-0.75", "cylinder": "plano"}, "cylinder", "0.00 D"),
        ("visual acuity", {"acuity": "6/19"}, "acuity", "decimal 0.316"),
        ("visual acuity", {"acuity": "60 letters"}, "acuity", "60 letters"),
        ("visual acuity", {"acuity": "35 letters"}, "acuity", "35 letters"),
        ("visual acuity", {"acuity": "logMAR -0.1"}, "acuity", "logMAR −0.1"),
        ("visual acuity", {"acuity": "0.3"}, "acuity", "0.3"),
        ("visual acuity", {"acuity": "HM"}, "acuity", "HM"),
        ("tourniquet time", {"inflated": "10:02-11:10"}, "inflated", "as it was written"),
    ],
)
def test_an_input_is_shown_as_it_was_understood_and_a_time_of_day_is_not(name, given, key, shown):
    assert dict(work(name, given).inputs)[key] == shown


def test_a_figure_without_its_unit_is_given_an_example_that_can_be_of_a_patient():
    with pytest.raises(InputFault) as told:
        work("kidney injury stage", {"baseline": "88", "creatinine": "167 µmol/L"})
    (fault,) = told.value.faults
    assert fault.example == "baseline: 88 µmol/L"


def test_a_balance_runs_on_from_the_one_before_and_says_of_what_part_of_a_day():
    """practice.md (e) 12, READ: per period and running; part-day totals labelled."""
    told = work(
        "fluid balance", {"in": "500 mL", "out": "800 mL", "balance before": "2,550 mL", "over": "8 h"}
    )
    assert [str(one) for one in told.answers] == ["of this period: −300 mL", "running: +2,250 mL"]
    assert told.steps == ("500 − 800 = −300 mL", "2,550 + −300 = 2,250 mL")
    assert told.notes == ("Of 8 h: a part of a day.",)
    assert work("fluid balance", {"in": "1 L", "out": "1 L", "over": "24 h"}).notes == ()


@pytest.mark.parametrize("extra", ["wash", "bottle before"])
def test_what_is_taken_off_a_bottle_needs_one(extra):
    with pytest.raises(InputFault) as told:
        work("blood loss", {**SWABS, extra: "100 mL"})
    assert told.value.faults[0].name == "bottle"


def test_a_bottle_holds_the_wash_that_came_in_since_it_was_read():
    given = {**SWABS, "bottle": "500 mL", "bottle before": "300 mL"}
    assert str(work("blood loss", {**given, "wash": "200 mL"}).answers[0]) == "0 mL"
    with pytest.raises(InputFault) as told:
        work("blood loss", {**given, "wash": "201 mL"})
    assert told.value.faults[0].name == "wash"


def test_an_estimate_stands_beside_what_was_measured():
    """practice.md (e) 10, READ: estimates kept beside measured; count only when weighed."""
    told = work("blood loss", {**SWABS, "bottle": "900 mL", "estimate": "2 L"})
    assert [str(one) for one in told.answers][::3] == ["900 mL", "estimated, not added: 2,000 mL"]


@pytest.mark.parametrize("factors", [["small pupil", "medium pupil"], ["none", "male"]])
def test_factors_that_no_eye_has_together_are_told_as_that(factors):
    with pytest.raises(InputFault) as told:
        work("capsule rupture risk", {"age": "70-79", "factors": factors})
    assert told.value.faults == (
        Fault("factors", "factors that cannot be together", "one of them", example="factors: glaucoma"),
    )


@pytest.mark.parametrize(
    ("logmar", "step"),
    [
        ("1.69", "85 − 50 × 1.69 = 0"),  # half a letter
        ("1.7", "85 − 50 × 1.70 = 0"),
        ("1.8", "85 − 50 × 1.80 = −5: below the last letter of the chart"),
    ],
)
def test_a_chart_has_no_letters_below_its_last(logmar, step):
    """85 letters are 17 lines of 0.1: check-values.md E2 prints 0 letters at logMAR 2.00."""
    told = work("visual acuity", {"acuity": f"logMAR {logmar}"})
    assert told.steps[-1] == step
    assert str(told.answers[1]) == "letters: 0"
