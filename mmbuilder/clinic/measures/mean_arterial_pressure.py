"""Mean arterial pressure from a cuff's two figures."""

from __future__ import annotations

from mmbuilder.clinic.faults import Fault, InputFault
from mmbuilder.clinic.inputs import Measured
from mmbuilder.clinic.measure import REVIEW_ONLY, Example, Result, one, plainly

NAME = "mean arterial pressure"
FORMULA = "(systolic + 2 × diastolic) ÷ 3"
SOURCE = "common practice, no source"
CAUTION = f"An arterial line's displayed mean is better than this estimate. {REVIEW_ONLY}"
INPUTS = {"systolic": Measured("mmHg", 20, 350), "diastolic": Measured("mmHg", 10, 250)}
EXAMPLES = (
    Example({"systolic": "96 mmHg", "diastolic": "51 mmHg"}, ("66 mmHg",), "common practice, no source"),
    Example(
        {"systolic": "96-102 mmHg", "diastolic": "51 mmHg"}, ("66 to 68 mmHg",), "computed from the formula"
    ),
)


def work(systolic: float, diastolic: float) -> Result:
    """Return the mean, in mmHg."""
    if systolic < diastolic:
        raise InputFault(
            Fault(
                "systolic",
                "less than the diastolic",
                "the higher figure of the two",
                example="systolic: 96 mmHg",
            )
        )
    mean = (systolic + 2 * diastolic) / 3
    return Result(
        (one(mean, "mmHg"),),
        steps=(f"({plainly(systolic)} + 2 × {plainly(diastolic)}) ÷ 3 = {mean:.0f} mmHg",),
    )
