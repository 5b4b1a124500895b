"""Fluid in less fluid out, of one period."""

from __future__ import annotations

from mmbuilder.clinic.inputs import Many, Measured
from mmbuilder.clinic.measure import REVIEW_ONLY, Example, Result, one

NAME = "fluid balance"
FORMULA = "all that went in − all that came out"
SOURCE = "common practice, no source"
CAUTION = f"Insensible loss is not in it. Name the period; a part of a day is no day. {REVIEW_ONLY}"
INPUTS = {"in": Many(Measured("mL", 0, 100_000)), "out": Many(Measured("mL", 0, 100_000))}
EXAMPLES = (
    Example({"in": "4200 mL", "out": "1650 mL"}, ("2,550 mL",), "worked example; common practice, no source"),
    Example({"in": ["1 L", "500 mL"], "out": ["1.2 L", "0.4 L"]}, ("−100 mL",), "computed"),
    Example({"in": "1,000 mL,500 mL", "out": "1.2 L; 400 mL"}, ("−100 mL",), "the same in one line"),
)


def work(**given: tuple[float, ...]) -> Result:
    """Return the balance in mL; more out than in is negative."""
    gained, lost = sum(given["in"]), sum(given["out"])
    return Result(
        (one(gained - lost, "mL"),), steps=(f"{gained:,.0f} − {lost:,.0f} = {gained - lost:,.0f} mL",)
    )
