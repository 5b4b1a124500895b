"""Glasgow Coma Scale from its parts; a tube is written as T."""

from __future__ import annotations

from mmbuilder.clinic.inputs import Chosen, Counted
from mmbuilder.clinic.measure import REVIEW_ONLY, Example, Result, said

NAME = "glasgow coma scale"
FORMULA = "eyes + verbal + motor; T where a tube makes speech impossible"
SOURCE = "from memory: Teasdale G, Jennett B, Lancet 1974;2:81-84"
CAUTION = f"Give the parts with the sum; a sum without speech is no full score. {REVIEW_ONLY}"
INPUTS = {
    "eyes": Counted(1, 4),
    "verbal": Chosen(("1", "2", "3", "4", "5", "T")),
    "motor": Counted(1, 6),
}
EXAMPLES = (
    Example(
        {"eyes": "3", "verbal": "4", "motor": "6"},
        ("13 (E3 V4 M6)",),
        "worked example; common practice, no source",
    ),
    Example(
        {"eyes": "1", "verbal": "T", "motor": "6"},
        ("E1 VT M6",),
        "both ways of writing it are in use; common practice, no source",
        ("verbal left out: 7T", "verbal counted as 1: 8T"),
    ),
)


def work(eyes: float, verbal: str, motor: float) -> Result:
    """Return the sum with its parts; with a tube the parts, and the sum by each way of writing it."""
    parts = f"E{eyes:.0f} V{verbal} M{motor:.0f}"
    if verbal == "T":
        seen = eyes + motor
        return Result(
            (said(parts),),
            (said(f"{seen:.0f}T", "verbal left out"), said(f"{seen + 1:.0f}T", "verbal counted as 1")),
        )
    return Result((said(f"{eyes + int(verbal) + motor:.0f} ({parts})"),))
