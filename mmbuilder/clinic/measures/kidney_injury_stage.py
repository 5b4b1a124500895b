"""Stage of acute kidney injury by the rise of creatinine over a true baseline."""

from __future__ import annotations

from mmbuilder.clinic.inputs import Measured
from mmbuilder.clinic.measure import REVIEW_ONLY, Example, Result, one, plainly, said

NAME = "kidney injury stage"
FORMULA = (
    "creatinine ÷ baseline; 1.5 stage 1, 2.0 stage 2, 3.0 stage 3; "
    "with a stage, 353.6 µmol/L (4.0 mg/dL) or more is stage 3"
)
SOURCE = (
    "from memory: KDIGO 2012 guideline for acute kidney injury, Kidney Int Suppl 2012;2:1-138, "
    "by creatinine alone"
)
CAUTION = (
    "The value on admission is no baseline in somebody ill. A rise of 26.5 µmol/L (0.3 mg/dL) or more "
    "within 48 hours is stage 1 whatever the ratio; urine output stages too, and dialysis is stage 3. "
    f"{REVIEW_ONLY}"
)
MICROMOL = 88.42
"""µmol/L in 1 mg/dL of creatinine (molar mass 113.12 g/mol)."""
LEAST = (1.5, 2.0, 3.0)
"""The ratio from which each stage is reached."""
RISE, STAGE_3 = 26.5, 353.6
"""µmol/L: the rise within 48 hours that is stage 1, and the value that is stage 3 once there is a stage."""
NEAR = 1 - 1e-9
"""3.3 ÷ 1.1 is 3 on paper and a hair less in floating point; a real difference is far larger than this."""


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
    Example(
        {"baseline": "1.1 mg/dL", "creatinine": "3.3 mg/dL"},
        ("ratio: 3.00", "stage 3"),
        "3.0 times the baseline is stage 3, KDIGO 2012 from memory",
    ),
    Example(
        {"baseline": "100 µmol/L", "creatinine": "149.7 µmol/L"},
        ("ratio: 1.497", "no stage by the ratio"),
        "below 1.5 times, KDIGO 2012 from memory",
    ),
    Example(
        {"baseline": "80 µmol/L", "creatinine": "124-248 µmol/L"},
        ("ratio: 1.55 to 3.10", "stage 1 to stage 3"),
        "computed",
    ),
    Example(
        {"baseline": "70-100 µmol/L", "creatinine": "140 µmol/L"},
        ("ratio: 1.40 to 2.00", "no stage by the ratio to stage 2"),
        "computed",
    ),
    Example(
        {"baseline": "240 µmol/L", "creatinine": "4.1 mg/dL"},
        ("ratio: 1.51", "stage 3"),
        "4.0 mg/dL or more with a rise of 1.5 times, KDIGO 2012 from memory",
    ),
)


def work(baseline: float, creatinine: float) -> Result:
    """Return the ratio and the stage it implies."""
    ratio = creatinine / baseline
    digits = _digits(ratio)
    by_ratio = _stage(ratio)
    stage = 3 if by_ratio and creatinine >= STAGE_3 else by_ratio
    words = f"stage {stage}" if stage else "no stage by the ratio"
    notes = []
    if stage > by_ratio:
        notes.append("Stage 3 by the creatinine of 353.6 µmol/L (4.0 mg/dL) or more, not by the ratio.")
    if not stage and creatinine - baseline >= RISE * NEAR:
        notes.append("The rise is 26.5 µmol/L (0.3 mg/dL) or more: stage 1 if it came within 48 hours.")
    return Result(
        (one(ratio, "", digits, "ratio"), said(words, place=stage)),
        steps=(f"{plainly(creatinine)} ÷ {plainly(baseline)} = {ratio:.{digits}f}",),
        notes=tuple(notes),
    )


def _stage(ratio: float) -> int:
    return sum(ratio >= least * NEAR for least in LEAST)


def _digits(ratio: float) -> int:
    """Two decimals, or as many more as keep the printed ratio on its own side of a stage."""
    return next((digits for digits in range(2, 9) if _stage(round(ratio, digits)) == _stage(ratio)), 9)
