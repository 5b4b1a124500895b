"""Fluid in the first day of a burn, counted from the burn."""

from __future__ import annotations

from mmbuilder.clinic.inputs import Measured
from mmbuilder.clinic.measure import REVIEW_ONLY, Example, Result, one, said

NAME = "burns fluid"
FORMULA = "4 mL × weight × burned area in %, half of it in the first 8 h after the burn"
SOURCE = "from memory: Baxter CR, Shires T, Ann N Y Acad Sci 1968;150:874-894"
CAUTION = (
    f"A starting point, corrected by urine; the clock starts at the burn, not at the door. {REVIEW_ONLY}"
)
INPUTS = {
    "weight": Measured("kg", 0.4, 400),
    "area": Measured("%", 0, 100),
    "after": Measured("h", 0, 24),
}
EXAMPLES = (
    Example(
        {"weight": "70 kg", "area": "30 %", "after": "2 h"},
        ("in 24 h: 8,400 mL", "by the 8th hour: 4,200 mL", "an hour until then: 700 mL/h"),
        "worked example; common practice, no source",
    ),
    Example(
        {"weight": "70 kg", "area": "30 %", "after": "9 h"},
        (
            "in 24 h: 8,400 mL",
            "by the 8th hour: 4,200 mL",
            "an hour until then: the first 8 hours had passed",
        ),
        "computed",
    ),
)


def work(weight: float, area: float, after: float) -> Result:
    """Return mL in 24 h, in the first 8 h, and mL/h for what is left of these when seen `after` hours."""
    whole = 4 * weight * area
    label = "an hour until then"
    hourly = (
        one(whole / 2 / (8 - after), "mL/h", 0, label)
        if after < 8
        else said("the first 8 hours had passed", label)
    )
    return Result(
        (one(whole, "mL", 0, "in 24 h"), one(whole / 2, "mL", 0, "by the 8th hour"), hourly),
        steps=(
            f"4 × {weight:g} × {area:g} = {whole:,.0f} mL",
            f"half of it: {whole / 2:,.0f} mL by the 8th hour",
        ),
    )
