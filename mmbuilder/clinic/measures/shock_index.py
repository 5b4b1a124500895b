"""Shock index: heart rate over systolic pressure, both of one reading."""

from __future__ import annotations

from mmbuilder.clinic.inputs import Measured
from mmbuilder.clinic.measure import REVIEW_ONLY, Example, Result, one, plainly

NAME = "shock index"
FORMULA = "heart rate ÷ systolic"
SOURCE = "common practice, no source"
CAUTION = (
    "Both figures have to be of one reading. Beta-blockers and atrial fibrillation hide "
    "it; in pregnancy 0.9 and "
    f"more is usual. {REVIEW_ONLY}"
)
INPUTS = {"heart rate": Measured("1/min", 10, 350, bare=True), "systolic": Measured("mmHg", 20, 350)}
EXAMPLES = (
    Example(
        {"heart rate": "120", "systolic": "90 mmHg"}, ("1.33",), "worked example; common practice, no source"
    ),
    Example({"heart rate": "120 bpm", "systolic": "90 mmHg"}, ("1.33",), "the same in a monitor's words"),
    Example(
        {"heart rate": "120 /min", "systolic": "90 mmHg"},
        ("1.33",),
        "worked example; common practice, no source",
    ),
)


def work(heart_rate: float, systolic: float) -> Result:
    """Return the index, without a unit."""
    index = heart_rate / systolic
    return Result(
        (one(index, digits=2),), steps=(f"{plainly(heart_rate)} ÷ {plainly(systolic)} = {index:.2f}",)
    )
