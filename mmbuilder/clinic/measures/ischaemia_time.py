"""Minutes without flow, from one time of day to another."""

from __future__ import annotations

from mmbuilder.clinic.inputs import STRETCH, Chosen
from mmbuilder.clinic.measure import REVIEW_ONLY, Example, Result, one

NAME = "ischaemia time"
FORMULA = "end − start"
SOURCE = "common practice, no source"
CAUTION = (
    "Cold: flush to out of ice. Warm: out of ice to flow. Clamp or flap: clamp or pedicle to "
    f"flow. {REVIEW_ONLY}"
)
INPUTS = {"kind": Chosen(("cold", "warm", "clamp", "flap")), "from to": STRETCH}
EXAMPLES = (
    Example(
        {"kind": "flap", "from to": "11:15-12:52"}, ("97 min",), "worked example; common practice, no source"
    ),
)


def work(kind: str, from_to: tuple[float, float]) -> Result:
    """Return minutes."""
    start, end = from_to
    return Result((one(end - start, "min"),))
