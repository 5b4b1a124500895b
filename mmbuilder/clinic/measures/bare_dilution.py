"""A dilution written as "1:4" and nothing else: two conventions are alive, so both results are shown.

"1 in 4" has but one reading, and is worked out by it.
"""

from __future__ import annotations

import re

from mmbuilder.clinic.inputs import Measured, Value, Written
from mmbuilder.clinic.measure import REVIEW_ONLY, Answer, Example, Result, one, places

NAME = "bare dilution"
FORMULA = (
    "strength ÷ total parts; 1 in n is n parts in all; 1:n is n parts in all, or n parts of diluent "
    "and one of drug"
)
SOURCE = (
    "1 in 4 is one part in a total of four; 1:4 and 1 to 4 are in print both as part in total and as part "
    "plus parts, and no authority settles it"
)
CAUTION = f"Ask for the volume drawn and the volume of diluent; they settle it. {REVIEW_ONLY}"


def parts(text: str) -> Value:
    """Read `1:4` as its parts, and how they are joined.

    Raises:
        ValueError: it is no dilution of one part.
    """
    found = re.fullmatch(r"\s*1\s*(:|in|to)\s*(\d{1,3})\s*", text)
    if found is None or int(found[2]) < 2:
        raise ValueError("not a dilution")
    return float(found[2]), found[1]


def shown(value: Value) -> str:
    """Write parts as `1:4` or `1 in 4`, as they were joined."""
    assert isinstance(value, tuple)
    count, joined = value
    return f"1:{count:g}" if joined == ":" else f"1 {joined} {count:g}"


INPUTS = {
    "strength": Measured("mg/mL", 1e-6, 1_000),
    "dilution": Written(
        parts,
        "one part and a number, such as 1:4; not a strength such as 1 in 1,000",
        "1:4",
        shown=shown,
    ),
}


_TOTAL, _PLUS = "one part in all the parts", "one part and so many of diluent"


def _both(total: str, plus: str) -> tuple[str, str]:
    return f"{_TOTAL}: {total} mg/mL", f"{_PLUS}: {plus} mg/mL"


_CALC = "computed from both definitions"
EXAMPLES = (
    Example({"strength": "40 mg/mL", "dilution": "1:4"}, (), _CALC, _both("10.00", "8.00")),
    Example({"strength": "40 mg/mL", "dilution": "1:2"}, (), _CALC, _both("20.00", "13.33")),
    Example({"strength": "40 mg/mL", "dilution": "1:3"}, (), _CALC, _both("13.33", "10.00")),
    Example({"strength": "40 mg/mL", "dilution": "1:9"}, (), _CALC, _both("4.44", "4.00")),
    Example({"strength": "40 mg/mL", "dilution": "1:20"}, (), _CALC, _both("2.00", "1.90")),
    Example({"strength": "40 mg/mL", "dilution": "1 to 4"}, (), _CALC, _both("10.00", "8.00")),
    Example({"strength": "40 mg/mL", "dilution": "1 in 4"}, (f"{_TOTAL}: 10.00 mg/mL",), _CALC),
    Example({"strength": "0.04 mg/mL", "dilution": "1 in 20"}, (f"{_TOTAL}: 0.002 mg/mL",), _CALC),
)


def work(strength: float, dilution: tuple[float, str]) -> Result:
    """Return the strength in mg/mL; of `1:4` by each convention, neither preferred."""
    parts_said, joined = dilution
    in_total = _one(strength / parts_said, _TOTAL)
    if joined == "in":
        return Result((in_total,))
    return Result((), (in_total, _one(strength / (parts_said + 1), _PLUS)))


def _one(value: float, label: str) -> Answer:
    return one(value, "mg/mL", places(value, 2), label)
