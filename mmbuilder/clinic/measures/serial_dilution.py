"""A drug dissolved, drawn up and made up again, and the dose that was given of it."""

from __future__ import annotations

from mmbuilder.clinic.faults import Fault, InputFault
from mmbuilder.clinic.inputs import Measured
from mmbuilder.clinic.measure import REVIEW_ONLY, Answer, Example, Result, one, places, plainly

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
    Example(
        {"drug": "1 mg", "first volume": "100 mL", "drawn": "1 mL", "made up to": "10 mL"},
        ("first: 0.01 mg/mL", "then: 0.001 mg/mL"),
        "C1V1 = C2V2, computed",
    ),
)


def work(drug: float, first_volume: float, drawn: float, made_up_to: float, given: float | None) -> Result:
    """Return both strengths in mg/mL and, where a volume was given, the dose in mg."""
    if drawn > first_volume:
        raise InputFault(Fault("drawn", "more than there was to draw", "at most the first volume"))
    if made_up_to < drawn:
        raise InputFault(
            Fault(
                "made up to",
                "less than was drawn, which would make it stronger",
                "the whole volume: what was drawn with what was added to it",
                example="made up to: 10 mL",
            )
        )
    first = drug / first_volume
    then = first * drawn / made_up_to
    answers = [_one(first, "mg/mL", "first"), _one(then, "mg/mL", "then")]
    steps = [
        f"{plainly(drug)} ÷ {plainly(first_volume)} = {plainly(first)} mg/mL",
        f"{plainly(first)} × {plainly(drawn)} ÷ {plainly(made_up_to)} = {plainly(then)} mg/mL",
    ]
    if given is not None:
        answers.append(_one(then * given, "mg", "dose"))
        steps.append(f"{plainly(then)} × {plainly(given)} = {plainly(then * given)} mg")
    return Result(tuple(answers), steps=tuple(steps))


def _one(value: float, unit: str, label: str) -> Answer:
    return one(value, unit, places(value, 2), label)
