"""Minutes without flow, from one time of day to another."""

from __future__ import annotations

from mmbuilder.clinic.inputs import STRETCH, Chosen, not_backwards
from mmbuilder.clinic.measure import REVIEW_ONLY, Example, Result, one

NAME = "ischaemia time"
FORMULA = "end − start"
SOURCE = "common practice, no source"
CAUTION = (
    "Cold: flush to out of ice. Warm: out of ice to flow. Clamp or flap: clamp or pedicle to "
    f"flow. {REVIEW_ONLY}"
)
MOST_HOURS = {"cold": 20, "warm": 12, "clamp": 12, "flap": 12}
"""Beyond it two times of day are likelier the wrong way round; ours, of common practice."""
INPUTS = {"kind": Chosen(("cold", "warm", "clamp", "flap")), "from to": STRETCH}
EXAMPLES = (
    Example(
        {"kind": "flap", "from to": "11:15-12:52"}, ("97 min",), "worked example; common practice, no source"
    ),
    Example({"kind": "cold", "from to": "18:00-12:00"}, ("1,080 min",), "over midnight, computed"),
)


def work(kind: str, from_to: tuple[float, float]) -> Result:
    """Return minutes."""
    start, end = from_to
    not_backwards("from to", end - start, MOST_HOURS[kind])
    notes = ("The end is on the next day.",) if end >= 24 * 60 else ()
    return Result((one(end - start, "min"),), notes=notes)
