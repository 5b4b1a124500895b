"""The strength a drug has once it is made up with diluent, and the dose in a volume of it."""

from __future__ import annotations

from mmbuilder.clinic.inputs import Measured
from mmbuilder.clinic.measure import REVIEW_ONLY, Example, Result, one, places, plainly

NAME = "dilution"
FORMULA = "strength × drawn ÷ (drawn + diluent); dose = that × given"
SOURCE = "C1V1 = C2V2; common practice, no source"
CAUTION = (
    "Volumes are taken to add up. A suspension settles: in one study a planned 4 mg of triamcinolone "
    f"came out between 2.8 and 6.0 mg by how it was handled. {REVIEW_ONLY}"
)
APART = 0.02
"""Share by which a written strength may differ before it is told: it may be rounded. No source."""
INPUTS = {
    "strength": Measured("mg/mL", 1e-6, 1_000),
    "drawn": Measured("mL", 0.001, 5_000),
    "diluent": Measured("mL", 0, 5_000),
    "given": Measured("mL", 0, 5_000, required=False),
    "written strength": Measured("mg/mL", 1e-6, 1_000, required=False),
}
_CALC = "C1V1 = C2V2, computed"
EXAMPLES = (
    Example(
        {"strength": "40 mg/mL", "drawn": "0.1 mL", "diluent": "0.9 mL"},
        ("strength: 4.000 mg/mL",),
        _CALC,
    ),
    Example(
        {"strength": "1 mg/mL", "drawn": "1 mL", "diluent": "9 mL", "given": "0.5 mL"},
        ("strength: 0.100 mg/mL", "dose: 0.050 mg"),
        f"1 in 1,000 made 1 in 10,000: 0.1 mg/mL, as USP prints it; dose: {_CALC}",
    ),
    Example(
        {"strength": "40 mg/mL", "drawn": "1 mL", "diluent": "4 mL", "written strength": "10 mg/mL"},
        ("strength: 8.000 mg/mL", "written: 10.000 mg/mL"),
        "one part and four of diluent: 8.00 mg/mL, computed",
    ),
    Example(
        {"strength": "5 µg/mL", "drawn": "2 mL", "diluent": "0 mL", "given": "2 mL"},
        ("strength: 0.005 mg/mL", "dose: 0.010 mg"),
        "no diluent: the strength stays, by definition",
    ),
    Example(
        {"strength": "5 µg/mL", "drawn": "1 mL", "diluent": "19 mL", "given": "0.05 mL"},
        ("strength: 0.00025 mg/mL", "dose: 0.0000125 mg"),
        f"never 0.000: {_CALC}",
    ),
)


def work(
    strength: float, drawn: float, diluent: float, given: float | None, written_strength: float | None
) -> Result:
    """Return the strength made, the dose where a volume was given, and whether the written one agrees."""
    made = strength * drawn / (drawn + diluent)
    answers = [one(made, "mg/mL", places(made, 3), "strength")]
    steps = [
        f"{plainly(strength)} × {plainly(drawn)} ÷ ({plainly(drawn)} + {plainly(diluent)}) = "
        f"{plainly(made)} mg/mL"
    ]
    notes = []
    if given is not None:
        answers.append(one(made * given, "mg", places(made * given, 3), "dose"))
        steps.append(f"{plainly(made)} × {plainly(given)} = {plainly(made * given)} mg")
        if given > drawn + diluent:
            notes.append("More was given than was made up: it came of more than one such syringe.")
    if written_strength is not None:
        answers.append(one(written_strength, "mg/mL", places(written_strength, 3), "written"))
        if abs(written_strength - made) > APART * made:
            times = max(written_strength, made) / min(written_strength, made)
            notes.append(f"Written and recomputed strength differ: {times:.3g} times.")
    return Result(tuple(answers), steps=tuple(steps), notes=tuple(notes))
