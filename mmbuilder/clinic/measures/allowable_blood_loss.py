"""Blood loss at which the haemoglobin would have come to a limit, by simple proportion."""

from __future__ import annotations

from mmbuilder.clinic.faults import Fault, InputFault
from mmbuilder.clinic.inputs import Measured
from mmbuilder.clinic.measure import REVIEW_ONLY, Example, Result, one, plainly

NAME = "allowable blood loss"
FORMULA = "blood volume × (first haemoglobin − limit) ÷ first haemoglobin"
SOURCE = "common practice, no source"
CAUTION = (
    f"An estimate: say which weight was used, and pregnancy; it knows nothing of dilution. {REVIEW_ONLY}"
)
INPUTS = {
    "weight": Measured("kg", 0.4, 400),
    "blood volume": Measured("mL/kg", 50, 110),
    "first haemoglobin": Measured("g/L", 20, 250),
    "limit": Measured("g/L", 20, 200),
}
EXAMPLES = (
    Example(
        {"weight": "70 kg", "blood volume": "70 mL/kg", "first haemoglobin": "130 g/L", "limit": "8 g/dL"},
        ("1,885 mL",),
        "worked example; common practice, no source",
    ),
)


def work(weight: float, blood_volume: float, first_haemoglobin: float, limit: float) -> Result:
    """Return mL of blood."""
    if limit > first_haemoglobin:
        raise InputFault(
            Fault(
                "limit",
                "a limit above the first haemoglobin",
                "at most the first haemoglobin",
                example="limit: 80 g/L",
            )
        )
    whole = weight * blood_volume
    loss = whole * (first_haemoglobin - limit) / first_haemoglobin
    return Result(
        (one(loss, "mL"),),
        steps=(
            f"{plainly(weight)} × {plainly(blood_volume)} = {whole:,.0f} mL of blood",
            f"{whole:,.0f} × ({plainly(first_haemoglobin)} − {plainly(limit)}) ÷ "
            f"{plainly(first_haemoglobin)} = {loss:,.0f} mL",
        ),
    )
