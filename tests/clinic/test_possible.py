"""What a measurement can be, and words that stand where none was made; bounds are ours, of common practice."""

from __future__ import annotations

import pytest

from mmbuilder.clinic import InputFault
from mmbuilder.clinic.possible import per, possible
from mmbuilder.clinic.undone import undone


@pytest.mark.parametrize(
    ("name", "written", "read"),
    [
        ("Hb", "9.1 g/dL", 91),
        ("haemoglobin", "5.6 mmol/L", 5.6 * 16.114),  # one haem, 16,114 g/mol: from memory
        # molar masses, practice.md (e) 17, READ
        ("creatinine", "1.9 mg/dL", 168),
        ("bilirubin", "3.51 mg/dL", 60),
        ("glucose", "180 mg/dL", 10),
        ("lactate", "36 mg/dL", 4),
        ("sodium", "140 mEq/L", 140),
        ("K", "4.1 mmol/L", 4.1),
        ("left eye pressure", "38 mmHg", 38),
        ("IOP of the right eye", "38 mmHg", 38),
        ("SpO2", "98", 98),
        ("pulse", "88 bpm", 88),
        ("weight", "11 st 4 lb", 71.7),
        ("pain", "7", 7),
        ("NRS at rest", "7 points", 7),
        ("Schmerz in Ruhe", "7,5", 7.5),
        ("left eye pain", "0", 0),
        ("VAS", "4.5 cm", 45),
        ("pain (visual analogue scale)", "45 mm", 45),
        ("height", "1.65 m", 165),
    ],
)
def test_a_measurement_is_read_in_the_unit_it_is_known_by(name, written, read):
    kind = possible(name)
    assert kind is not None
    assert kind.read(name, written) == pytest.approx((read,), rel=0.002)


@pytest.mark.parametrize(
    ("name", "least", "most", "unit"),
    [
        ("haemoglobin", 10, 250, "g/L"),
        ("creatinine", 5, 3_000, "µmol/L"),
        ("bilirubin", 0, 1_500, "µmol/L"),
        ("glucose", 0.1, 150, "mmol/L"),
        ("lactate", 0, 40, "mmol/L"),
        ("potassium", 0.5, 15, "mmol/L"),
        ("sodium", 80, 220, "mmol/L"),
        ("albumin", 3, 80, "g/L"),
        ("CRP", 0, 1_000, "mg/L"),
        ("tryptase", 0, 5_000, "µg/L"),
        ("IOP", 0, 100, "mmHg"),
        ("MAP", 0, 250, "mmHg"),
        ("ETCO2", 0, 20, "kPa"),
        ("saturation", 0, 100, "%"),
        ("heart rate", 0, 350, "/min"),
        ("respiratory rate", 0, 120, "/min"),
        ("weight", 0.3, 400, "kg"),
        ("pain score", 0, 10, "points"),  # LOINC 72514-3, READ in HL7 Belgium's value set of it
        ("VAS pain", 0, 100, "mm"),  # Royal College of Emergency Medicine, pain assessment tools, READ
        ("height", 20, 260, "cm"),
    ],
)
def test_bounds_belong_to_what_can_be(name, least, most, unit):
    kind = possible(name)
    assert kind is not None
    for figure in (least, most):
        assert kind.read(name, f"{figure} {unit}") == (figure,)
    for figure in (least - 0.05, most + 0.5):
        with pytest.raises(InputFault):
            kind.read(name, f"{figure} {unit}")


def test_a_mark_on_a_line_is_no_number_told():
    """Of one name the unit says which; the scales are not turned into each other."""
    assert possible("pain", "mm") == possible("VAS") != possible("pain")
    assert per("pain", "points", "mm") is None
    assert per("VAS", "cm", "mm") == pytest.approx(10)


@pytest.mark.parametrize(
    "name",
    [
        "",
        "right",
        "wound",
        "pressure",
        "haemoglobin of the donor",
        "pain relief",
        "pain-free days",
        "at rest",
    ],
)
def test_what_is_not_known_is_left_alone(name):
    assert possible(name) is None


@pytest.mark.parametrize(
    ("words", "nothing"),
    [
        *(("not done", True), ("not recorded that day", True), ("unrecordable", True), ("n/a", True)),
        *(("–", True), ("", True), ("declined", True), ("could not be seen", True), ("Awaited", True)),
        *(("nicht erhoben", True), ("nicht messbar am Abend", True), ("ausstehend", True)),
        *(("14 mmHg", False), ("0", False), ("soft", False), ("no change", False)),
    ],
)
def test_what_was_not_measured_is_neither_zero_nor_normal(words, nothing):
    assert undone(words) is nothing


@pytest.mark.parametrize(
    ("name", "given", "wanted", "times"),
    [
        ("creatinine", "mg/dL", "µmol/L", 88.42),  # practice.md (e) 17, READ
        ("creatinine", "µmol/L", "mg/dL", 1 / 88.42),
        ("creatinine", "mmol/L", "mg/dL", 1000 / 88.42),
        ("glucose", "mg/dL", "mmol/L", 1 / 18.02),
        ("Hb", "g/dL", "g/L", 10),
        ("creatinine", "mmHg", "mg/dL", None),
        ("creatinine", "mg/dL", "mmHg", None),
        ("protein", "mg/dL", "µmol/L", None),
    ],
)
def test_one_unit_of_a_substance_is_turned_into_another(name, given, wanted, times):
    found = per(name, given, wanted)
    assert found is None if times is None else found == pytest.approx(times)
