"""Comprehensive Complication Index: every complication of one patient in one figure."""

from __future__ import annotations

from math import sqrt

from mmbuilder.clinic.inputs import Chosen, Many
from mmbuilder.clinic.measure import REVIEW_ONLY, Example, Result, one

NAME = "comprehensive complication index"
FORMULA = "√(sum of weights) ÷ 2, below 100; 100 for a death"
SOURCE = (
    "Slankamenac K and others, Ann Surg 2013;258:1-7; weights from memory, agreeing with every "
    "printed single grade"
)
CAUTION = f"One grade for each complication, of its heaviest treatment; never two for one. {REVIEW_ONLY}"
WEIGHTS = {"I": 300, "II": 1750, "IIIa": 2750, "IIIb": 4550, "IVa": 7200, "IVb": 8550}
MOST = 99.9
"""The formula passes 100 for five IVb; 100 is kept for a death."""
INPUTS = {"grades": Many(Chosen((*WEIGHTS, "V"), also=tuple((f"{grade}d", grade) for grade in WEIGHTS)))}
"""A suffix d, for what was still there at discharge, weighs nothing."""
_PAPER = "Slankamenac K and others, Ann Surg 2013;258:1-7, from memory and recomputed"
EXAMPLES = (
    Example({"grades": "I"}, ("8.7",), _PAPER),
    Example({"grades": "II"}, ("20.9",), _PAPER),
    Example({"grades": "IIIa"}, ("26.2",), _PAPER),
    Example({"grades": "IIIb"}, ("33.7",), _PAPER),
    Example({"grades": "IVa"}, ("42.4",), _PAPER),
    Example({"grades": "IVb"}, ("46.2",), _PAPER),
    Example({"grades": "II, V"}, ("100.0",), _PAPER),
    Example({"grades": "II, IIIa"}, ("33.5",), "computed from the formula"),
    Example({"grades": "II,IIIa"}, ("33.5",), "the same without a space"),
    Example({"grades": "IId, IIIad"}, ("33.5",), "the same, both still there at discharge"),
    Example({"grades": ["IVb"] * 5}, ("99.9",), "computed; the raw formula gives 103.4"),
)


def work(grades: tuple[str, ...]) -> Result:
    """Return the index, from 0 to 100."""
    if "V" in grades:
        return Result((one(100.0, digits=1),), steps=("a death: 100",))
    total = sum(WEIGHTS[grade] for grade in grades)
    index = sqrt(total) / 2
    notes = ("The formula gives 100 or more, which is kept for a death.",) if index > MOST else ()
    told = " + ".join(str(WEIGHTS[grade]) for grade in grades)
    return Result((one(min(index, MOST), digits=1),), steps=(f"√({told}) ÷ 2 = {index:.1f}",), notes=notes)
