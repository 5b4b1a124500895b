"""Stage of acute kidney injury by the rise of creatinine over a true baseline."""

from __future__ import annotations

from mmbuilder.clinic.inputs import Measured
from mmbuilder.clinic.measure import REVIEW_ONLY, Example, Result, one, said

NAME = "kidney injury stage"
FORMULA = "creatinine ÷ baseline; 1.5 stage 1, 2.0 stage 2, 3.0 stage 3"
SOURCE = (
    "from memory: KDIGO 2012 guideline for acute kidney injury, Kidney Int Suppl 2012;2:1-138, "
    "by the ratio alone"
)
CAUTION = f"The value on admission is no baseline in somebody ill; urine output stages too. {REVIEW_ONLY}"
MICROMOL = 88.42
"""µmol/L in 1 mg/dL of creatinine (molar mass 113.12 g/mol)."""


def _creatinine() -> Measured:
    return Measured("µmol/L", 10, 3_000, also=(("mg/dL", lambda value: value * MICROMOL),))


INPUTS = {"baseline": _creatinine(), "creatinine": _creatinine()}
EXAMPLES = (
    Example(
        {"baseline": "88 µmol/L", "creatinine": "167 µmol/L"},
        ("ratio: 1.90", "stage 1"),
        "worked example; common practice, no source",
    ),
    Example(
        {"baseline": "1.0 mg/dL", "creatinine": "1.9 mg/dL"}, ("ratio: 1.90", "stage 1"), "the same in mg/dL"
    ),
    Example(
        {"baseline": "80 µmol/L", "creatinine": "110 µmol/L"},
        ("ratio: 1.38", "no stage by the ratio"),
        "computed",
    ),
)


def work(baseline: float, creatinine: float) -> Result:
    """Return the ratio and the stage it implies."""
    ratio = creatinine / baseline
    stage = sum(ratio >= least for least in (1.5, 2.0, 3.0))
    words = f"stage {stage}" if stage else "no stage by the ratio"
    return Result(
        (one(ratio, "", 2, "ratio"), said(words)), steps=(f"{creatinine:.0f} ÷ {baseline:.0f} = {ratio:.2f}",)
    )
