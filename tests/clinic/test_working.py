"""What cannot be is a fault in words, and a range says everything that is inside it."""

from __future__ import annotations

import re
from types import SimpleNamespace

import pytest

from mmbuilder.clinic import InputFault, Result, catalogue, find, work, working
from mmbuilder.clinic.inputs import Measured
from mmbuilder.clinic.measure import one, places

BLOOD = {"swabs": "210 g", "number": "4", "dry": "18 g"}
VIAL = {"drug": "40 mg", "first volume": "10 mL"}

IMPOSSIBLE = [
    ("allowable blood loss", {"weight": "70 kg", "blood volume": "70 mL/kg", "first haemoglobin": "80 g/L", "limit": "90 g/L"}, "limit"),
    ("blood loss", {**BLOOD, "wash": "300 mL"}, "bottle"),
    ("blood loss", {**BLOOD, "bottle": "200 mL", "wash": "300 mL"}, "wash"),
    ("blood loss", {**BLOOD, "swabs": "60 g"}, "swabs"),
    ("conversion", {"of": "creatinine", "value": "-1.9 mg/dL"}, "value"),
    ("conversion", {"of": "glucose", "value": "10 mmHg"}, "value"),
    ("decision to delivery", {"decisions": "02:49", "delivery": "02:10"}, "delivery"),
    ("ischaemia time", {"kind": "flap", "from to": "12:52-11:15"}, "from to"),
    ("ischaemia time", {"kind": "cold", "from to": "12:52-11:15"}, "from to"),
    ("mean arterial pressure", {"systolic": "50 mmHg", "diastolic": "90 mmHg"}, "systolic"),
    ("p/f ratio", {"oxygen": "9.5 kPa", "inspired": "21-60"}, "inspired"),
    ("p/f ratio", {"oxygen": "9.5 kPa", "inspired": "60-40 %"}, "inspired"),
    ("rate", {"happened": "5", "out of": "3"}, "happened"),
    ("rate", {"happened": "1", "out of": "inf"}, "out of"),
    ("rate", {"happened": "nan", "out of": "3"}, "happened"),
    ("rate", {"happened": "1", "out of": "9" * 300}, "out of"),
    ("serial dilution", {**VIAL, "drawn": "2 mL", "made up to": "1 mL"}, "made up to"),
    ("serial dilution", {**VIAL, "drawn": "20 mL", "made up to": "50 mL"}, "drawn"),
    ("strength", {"strength": "500 %"}, "strength"),
    ("strength", {"strength": "1 %", "weight": "60 kg"}, "volume"),
    ("tourniquet time", {"inflated": ["10:00-11:10", "11:00-11:30"]}, "inflated"),
    ("tourniquet time", {"inflated": ["23:00-00:30", "00:10-00:50"]}, "inflated"),
    ("tourniquet time", {"inflated": ["10:00-11:10", "09:00-09:30"]}, "inflated"),
    ("tourniquet time", {"inflated": "11:10-10:00"}, "inflated"),
    ("visual acuity", {"acuity": "6/0"}, "acuity"),
    ("visual acuity", {"acuity": "0/6"}, "acuity"),
    ("visual acuity", {"acuity": "6/12-9"}, "acuity"),
    ("visual acuity", {"acuity": "decimal 7"}, "acuity"),
]  # fmt: skip


@pytest.mark.parametrize(("name", "given", "at"), IMPOSSIBLE)
def test_what_cannot_be_is_a_fault_of_its_input(name, given, at):
    with pytest.raises(InputFault) as told:
        work(name, given)
    assert [fault.name for fault in told.value.faults] == [at]
    assert all(fault.expected for fault in told.value.faults)


HOSTILE = [
    "inf",
    "nan",
    "0",
    "-1",
    "6/0",
    "1e400",
    "9" * 400,
    "0.0000001",
    "",
    "%",
    "1 in 0",
    "00:00-00:00",
    "0 1/min",
]


@pytest.mark.parametrize("name", list(catalogue()))
def test_nothing_that_is_written_breaks_the_arithmetic(name):
    leaf = find(name)
    for key, kind in leaf.INPUTS.items():
        units = [f" {kind.unit}"] if isinstance(kind, Measured) else [""]
        for text in (hostile + unit for hostile in HOSTILE for unit in ("", *units)):
            try:
                told = work(name, {**leaf.EXAMPLES[0].given, key: text})
            except InputFault:
                continue
            printed = " ".join(map(str, told.answers + told.disputed))
            assert not re.search(r"\b(inf|nan)\b", printed), (key, text)


def test_a_range_says_every_stage_inside_it():
    # stages 1 to 3 of KDIGO 2012 (from memory) start at 1.5, 2.0 and 3.0 times: 80 to 400 passes all of them
    _, stage = work("kidney injury stage", {"baseline": "80 µmol/L", "creatinine": "90-320 µmol/L"}).answers
    assert stage.figure() == "no stage by the ratio to stage 3"
    (*_, raised) = work("mast cell tryptase", {"acute": "5-11 µg/L", "baseline": "4 µg/L"}).answers
    assert raised.figure() == "not raised or raised"


@pytest.mark.parametrize("baseline", [f"{tenths / 10:.1f}" for tenths in range(5, 40)])
@pytest.mark.parametrize(("times", "stage"), [(15, 1), (20, 2), (30, 3)])
def test_a_ratio_at_a_threshold_is_at_it(baseline, times, stage):
    # whole hundredths of mg/dL, so that the ratio is exact on paper; below 4.0 mg/dL, where the ratio decides
    creatinine = round(float(baseline) * 10) * times
    told = work(
        "kidney injury stage", {"baseline": f"{baseline} mg/dL", "creatinine": f"{creatinine / 100} mg/dL"}
    )
    assert str(told.answers[0]) == f"ratio: {times / 10:.2f}"
    assert str(told.answers[1]) == f"stage {3 if creatinine >= 400 else stage}"


@pytest.mark.parametrize("creatinine", [149, 149.7, 149.96, 149.9999, 199.6, 299.7, 299.99999])
def test_a_printed_ratio_never_contradicts_its_words(creatinine):
    ratio, stage = work(
        "kidney injury stage", {"baseline": "100 µmol/L", "creatinine": f"{creatinine} µmol/L"}
    ).answers
    printed = float(ratio.figure())
    assert (
        str(stage)
        == {0: "no stage by the ratio", 1: "stage 1", 2: "stage 2"}[sum(printed >= at for at in (1.5, 2, 3))]
    )


@pytest.mark.parametrize(
    ("name", "given", "said"),
    [
        ("kidney injury stage", {"baseline": "80 µmol/L", "creatinine": "110 µmol/L"}, "within 48 hours"),
        ("kidney injury stage", {"baseline": "1.0 mg/dL", "creatinine": "1.3 mg/dL"}, "within 48 hours"),
        ("kidney injury stage", {"baseline": "240 µmol/L", "creatinine": "4.1 mg/dL"}, "not by the ratio"),
        ("ischaemia time", {"kind": "warm", "from to": "23:40-00:25"}, "next day"),
        ("predicted body weight", {"sex": "female", "height": "148 cm"}, "not defined"),
        ("visual acuity", {"acuity": "6/12-1"}, "1 letter fewer, at 0.02 a letter as on an ETDRS chart, would make logMAR 0.32"),
        ("visual acuity", {"acuity": "6/6+2"}, "2 letters more, at 0.02 a letter as on an ETDRS chart, would make logMAR −0.04"),
        ("visual acuity", {"acuity": "6/12 part"}, "only a part"),
    ],
)  # fmt: skip
def test_what_a_number_leaves_out_is_told_beside_it(name, given, said):
    assert said in " ".join(work(name, given).notes)


def test_no_note_where_there_is_nothing_to_say():
    for leaf in ("ischaemia time", "predicted body weight", "visual acuity"):
        assert work(leaf, find(leaf).EXAMPLES[0].given).notes == ()


@pytest.mark.parametrize(
    ("after", "rate"), [("6.9 h", "3,818 mL/h"), ("7 h", "4,200 mL/h"), ("7.99 h", "no meaningful")]
)
def test_the_rate_of_a_burn_stops_before_it_means_nothing(after, rate):
    *_, left, hourly = work("burns fluid", {"weight": "70 kg", "area": "30 %", "after": after}).answers
    assert rate in hourly.figure()
    assert left.unit == "min"


@pytest.mark.parametrize(
    ("value", "least", "digits"),
    [(0.0001, 3, 4), (2.5, 3, 3), (0.114286, 3, 3), (0.0, 2, 2), (168.0, 0, 0), (1.71, 0, 1)],
)
def test_enough_decimals_to_be_within_a_hundredth(value, least, digits):
    assert places(value, least) == digits


@pytest.mark.parametrize("broken", [lambda: 1 / 0, lambda: 1e200**2, lambda: Result((one(float("nan")),))])
def test_arithmetic_that_breaks_in_a_measure_is_a_fault(broken):
    with pytest.raises(InputFault, match="no number"):
        working._result(SimpleNamespace(work=broken), {})


def test_six_ranges_are_worked_out_and_seven_are_refused(monkeypatch):
    names = "abcdefg"
    leaf = SimpleNamespace(
        NAME="sum",
        FORMULA="",
        SOURCE="",
        CAUTION="",
        EXAMPLES=(),
        INPUTS={name: Measured("mL") for name in names},
        work=lambda **given: Result((one(sum(given.values()), "mL"),)),
    )
    monkeypatch.setattr(working, "find", lambda name: leaf)
    six = {**dict.fromkeys(names[:6], "1-2 mL"), "g": "1 mL"}
    assert work("sum", six).answers[0].figure() == "7 to 13 mL"
    with pytest.raises(InputFault) as told:
        work("sum", {**six, "g": "1-2 mL"})
    (fault,) = told.value.faults
    assert (fault.name, fault.found, fault.expected) == ("", "7 ranges", "at most 6 at once")


def test_what_is_named_again_makes_a_list_whatever_its_capitals_and_spaces():
    pairs = [("Made  up to", " 10 mL "), ("entries", "1 mg"), ("ENTRIES ", "2 mg")]
    assert working.gather(pairs) == {"made up to": "10 mL", "entries": ["1 mg", "2 mg"]}


def test_a_measure_is_found_by_its_words_and_an_unknown_one_is_not_repeated():
    assert work("Mean_arterial  pressure", {"systolic": "96 mmHg", "diastolic": "51 mmHg"}).answers
    with pytest.raises(KeyError, match=r"^'no such measure'$"):
        work("leech count", {})


@pytest.mark.parametrize(
    ("given", "keys"),
    [
        ({"in": "4,2 L", "out": "1.650 mL"}, ["out"]),  # 1,650 mL, if 4.2 L are meant
        ({"in": ["1,000 mL", "0,5 L"], "out": "5 mL"}, ["in"]),
        ({"in": "4,2 L", "out": "1650 mL"}, []),
        ({"in": "4.2 L", "out": "1,650 mL"}, []),
        ({"in": "1,000 mL,500 mL", "out": "5 mL"}, []),
        ({"in": "4,2 L", "out": "0,125 L"}, []),
    ],
)
def test_beside_a_decimal_comma_a_sign_before_three_figures_is_asked_about(given, keys):
    if not keys:
        assert work("fluid balance", given).answers
        return
    with pytest.raises(InputFault) as told:
        work("fluid balance", given)
    assert [fault.name for fault in told.value.faults] == keys
    assert "read in two ways" in told.value.faults[0].found


@pytest.mark.parametrize(
    ("name", "given", "key", "shown"),
    [
        ("clock hours", {"eye": "OD", "seat": "temporal", "seen at": "11"}, "eye", "right"),
        ("clock hours", {"eye": "le", "seat": "temporal", "seen at": "11"}, "eye", "left"),
        ("predicted body weight", {"sex": "F", "height": "165 cm"}, "sex", "female"),
        ("comprehensive complication index", {"grades": "IIId, II"}, "grades", None),
        ("comprehensive complication index", {"grades": "iiibd, II"}, "grades", "IIIb, II"),
    ],
)
def test_another_way_to_write_a_word_is_taken_for_it(name, given, key, shown):
    """OD and RE are the right eye, OS and LE the left (check-values.md E3); d weighs nothing in the index."""
    if shown is None:
        with pytest.raises(InputFault, match="not on the list"):
            work(name, given)
    else:
        assert dict(work(name, given).inputs)[key] == shown
