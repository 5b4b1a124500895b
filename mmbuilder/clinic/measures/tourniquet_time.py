"""Tourniquet: minutes inflated on one limb, and the minutes of flow between."""

from __future__ import annotations

from itertools import pairwise

from mmbuilder.clinic.faults import Fault, InputFault
from mmbuilder.clinic.inputs import STRETCH, Many, not_backwards
from mmbuilder.clinic.measure import REVIEW_ONLY, Example, Result, one

NAME = "tourniquet time"
FORMULA = "sum of the inflated periods; flow between them told apart"
SOURCE = "common practice, no source"
CAUTION = f"Of the operated limb only; a test of the cuff does not count. {REVIEW_ONLY}"
MOST_HOURS = 12
"""Of one inflation, and of the flow between two: beyond it the times are likelier in the wrong order."""
DAY = 24 * 60
INPUTS = {"inflated": Many(STRETCH)}
EXAMPLES = (
    Example(
        {"inflated": ["10:02-11:10", "11:22-11:55"]},
        ("101 min", "flow between: 12 min"),
        "worked example; common practice, no source",
    ),
    Example({"inflated": "23:40-00:25"}, ("45 min", "flow between: 0 min"), "over midnight, computed"),
    Example(
        {"inflated": "22:50-23:50,00:05-00:35"},
        ("90 min", "flow between: 15 min"),
        "a later period after midnight, computed",
    ),
    Example(
        {"inflated": ["23:40-00:25", "00:40-01:10"]},
        ("75 min", "flow between: 15 min"),
        "the first period over midnight, computed",
    ),
)


def work(inflated: tuple[tuple[float, float], ...]) -> Result:
    """Return minutes inflated and minutes of flow between the periods."""
    for start, end in inflated:
        not_backwards("inflated", end - start, MOST_HOURS, "10:02-11:10, 11:22-11:55")
    total = sum(end - start for start, end in inflated)
    between = sum(_flow(earlier, later) for earlier, later in pairwise(inflated))
    told = " + ".join(f"{end - start:.0f}" for start, end in inflated)
    return Result(
        (one(total, "min"), one(between, "min", 0, "flow between")), steps=(f"{told} = {total:.0f} min",)
    )


def _flow(earlier: tuple[float, float], later: tuple[float, float]) -> float:
    """Minutes from the end of one period to the start of the next, which may be after midnight."""
    flow = (later[0] - earlier[1]) % DAY
    if flow > MOST_HOURS * 60:
        raise InputFault(
            Fault(
                "inflated",
                "a period that starts before the one above it has ended",
                "periods of one limb, in their order, none inside another",
                "minutes that are in two periods would be counted twice",
                "inflated: 10:02-11:10, 11:22-11:55",
            )
        )
    return flow
