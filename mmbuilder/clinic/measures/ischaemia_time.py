"""Minutes without flow, from one time of day to another."""

from __future__ import annotations

from mmbuilder.clinic.days import DAY, EXAMPLE, TIMED
from mmbuilder.clinic.faults import Fault, InputFault
from mmbuilder.clinic.inputs import Chosen, not_backwards
from mmbuilder.clinic.measure import REVIEW_ONLY, Example, Result, one

NAME = "ischaemia time"
FORMULA = "end − start"
SOURCE = "common practice, no source"
CAUTION = (
    "Cold: flush to out of ice. Warm: out of ice to flow. Clamp or flap: clamp or pedicle to "
    f"flow. {REVIEW_ONLY}"
)
MOST_HOURS = {"cold": 20, "warm": 12, "clamp": 12, "flap": 12}
"""Beyond it two times without their days are likelier the wrong way round; ours, of common practice."""
MOST_DAYS = 7
"""Beyond it a day was likelier written wrong; ours."""
INPUTS = {"kind": Chosen(("cold", "warm", "clamp", "flap")), "from to": TIMED}
EXAMPLES = (
    Example(
        {"kind": "flap", "from to": "11:15-12:52"}, ("97 min",), "worked example; common practice, no source"
    ),
    Example({"kind": "cold", "from to": "18:00-12:00"}, ("1,080 min",), "over midnight, computed"),
    Example(
        {"kind": "cold", "from to": "day 0 18:00 to day 1 16:30"},
        ("1,350 min",),
        "22 h 30 min, computed: over 20 hours only with its days",
    ),
    Example(
        {"kind": "cold", "from to": "2024-02-28 20:00 to 2024-03-01 02:30"},
        ("1,830 min",),
        "over a leap day, 30 h 30 min, computed",
    ),
)


def work(kind: str, from_to: tuple[float, float, float]) -> Result:
    """Return minutes."""
    start, end, with_days = from_to
    if with_days:
        _in_order(end - start)
        return Result((one(end - start, "min"),))
    not_backwards("from to", end - start, MOST_HOURS[kind], EXAMPLE if kind == "cold" else "11:15-12:52")
    notes = ("The end is on the next day.",) if end >= DAY else ()
    return Result((one(end - start, "min"),), notes=notes)


def _in_order(length: float) -> None:
    if not 0 <= length <= MOST_DAYS * DAY:
        raise InputFault(
            Fault(
                "from to",
                "an end before its start" if length < 0 else f"more than {MOST_DAYS} days",
                f"the earlier day and time first, at most {MOST_DAYS} days before the later",
                "one of the two was written wrong, and nobody can tell which",
                f"from to: {EXAMPLE}",
            )
        )
