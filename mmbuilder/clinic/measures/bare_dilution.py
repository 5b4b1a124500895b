"""A dilution written as "1:4" and nothing else: two conventions are alive, so both results are shown."""

from __future__ import annotations

import re

from mmbuilder.clinic.inputs import Measured, Value, Written
from mmbuilder.clinic.measure import REVIEW_ONLY, Answer, Example, Result, one

NAME = "bare dilution"
FORMULA = "strength ÷ total parts; 1:n is n parts in all, or n parts of diluent and one of drug"
SOURCE = "dilution ratio as part in total and as part plus parts: both in print, no authority settles it"
CAUTION = f"Ask for the volume drawn and the volume of diluent; they settle it. {REVIEW_ONLY}"


def parts(text: str) -> Value:
    """Read `1:4`.

    Raises:
        ValueError: it is no dilution of one part.
    """
    found = re.fullmatch(r"\s*1\s*(?::|in|to)\s*(\d{1,3})\s*", text)
    if found is None or int(found[1]) < 2:
        raise ValueError("not a dilution")
    return float(found[1])


INPUTS = {
    "strength": Measured("mg/mL", 1e-6, 1_000),
    "dilution": Written(
        parts, "one part and a number, such as 1:4; not a strength such as 1 in 1,000", "1:4"
    ),
}


def _both(total: str, plus: str) -> tuple[str, str]:
    return f"one part in all the parts: {total} mg/mL", f"one part and so many of diluent: {plus} mg/mL"


_CALC = "computed from both definitions"
EXAMPLES = (
    Example({"strength": "40 mg/mL", "dilution": "1:4"}, (), _CALC, _both("10.00", "8.00")),
    Example({"strength": "40 mg/mL", "dilution": "1:3"}, (), _CALC, _both("13.33", "10.00")),
    Example({"strength": "40 mg/mL", "dilution": "1:9"}, (), _CALC, _both("4.44", "4.00")),
    Example({"strength": "40 mg/mL", "dilution": "1:20"}, (), _CALC, _both("2.00", "1.90")),
)


def work(strength: float, dilution: float) -> Result:
    """Return the strength by each convention, in mg/mL; neither is preferred."""
    return Result((), (_one(strength / dilution, 0), _one(strength / (dilution + 1), 1)))


def _one(value: float, convention: int) -> Answer:
    label = ("one part in all the parts", "one part and so many of diluent")[convention]
    return one(value, "mg/mL", 2, label)
