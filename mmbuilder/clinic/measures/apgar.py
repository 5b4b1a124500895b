"""Apgar score of one minute, from its five parts."""

from __future__ import annotations

from mmbuilder.clinic.inputs import Counted
from mmbuilder.clinic.measure import REVIEW_ONLY, Example, Result, said

NAME = "apgar"
FORMULA = "colour + heart + grimace + tone + breathing, each 0 to 2"
SOURCE = "from memory: Apgar V, Curr Res Anesth Analg 1953;32:260-267"
CAUTION = f"Of one minute of life: 1, 5 and 10 are told apart and never averaged. {REVIEW_ONLY}"
INPUTS = {part: Counted(0, 2) for part in ("colour", "heart", "grimace", "tone", "breathing")}
EXAMPLES = (
    Example(
        {"colour": "1", "heart": "2", "grimace": "1", "tone": "1", "breathing": "2"},
        ("7 of 10",),
        "worked example; common practice, no source",
    ),
)


def work(**parts: float) -> Result:
    """Return the sum of the five."""
    told = " + ".join(f"{value:.0f}" for value in parts.values())
    return Result((said(f"{sum(parts.values()):.0f} of 10"),), steps=(f"{told} = {sum(parts.values()):.0f}",))
