"""Decision to delivery, from each decision there was."""

from __future__ import annotations

from mmbuilder.clinic.inputs import TIME, Many, not_backwards
from mmbuilder.clinic.measure import REVIEW_ONLY, Answer, Example, Result, one

NAME = "decision to delivery"
FORMULA = "delivery − decision, for every decision"
SOURCE = "common practice, no source"
CAUTION = (
    "Name which decision: a trial in theatre and a section are two. The window of a timed drug runs from "
    f"birth or onset, not from the call. {REVIEW_ONLY}"
)
MOST_HOURS = 12
"""Beyond it a delivery before its decision is likelier than one on the next day; ours."""
INPUTS = {"decisions": Many(TIME), "delivery": TIME}
EXAMPLES = (
    Example(
        {"decisions": ["02:10", "02:31"], "delivery": "02:49"},
        ("from decision 1: 39 min", "from decision 2: 18 min"),
        "worked example; common practice, no source",
    ),
    Example(
        {"decisions": "23:50", "delivery": "00:12"}, ("from decision 1: 22 min",), "over midnight, computed"
    ),
)


def work(decisions: tuple[float, ...], delivery: float) -> Result:
    """Return minutes from each decision; a delivery before a decision is on the next day."""
    return Result(tuple(_from(number, at, delivery) for number, at in enumerate(decisions, 1)))


def _from(number: int, at: float, delivery: float) -> Answer:
    passed = (delivery - at) % (24 * 60)
    not_backwards("delivery", passed, MOST_HOURS, "02:49")
    return one(passed, "min", 0, f"from decision {number}")
