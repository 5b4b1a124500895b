"""Measured blood loss: swabs by weight, and the suction bottle less what was washed in."""

from __future__ import annotations

from mmbuilder.clinic.faults import Fault, InputFault
from mmbuilder.clinic.inputs import Counted, Measured
from mmbuilder.clinic.measure import REVIEW_ONLY, Example, Result, one, plainly

NAME = "blood loss"
FORMULA = "(weight of swabs − number × dry weight) + (bottle − bottle before − wash)"
SOURCE = "common practice, no source; 1 g of blood is taken as 1 mL"
CAUTION = (
    "Only what was weighed and measured; an estimate is told beside it and not added. Running readings: the "
    f"last is the bottle, the first the bottle before. Liquor and irrigation count as wash. {REVIEW_ONLY}"
)
INPUTS = {
    "swabs": Measured("g", 0, 20_000),
    "number": Counted(0, 500),
    "dry": Measured("g", 0, 200),
    "bottle": Measured("mL", 0, 50_000, required=False),
    "bottle before": Measured("mL", 0, 50_000, required=False),
    "wash": Measured("mL", 0, 50_000, required=False),
    "estimate": Measured("mL", 0, 20_000, required=False),
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
    Example(
        {
            **{"swabs": "210 g", "number": "4", "dry": "18 g", "bottle": "1.2 L", "bottle before": "300 mL"},
            **{"wash": "300 mL", "estimate": "1000 mL"},
        },
        ("738 mL", "in swabs: 138 mL", "in the bottle: 600 mL", "estimated, not added: 1,000 mL"),
        "worked example from running readings, with an estimate beside it; computed",
    ),
)


def work(
    swabs: float,
    number: float,
    dry: float,
    bottle: float | None,
    bottle_before: float | None,
    wash: float | None,
    estimate: float | None,
) -> Result:
    """Return mL in all, in swabs and in the bottle; an estimate stands beside them."""
    _check(swabs, number * dry, bottle, bottle_before or 0, wash or 0)
    soaked = swabs - number * dry
    answers = [one(soaked, "mL", 0, "in swabs")]
    steps = [f"{plainly(swabs)} − {plainly(number)} × {plainly(dry)} = {plainly(soaked)} mL in swabs"]
    total = soaked
    if bottle is not None:
        collected = bottle - (bottle_before or 0) - (wash or 0)
        total += collected
        answers.append(one(collected, "mL", 0, "in the bottle"))
        less = [plainly(part) for part in (bottle_before, wash) if part is not None]
        steps.append(f"{' − '.join([plainly(bottle), *less])} = {plainly(collected)} mL in the bottle")
    if estimate is not None:
        answers.append(one(estimate, "mL", 0, "estimated, not added"))
    return Result((one(total, "mL"), *answers), steps=tuple(steps))


def _check(swabs: float, dry: float, bottle: float | None, before: float, wash: float) -> None:
    """No loss is below nothing, and wash and an earlier reading are of a bottle."""
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
    if (wash or before) and bottle is None:
        faults.append(
            Fault(
                "bottle",
                "wash or an earlier reading without a bottle",
                "what the bottle held, wash and all",
                example="bottle: 900 mL",
            )
        )
    if bottle is not None and wash > bottle - before:
        faults.append(
            Fault(
                "wash",
                "more wash than the bottle held",
                "at most what came into the bottle; wash that went elsewhere is left out",
                example="wash: 300 mL",
            )
        )
    if faults:
        raise InputFault(*faults)
