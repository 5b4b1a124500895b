"""A rate with its 95 % limits by Wilson's score method."""

from __future__ import annotations

from math import sqrt

from mmbuilder.clinic.faults import Fault, InputFault
from mmbuilder.clinic.inputs import Counted
from mmbuilder.clinic.measure import REVIEW_ONLY, Example, Result, one, said

NAME = "rate"
FORMULA = "k ÷ n, limits by Wilson's score, z = 1.96"
SOURCE = "Newcombe RG, Stat Med 1998;17:857-872"
CAUTION = f"Say whether the case under review is counted. {REVIEW_ONLY}"
MOST = 1e9
INPUTS = {"happened": Counted(0, MOST), "out of": Counted(1, MOST)}
Z = 1.959963984540054
_TABLE = "Newcombe RG, Stat Med 1998;17:857-872, table I"
EXAMPLES = (
    Example({"happened": "81", "out of": "263"}, ("30.8%", "95 % limits: 25.5 to 36.6%"), _TABLE),
    Example({"happened": "15", "out of": "148"}, ("10.1%", "95 % limits: 6.2 to 16.0%"), _TABLE),
    Example({"happened": "0", "out of": "20"}, ("0.0%", "95 % limits: 0.0 to 16.1%"), _TABLE),
    Example({"happened": "1", "out of": "29"}, ("3.4%", "95 % limits: 0.6 to 17.2%"), _TABLE),
    Example(
        {"happened": "3", "out of": "120"}, ("2.5%", "95 % limits: 0.9 to 7.1%"), "worked example, computed"
    ),
)


def work(happened: float, out_of: float) -> Result:
    """Return the rate and its limits, in per cent."""
    if happened > out_of:
        raise InputFault(
            Fault(
                "happened",
                "more than were looked at",
                "at most the number it is out of",
                example="happened: 3",
            )
        )
    low, high = wilson(happened, out_of)
    limits = f"{100 * low:.1f} to {100 * high:.1f}%"
    return Result((one(100 * happened / out_of, "%", 1), said(limits, "95 % limits")))


def wilson(k: float, n: float) -> tuple[float, float]:
    """Return the limits of k of n, as shares.

    Source: Newcombe RG, Stat Med 1998;17:857-872, method 3.
    """
    p, spread = k / n, Z * sqrt(k / n * (1 - k / n) / n + Z**2 / (4 * n**2))
    middle, scale = p + Z**2 / (2 * n), 1 + Z**2 / n
    return max(0.0, (middle - spread) / scale), min(1.0, (middle + spread) / scale)
