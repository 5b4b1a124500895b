"""Urine output for the weight and the time it was collected in."""

from __future__ import annotations

from mmbuilder.clinic.inputs import Measured
from mmbuilder.clinic.measure import REVIEW_ONLY, Example, Result, one, plainly

NAME = "urine output"
FORMULA = "urine ÷ weight ÷ time"
SOURCE = "common practice, no source"
CAUTION = (
    f"Of the time it was really collected in; a blocked catheter and irrigation make it wrong. {REVIEW_ONLY}"
)
INPUTS = {
    "urine": Measured("mL", 0, 20_000),
    "weight": Measured("kg", 0.4, 400),
    "over": Measured("h", 0.1, 72),
}
EXAMPLES = (
    Example(
        {"urine": "45 mL", "weight": "82 kg", "over": "3 h"},
        ("0.18 mL/kg/h",),
        "worked example; common practice, no source",
    ),
    Example(
        {"urine": "0.045 L", "weight": "82 kg", "over": "180 min"},
        ("0.18 mL/kg/h",),
        "the same in other units",
    ),
)


def work(urine: float, weight: float, over: float) -> Result:
    """Return mL a kg an hour."""
    output = urine / weight / over
    return Result(
        (one(output, "mL/kg/h", 2),),
        steps=(f"{plainly(urine)} ÷ {plainly(weight)} ÷ {plainly(over)} = {output:.2f} mL/kg/h",),
    )
