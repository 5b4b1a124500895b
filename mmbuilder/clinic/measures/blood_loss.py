"""Measured blood loss: swabs by weight, and the suction bottle less what was washed in."""

from __future__ import annotations

from mmbuilder.clinic.faults import Fault, InputFault
from mmbuilder.clinic.inputs import Counted, Measured
from mmbuilder.clinic.measure import REVIEW_ONLY, Example, Result, one, plainly

NAME = "blood loss"
FORMULA = "(weight of swabs − number × dry weight) + (bottle − wash)"
SOURCE = "common practice, no source; 1 g of blood is taken as 1 mL"
CAUTION = (
    "Only what was weighed and measured; estimates are told beside it. Running readings: "
    "give the last less the "
    f"first. Liquor and irrigation count as wash. {REVIEW_ONLY}"
)
INPUTS = {
    "swabs": Measured("g", 0, 20_000),
    "number": Counted(0, 500),
    "dry": Measured("g", 0, 200),
    "bottle": Measured("mL", 0, 50_000, required=False),
    "wash": Measured("mL", 0, 50_000, required=False),
}
EXAMPLES = (
    Example(
        {"swabs": "210 g", "number": "4", "dry": "18 g", "bottle": "900 mL", "wash": "300 mL"},
        ("738 mL", "in swabs: 138 mL", "in the bottle: 600 mL"),
        "worked example; common practice, no source",
    ),
    Example(
        {"swabs": "210 g", "number": "4", "dry": "18 g"},
        ("138 mL", "in swabs: 138 mL"),
        "the same without a bottle",
    ),
)


def work(swabs: float, number: float, dry: float, bottle: float | None, wash: float | None) -> Result:
    """Return mL in all, in swabs and in the bottle."""
    _check(swabs, number * dry, bottle, wash)
    soaked = swabs - number * dry
    answers = [one(soaked, "mL", 0, "in swabs")]
    steps = [f"{plainly(swabs)} − {plainly(number)} × {plainly(dry)} = {plainly(soaked)} mL in swabs"]
    total = soaked
    if bottle is not None:
        collected = bottle - (wash or 0)
        total += collected
        answers.append(one(collected, "mL", 0, "in the bottle"))
        steps.append(f"{plainly(bottle)} − {plainly(wash or 0)} = {plainly(collected)} mL in the bottle")
    return Result((one(total, "mL"), *answers), steps=tuple(steps))


def _check(swabs: float, dry: float, bottle: float | None, wash: float | None) -> None:
    """No loss is below nothing, and wash is in a bottle."""
    faults = []
    if swabs < dry:
        faults.append(
            Fault(
                "swabs",
                "less than the same swabs weigh dry",
                "at least number × dry: their weight with the blood in them",
                example="swabs: 210 g",
            )
        )
    if wash and bottle is None:
        faults.append(
            Fault(
                "bottle",
                "wash without a bottle",
                "what the bottle held, wash and all",
                example="bottle: 900 mL",
            )
        )
    if wash and bottle is not None and wash > bottle:
        faults.append(
            Fault(
                "wash",
                "more wash than the bottle held",
                "at most what is in the bottle; wash that went elsewhere is left out",
                example="wash: 300 mL",
            )
        )
    if faults:
        raise InputFault(*faults)
