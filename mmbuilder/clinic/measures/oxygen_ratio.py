"""P/F ratio: arterial oxygen over the inspired fraction."""

from __future__ import annotations

from mmbuilder.clinic.inputs import Measured, Value, WrittenRange
from mmbuilder.clinic.measure import REVIEW_ONLY, Example, Result, one, plainly
from mmbuilder.clinic.units import amount

NAME = "p/f ratio"
FORMULA = "arterial oxygen ÷ inspired fraction"
SOURCE = "common practice, no source"
CAUTION = (
    "Of a blood gas and the oxygen given when it was drawn; altitude and lung support change "
    f"it. {REVIEW_ONLY}"
)
KPA = 7.50062
"""mmHg in a kPa: 1,000 / 133.3224 (NIST SP 811)."""


def fraction(text: str) -> Value:
    """Read `60 %`, `0.60` or a range such as `40-60 %`; a bare 21 could be either and is refused.

    Raises:
        ValueError: it is neither.
    """
    given = amount("inspired", text, "0.60")
    if given.unit not in ("", "%"):
        raise ValueError("not a fraction")
    parts = 100 if given.unit else 1
    low, high = given.low / parts, given.high / parts
    if not 0.15 <= low <= high <= 1:
        raise ValueError("not a fraction of oxygen")
    return low, high


INPUTS = {
    "oxygen": Measured("kPa", 1, 90),
    "inspired": WrittenRange(fraction, "a fraction from 0.21 to 1, or with its sign: 60 %", "0.60"),
}
EXAMPLES = (
    Example(
        {"oxygen": "9.5 kPa", "inspired": "0.60"},
        ("15.8 kPa", "in mmHg: 119 mmHg"),
        "worked example; common practice, no source",
    ),
    Example(
        {"oxygen": "71.25 mmHg", "inspired": "60 %"},
        ("15.8 kPa", "in mmHg: 119 mmHg"),
        "the same in the other units, computed from NIST SP 811",
    ),
    Example(
        {"oxygen": "9.5 kPa", "inspired": "40-60 %"},
        ("15.8 to 23.8 kPa", "in mmHg: 119 to 178 mmHg"),
        "computed: the higher fraction gives the lower ratio",
    ),
    Example(
        {"oxygen": "9.5 kPa", "inspired": "0.5-0.6"},
        ("15.8 to 19.0 kPa", "in mmHg: 119 to 143 mmHg"),
        "computed",
    ),
)


def work(oxygen: float, inspired: float) -> Result:
    """Return the ratio, in kPa and in mmHg."""
    ratio = oxygen / inspired
    return Result(
        (one(ratio, "kPa", 1), one(ratio * KPA, "mmHg", 0, "in mmHg")),
        steps=(
            f"{oxygen:.3g} ÷ {plainly(inspired)} = {ratio:.1f} kPa",
            f"{ratio:.1f} × 7.50 = {ratio * KPA:.0f} mmHg",
        ),
    )
