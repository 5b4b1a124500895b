"""What an infusion gives for each kilogram and minute."""

from __future__ import annotations

from mmbuilder.clinic.inputs import Measured
from mmbuilder.clinic.measure import REVIEW_ONLY, Example, Result, one, places, plainly

NAME = "infusion rate"
FORMULA = "drug ÷ volume × rate ÷ weight"
SOURCE = "common practice, no source"
CAUTION = f"Check the syringe's label and the pump's log. {REVIEW_ONLY}"
INPUTS = {
    "drug": Measured("µg", 0.001, 1e9),
    "volume": Measured("mL", 0.1, 5_000),
    "rate": Measured("mL/h", 0, 2_000),
    "weight": Measured("kg", 0.4, 400),
}
EXAMPLES = (
    Example(
        {"drug": "4 mg", "volume": "50 mL", "rate": "6 mL/h", "weight": "70 kg"},
        ("0.114 µg/kg/min",),
        "worked example; common practice, no source",
    ),
    Example(
        {"drug": "4 mg", "volume": "50 mL", "rate": "0.02 mL/h", "weight": "70 kg"},
        ("0.00038 µg/kg/min",),
        "computed: a three-hundredth of the one above",
    ),
)


def work(drug: float, volume: float, rate: float, weight: float) -> Result:
    """Return µg a kg a minute."""
    strength = drug / volume
    given = strength * rate / 60 / weight
    digits = places(given, 3)
    return Result(
        (one(given, "µg/kg/min", digits),),
        steps=(
            f"{plainly(drug)} µg ÷ {plainly(volume)} mL = {plainly(strength)} µg/mL",
            f"{plainly(strength)} × {plainly(rate)} ÷ 60 ÷ {plainly(weight)} = {given:.{digits}f} µg/kg/min",
        ),
    )
