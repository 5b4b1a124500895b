"""Clock hours of an eye from the surgeon's view to anatomy: not a time of day."""

from __future__ import annotations

from mmbuilder.clinic.inputs import Chosen, Counted
from mmbuilder.clinic.measure import REVIEW_ONLY, Example, Result, said

NAME = "clock hours"
FORMULA = "seen from above: + 6; from the temporal side: right eye + 3, left eye − 3"
SOURCE = "geometry; common practice, no source"
CAUTION = f"Of an upright, unmirrored view; a turned camera has to be asked about. {REVIEW_ONLY}"
EYE = Chosen(("right", "left"), also=(("OD", "right"), ("RE", "right"), ("OS", "left"), ("LE", "left")))
INPUTS = {
    "eye": EYE,
    "seat": Chosen(("above", "temporal")),
    "seen at": Counted(1, 12),
}
EXAMPLES = (
    Example(
        {"eye": "right", "seat": "temporal", "seen at": "11"},
        ("anatomy: 2 o'clock (superonasal)", "surgeon's view: 11 o'clock"),
        "worked example; common practice, no source",
    ),
    Example(
        {"eye": "left", "seat": "temporal", "seen at": "6"},
        ("anatomy: 3 o'clock (temporal)", "surgeon's view: 6 o'clock"),
        "the side of the seat is temporal: geometry",
    ),
    Example(
        {"eye": "right", "seat": "temporal", "seen at": "6"},
        ("anatomy: 9 o'clock (temporal)", "surgeon's view: 6 o'clock"),
        "the side of the seat is temporal: geometry",
    ),
    Example(
        {"eye": "right", "seat": "above", "seen at": "6"},
        ("anatomy: 12 o'clock (superior)", "surgeon's view: 6 o'clock"),
        "the side of the seat is superior: geometry",
    ),
)


def work(eye: str, seat: str, seen_at: float) -> Result:
    """Return the hour in anatomy with its sector, and the hour as seen."""
    turn = 6 if seat == "above" else {"right": 3, "left": -3}[eye]
    hour = (int(seen_at) + turn - 1) % 12 + 1
    return Result(
        (
            said(f"{hour} o'clock ({_sector(eye, hour)})", "anatomy"),
            said(f"{seen_at:.0f} o'clock", "surgeon's view"),
        )
    )


def _sector(eye: str, hour: int) -> str:
    """Name the sector of an anatomical hour; 3 o'clock is nasal in a right eye, temporal in a left one."""
    upright = "superior" if hour in (11, 12, 1, 10, 2) else "inferior" if hour in (4, 5, 6, 7, 8) else ""
    side = "" if hour in (12, 6) else "nasal" if (1 <= hour <= 5) == (eye == "right") else "temporal"
    return f"{upright[:-3]}o{side}" if upright and side else upright or side
