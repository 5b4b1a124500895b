"""A drug dissolved, drawn up and made up again, and the dose that was given of it."""

from __future__ import annotations

from mmbuilder.clinic.inputs import Measured
from mmbuilder.clinic.measure import REVIEW_ONLY, Example, Result, one

NAME = "serial dilution"
FORMULA = "drug ÷ first volume × drawn ÷ made up to × given"
SOURCE = "common practice, no source"
CAUTION = f"Suspensions settle: what was drawn may not be what the sum says. {REVIEW_ONLY}"
INPUTS = {
    "drug": Measured("mg", 1e-6, 1e6),
    "first volume": Measured("mL", 0.01, 5_000),
    "drawn": Measured("mL", 0.01, 1_000),
    "made up to": Measured("mL", 0.01, 5_000),
    "given": Measured("mL", 0, 5_000, required=False),
}
EXAMPLES = (
    Example(
        {"drug": "1 g", "first volume": "20 mL", "drawn": "2 mL", "made up to": "10 mL", "given": "0.3 mL"},
        ("first: 50.00 mg/mL", "then: 10.00 mg/mL", "dose: 3.00 mg"),
        "worked example; common practice, no source",
    ),
    Example(
        {"drug": "40 mg", "first volume": "1 mL", "drawn": "0.1 mL", "made up to": "1 mL"},
        ("first: 40.00 mg/mL", "then: 4.00 mg/mL"),
        "C1V1 = C2V2, computed",
    ),
)


def work(drug: float, first_volume: float, drawn: float, made_up_to: float, given: float | None) -> Result:
    """Return both strengths in mg/mL and, where a volume was given, the dose in mg."""
    first = drug / first_volume
    then = first * drawn / made_up_to
    answers = [one(first, "mg/mL", 2, "first"), one(then, "mg/mL", 2, "then")]
    steps = [
        f"{drug:g} ÷ {first_volume:g} = {first:g} mg/mL",
        f"{first:g} × {drawn:g} ÷ {made_up_to:g} = {then:g} mg/mL",
    ]
    if given is not None:
        answers.append(one(then * given, "mg", 2, "dose"))
        steps.append(f"{then:g} × {given:g} = {then * given:g} mg")
    return Result(tuple(answers), steps=tuple(steps))
