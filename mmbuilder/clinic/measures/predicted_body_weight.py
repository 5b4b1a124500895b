"""Predicted body weight, and a tidal volume for it."""

from __future__ import annotations

from mmbuilder.clinic.inputs import SEX_WRITTEN, Chosen, Measured
from mmbuilder.clinic.measure import REVIEW_ONLY, Example, Result, one, plainly

NAME = "predicted body weight"
FORMULA = "50 (male) or 45.5 (female) + 0.91 × (height in cm − 152.4); 6 mL for each kg"
SOURCE = "from memory: ARDS Network, N Engl J Med 2000;342:1301-1308"
SHORTEST = 152.4
"""cm, five feet: the formula counts from here."""
CAUTION = f"For adults of 152 cm and more. {REVIEW_ONLY}"
INPUTS = {"sex": Chosen(("male", "female"), also=SEX_WRITTEN), "height": Measured("cm", 130, 230)}
EXAMPLES = (
    Example(
        {"sex": "female", "height": "165 cm"},
        ("57.0 kg", "6 mL/kg: 342 mL"),
        "worked example; common practice, no source",
    ),
    Example(
        {"sex": "male", "height": "170 cm"},
        ("66.0 kg", "6 mL/kg: 396 mL"),
        "50 + 0.91 × 17.6 = 66.02, computed",
    ),
    Example({"sex": "female", "height": "1.65 m"}, ("57.0 kg", "6 mL/kg: 342 mL"), "the same in metres"),
    Example(
        {"sex": "female", "height": "148 cm"}, ("41.5 kg", "6 mL/kg: 249 mL"), "computed; told in a note"
    ),
)

_BELOW = "Under 152.4 cm the formula is not defined: this is its line carried on below where it starts."


def work(sex: str, height: float) -> Result:
    """Return kg, and mL at 6 mL/kg."""
    start = 50.0 if sex == "male" else 45.5
    weight = start + 0.91 * (height - SHORTEST)
    return Result(
        (one(weight, "kg", 1), one(6 * weight, "mL", 0, "6 mL/kg")),
        steps=(f"{plainly(start)} + 0.91 × ({plainly(height)} − {SHORTEST}) = {weight:.1f} kg",),
        notes=(_BELOW,) if height < SHORTEST else (),
    )
