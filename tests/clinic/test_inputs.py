"""Figures are read as they are written on a ward, and never guessed."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mmbuilder.clinic import InputFault, work
from mmbuilder.clinic.inputs import (
    TIME,
    Chosen,
    Counted,
    Many,
    Measured,
    WrittenRange,
    minutes,
    stretch,
)
from mmbuilder.clinic.measure import plainly
from mmbuilder.clinic.units import USUAL, Amount, amount, factor, number, same_kind


@pytest.mark.parametrize(
    ("text", "value"),
    [
        *(("1,885", 1885.0), ("1,9", 1.9), ("1.9", 1.9), ("−0.75", -0.75), ("12,345.6", 12345.6)),
        *(("0,25", 0.25), ("0,125", 0.125), ("-0,125", -0.125)),  # no thousand begins with nought
    ],
)
def test_commas_of_thousands_and_of_decimals(text, value):
    assert number(text) == value


@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [
        ("11 st 4 lb", "kg", 71.668),  # 158 lb of 453.59237 g, NIST SP 811
        ("5 ft 6 in", "cm", 167.64),
        ("0.3 L", "mL", 300.0),
        ("2 mg", "µg", 2000.0),
        ("100 mcg/min", "mg/h", 6.0),
        ("1 kPa", "mmHg", 7.50062),
    ],
)
def test_units_of_one_kind_are_converted(text, unit, value):
    assert amount("it", text, "").within(unit)[0] == pytest.approx(value, rel=1e-4)


@pytest.mark.parametrize("text", ["20 mg", "20 %", "20 mmol/L"])
def test_volume_mass_and_per_cent_stay_apart(text):
    with pytest.raises(InputFault, match="another kind"):
        Measured("mL").read("volume", text)


@pytest.mark.parametrize(
    ("text", "found"),
    [("12", "without a unit"), ("a lot", "words"), ("30-20 mL", "backwards"), ("1.2.3 mL", "two ways")],
)
def test_what_cannot_be_used_is_told_by_kind_and_never_repeated(text, found):
    with pytest.raises(InputFault, match=found) as told:
        Measured("mL", 0, 100).read("volume", text)
    assert told.value.faults[0].example.startswith("volume: ")
    assert "a lot" not in str(told.value)


def test_times_of_day_and_stretches_over_midnight():
    assert [minutes(text) for text in ("9:30", "0930", "21.05")] == [570, 570, 1265]
    assert stretch("23:40-00:25") == (1420, 1465)
    with pytest.raises(ValueError, match="not a time"):
        minutes("25:00")


@given(
    st.floats(90, 200),
    st.floats(0, 60),
    st.floats(30, 60),
    st.floats(0, 30),
    st.floats(0, 1),
    st.floats(0, 1),
)
@settings(deadline=None, max_examples=60)
def test_a_range_holds_every_result_inside_it(high, more, low, wide, at, and_at):
    given_range = {
        "systolic": f"{high:.3f}-{high + more:.3f} mmHg",
        "diastolic": f"{low:.3f}-{low + wide:.3f} mmHg",
    }
    inside = {"systolic": f"{high + at * more:.3f} mmHg", "diastolic": f"{low + and_at * wide:.3f} mmHg"}
    (whole,) = work("mean arterial pressure", given_range).answers
    (one,) = work("mean arterial pressure", inside).answers
    assert whole.value[0] - 0.002 <= one.value[0] <= whole.value[1] + 0.002


def test_amounts_keep_both_ends():
    assert amount("it", "20-30 mL", "") == Amount(20.0, 30.0, "mL")
    assert amount("it", "~20 mL", "").low == 20.0


@pytest.mark.parametrize("text", ["inf", "-inf", "nan", "infinity", "1e5", "1_000", "9" * 400, "0x10", ""])
def test_what_float_reads_and_nobody_writes_is_no_figure(text):
    with pytest.raises(ValueError, match="a figure that") as told:
        number(text)
    assert text == "" or text not in str(told.value)
    with pytest.raises(InputFault, match="not a plain number"):
        Counted().read("out of", text)


@pytest.mark.parametrize(
    "text", ["120", "120/min", "120 /min", "120 bpm", "120 BPM", "120 per min", "120 beats/min"]
)
def test_a_rate_is_read_as_a_ward_writes_it(text):
    assert Measured("1/min", 10, 350, bare=True).read("heart rate", text) == (120.0,)


def test_one_factor_a_pair_of_units():
    assert factor("mg/L", "mg/dL") == pytest.approx(0.1)
    assert factor("mmol/L", "µmol/L") == pytest.approx(1000)
    with pytest.raises(ValueError, match="this kind"):
        factor("mg", "mL")


@pytest.mark.parametrize(
    ("kind", "text", "parts"),
    [
        (Chosen(("II", "IIIa")), "II,IIIa", ("II", "IIIa")),
        (Chosen(("II", "IIIa")), "II , IIIa", ("II", "IIIa")),
        (TIME, "02:10,02:31", (130.0, 151.0)),
        (Measured("mL"), "1,000 mL", (1000.0,)),
        (Measured("mL"), "1,000 mL,500 mL", (1000.0, 500.0)),
        (Measured("mL"), "1,5 L;500 mL", (1500.0, 500.0)),
        (Counted(), "1,000", (1000.0,)),
    ],
)
def test_a_comma_parts_a_list_but_never_a_figure(kind, text, parts):
    assert Many(kind).read("several", text) == (parts,)


def test_a_notation_of_one_value_is_no_range():
    kind = WrittenRange(lambda text: (text,), "a word", "word")
    assert kind.read("name", "word") == ("word",)


@pytest.mark.parametrize(
    ("value", "told"), [(1_234_567.0, "1,234,567"), (1_234_567.5, "1,234,570"), (-0.25, "−0.25"), (0.0, "0")]
)
def test_a_whole_figure_is_told_in_full_and_another_to_six_places(value, told):
    assert plainly(value) == told


def test_a_raised_point_multiplies():
    assert factor("kg·m", "g·m") == pytest.approx(1000)


def test_a_figure_behind_a_unit_is_its_power_and_a_formula_is_none():
    assert factor("cm²", "m2") == pytest.approx(1e-4)
    assert factor("kPa", "cmH2O") == pytest.approx(10.197, rel=1e-4)  # NIST SP 811 (2008) appendix B.8


@pytest.mark.parametrize("text", ["5 ft 12 in", "11 st 14 lb", "5 ft 4 lb", "11 st 4 in"])
def test_the_smaller_unit_stops_short_of_the_larger_and_is_of_its_kind(text):
    """12 inches make a foot, 14 pounds a stone: definitions."""
    with pytest.raises(InputFault) as told:
        amount("height", text, "height: 165 cm")
    (fault,) = told.value.faults
    small, most, large = ("in", 11, "ft") if "ft" in text else ("lb", 13, "st")
    assert (fault.name, fault.found) == ("height", "two figures that do not go together")
    assert (fault.expected, fault.example) == (f"at most {most} {small} behind the {large}", "height: 165 cm")


def test_feet_and_inches_are_counted_in_the_smaller():
    assert amount("height", "5 ft 11", "") == Amount(71, 71, "in")
    assert amount("height", "6 ft 0 in", "") == Amount(72, 72, "in")
    assert amount("weight", "11 st 13.5 lb", "") == Amount(167.5, 167.5, "lb")


@given(st.text("abgmLµ/%²·*^()[]{}'\"\\:;,. 0123456789°-+=<>é\n\t#@!~", max_size=6))
def test_whatever_is_typed_for_a_unit_is_one_or_is_none(typed):
    assert same_kind(typed, "g/L") is same_kind("g/L", typed)


@pytest.mark.parametrize("unit", sorted(USUAL))
def test_units_that_nobody_is_asked_about_are_units(unit: str) -> None:
    """Source: `pint`, which is asked of every other."""
    assert factor(unit, unit) == 1.0
