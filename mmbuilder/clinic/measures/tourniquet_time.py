"""Tourniquet: minutes inflated on one limb, and the minutes of flow between."""

from __future__ import annotations

from itertools import pairwise

from mmbuilder.clinic.inputs import STRETCH, Many
from mmbuilder.clinic.measure import REVIEW_ONLY, Example, Result, one

NAME = "tourniquet time"
FORMULA = "sum of the inflated periods; flow between them told apart"
SOURCE = "common practice, no source"
CAUTION = f"Of the operated limb only; a test of the cuff does not count. {REVIEW_ONLY}"
INPUTS = {"inflated": Many(STRETCH)}
EXAMPLES = (
    Example(
        {"inflated": ["10:02-11:10", "11:22-11:55"]},
        ("101 min", "flow between: 12 min"),
        "worked example; common practice, no source",
    ),
    Example({"inflated": "23:40-00:25"}, ("45 min", "flow between: 0 min"), "over midnight, computed"),
)


def work(inflated: tuple[tuple[float, float], ...]) -> Result:
    """Return minutes inflated and minutes of flow between the periods."""
    total = sum(end - start for start, end in inflated)
    between = sum(later[0] - earlier[1] for earlier, later in pairwise(inflated))
    told = " + ".join(f"{end - start:.0f}" for start, end in inflated)
    return Result(
        (one(total, "min"), one(between, "min", 0, "flow between")), steps=(f"{told} = {total:.0f} min",)
    )
