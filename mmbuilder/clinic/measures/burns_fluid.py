"""Fluid in the first day of a burn, counted from the burn."""

from __future__ import annotations

from mmbuilder.clinic.inputs import Measured
from mmbuilder.clinic.measure import REVIEW_ONLY, Answer, Example, Result, one, plainly, said

NAME = "burns fluid"
FORMULA = "4 mL × weight × burned area in %, half of it in the first 8 h after the burn"
FIRST, LEAST = 8.0, 1.0
"""Hours the first half is for, and the least left of them for which an hourly rate means anything."""
SOURCE = "from memory: Baxter CR, Shires T, Ann N Y Acad Sci 1968;150:874-894"
CAUTION = (
    f"A starting point, corrected by urine; the clock starts at the burn, not at the door. {REVIEW_ONLY}"
)
INPUTS = {
    "weight": Measured("kg", 0.4, 400),
    "area": Measured("%", 0, 100),
    "after": Measured("h", 0, 24, turns=(FIRST - LEAST, FIRST)),
}
EXAMPLES = (
    Example(
        {"weight": "70 kg", "area": "30 %", "after": "2 h"},
        (
            "in 24 h: 8,400 mL",
            "by the 8th hour: 4,200 mL",
            "left of the first 8 hours: 360 min",
            "an hour until then: 700 mL/h",
        ),
        "worked example; common practice, no source",
    ),
    Example(
        {"weight": "70 kg", "area": "30 %", "after": "9 h"},
        (
            "in 24 h: 8,400 mL",
            "by the 8th hour: 4,200 mL",
            "left of the first 8 hours: 0 min",
            "an hour until then: the first 8 hours had passed",
        ),
        "computed",
    ),
    Example(
        {"weight": "70 kg", "area": "30 %", "after": "7.5 h"},
        (
            "in 24 h: 8,400 mL",
            "by the 8th hour: 4,200 mL",
            "left of the first 8 hours: 30 min",
            "an hour until then: no meaningful rate with under 1 h left",
        ),
        "computed; the limit of 1 h is ours",
    ),
    Example(
        {"weight": "70 kg", "area": "30 %", "after": "2-9 h"},
        (
            "in 24 h: 8,400 mL",
            "by the 8th hour: 4,200 mL",
            "left of the first 8 hours: 0 to 360 min",
            "an hour until then: 700 to 4,200 mL/h or no meaningful rate with under 1 h left"
            " or the first 8 hours had passed",
        ),
        "computed at both ends and at 7 and 8 h",
    ),
)


def work(weight: float, area: float, after: float) -> Result:
    """Return mL in 24 h and by the 8th hour, what is left of the 8 `after` hours, and mL/h for it."""
    whole = 4 * weight * area
    left = max(0.0, FIRST - after)
    return Result(
        (
            one(whole, "mL", 0, "in 24 h"),
            one(whole / 2, "mL", 0, "by the 8th hour"),
            one(left * 60, "min", 0, "left of the first 8 hours"),
            _hourly(whole / 2, left),
        ),
        steps=(
            f"4 × {plainly(weight)} × {plainly(area)} = {whole:,.0f} mL",
            f"half of it: {whole / 2:,.0f} mL by the 8th hour",
        ),
    )


def _hourly(half: float, left: float) -> Answer:
    """A half over minutes would be litres an hour, which nobody gave and nobody should read as a target."""
    label = "an hour until then"
    if not left:
        return said("the first 8 hours had passed", label)
    if left < LEAST:
        return said(f"no meaningful rate with under {plainly(LEAST)} h left", label)
    return one(half / left, "mL/h", 0, label)
