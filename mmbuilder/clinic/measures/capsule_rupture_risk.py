"""Composite risk of posterior capsule rupture or vitreous loss in a cataract operation, by the 2009 model."""

from __future__ import annotations

from mmbuilder.clinic.faults import Fault, InputFault
from mmbuilder.clinic.inputs import Chosen, Many
from mmbuilder.clinic.measure import REVIEW_ONLY, Example, Result, one

NAME = "capsule rupture risk"
FORMULA = "odds = 0.75 % as odds × the product of odds ratios; risk = odds ÷ (1 + odds)"
SOURCE = (
    "Narendran N and others, Eye 2009;23:31-37 (operations of 2001 to 2006); baseline of 0.75 % from memory"
)
CAUTION = (
    "A model of 2009, of operations of which 1.92 % had it; in the national audit of 2021-22 it was 0.87 %, "
    "and a model of 2024 sees age the other way. "
    f"{REVIEW_ONLY}"
)
BASELINE = 0.0075
AGE = {"under 60": 1.0, "60-69": 1.14, "70-79": 1.42, "80-89": 1.58, "90 or older": 2.37}
FACTORS = {
    "none": 1.0,
    "male": 1.28,
    "glaucoma": 1.30,
    "diabetic retinopathy": 1.63,
    "no fundal view": 2.46,
    "pseudoexfoliation": 2.92,
    "medium pupil": 1.14,
    "small pupil": 1.45,
    "long eye": 1.47,
    "doxazosin": 1.51,
    "cannot lie flat": 1.27,
    "brunescent": 2.99,
}
_APART = {"none": frozenset(FACTORS) - {"none"}, "small pupil": frozenset({"medium pupil"})}
"""What no eye can have together."""
GRADE = {
    "consultant": 1.0,
    "associate specialist": 0.87,
    "staff grade": 0.36,
    "fellow": 1.65,
    "specialist registrar": 1.60,
    "senior house officer": 3.73,
}
INPUTS = {
    "age": Chosen(tuple(AGE)),
    "factors": Many(Chosen(tuple(FACTORS)), required=False),
    "grade": Chosen(tuple(GRADE), required=False),
}
_VIGNETTES = "vignettes of a paper in BMJ Open Ophthalmology: inputs as printed, risk recomputed"


def _told(ratio: str, risk: str) -> tuple[str, str]:
    return f"composite odds ratio: {ratio}", f"risk: {risk}%"


EXAMPLES = (
    Example({"age": "70-79", "factors": ["glaucoma"]}, _told("1.85", "1.38"), _VIGNETTES),
    Example({"age": "under 60"}, _told("1.00", "0.75"), _VIGNETTES),
    Example(
        {"age": "60-69", "factors": ["male", "pseudoexfoliation", "long eye", "medium pupil"]},
        _told("7.14", "5.12"),
        _VIGNETTES,
    ),
    Example(
        {
            "age": "90 or older",
            "factors": ["male", "brunescent", "no fundal view", "doxazosin", "cannot lie flat"],
        },
        _told("42.79", "24.43"),
        _VIGNETTES,
    ),
    Example({"age": "80-89", "factors": ["male", "glaucoma"]}, _told("2.63", "1.95"), _VIGNETTES),
    Example(
        {"age": "70-79", "factors": ["glaucoma"], "grade": "senior house officer"},
        _told("6.89", "4.95"),
        "1.42 × 1.30 × 3.73 = 6.89, computed from the printed ratios",
    ),
)


def work(age: str, factors: tuple[str, ...] | None, grade: str | None) -> Result:
    """Return the composite odds ratio and the risk in per cent; a factor counts once."""
    named = set(factors or ())
    for one_way, others in _APART.items():
        if one_way in named and named & others:
            raise InputFault(
                Fault(
                    "factors", "factors that cannot be together", "one of them", example="factors: glaucoma"
                )
            )
    ratio = AGE[age] * GRADE[grade or "consultant"]
    for factor in dict.fromkeys(factors or ()):
        ratio *= FACTORS[factor]
    odds = ratio * BASELINE / (1 - BASELINE)
    risk = odds / (1 + odds)
    return Result(
        (one(ratio, "", 2, "composite odds ratio"), one(100 * risk, "%", 2, "risk")),
        steps=(
            f"{ratio:.2f} × {BASELINE} ÷ {1 - BASELINE} = odds {odds:.4f}",
            f"{odds:.4f} ÷ {1 + odds:.4f} = {100 * risk:.2f} %",
        ),
    )
