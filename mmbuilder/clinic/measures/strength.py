"""What a per cent, or a ratio strength of weight in volume, is in mg/mL, and what a volume of it holds."""

from __future__ import annotations

import re

from mmbuilder.clinic.faults import Fault, InputFault
from mmbuilder.clinic.inputs import Measured, Value, Written
from mmbuilder.clinic.measure import REVIEW_ONLY, Answer, Example, Result, one, places, plainly
from mmbuilder.clinic.units import number

NAME = "strength"
FORMULA = "1 % = 10 mg/mL; 1 in n = 1,000 ÷ n mg/mL"
SOURCE = (
    "definition of weight in volume; ratio strength: USP chapter 7, FDA notice on "
    "single-entity injectables, 2017"
)
CAUTION = (
    f"A ratio strength such as 1 in 1,000 is not a dilution such as 1:4. Mind ten-fold slips. {REVIEW_ONLY}"
)


def milligrams(text: str) -> Value:
    """Read `0.25 %` or `1 in 200,000` as mg/mL.

    Raises:
        ValueError: it is neither, over 100 %, or a ratio below 1 in 100, which could be a dilution.
    """
    if found := re.fullmatch(r"\s*([\d.,]+)\s*%\s*(?:w/v)?\s*", text):
        if (percent := number(found[1])) > 100:
            raise ValueError("more drug than there is of the mixture")
        return percent * 10
    found = re.fullmatch(r"\s*1\s*(?:in|:)\s*([\d.,\s]+?)\s*", text)
    parts = number(found[1].replace(" ", "")) if found else 0
    if parts < 100:
        raise ValueError("not a strength")
    return 1000 / parts


INPUTS = {
    "strength": Written(
        milligrams,
        "a per cent up to 100 or a ratio of 1 in 100 or weaker; a dilution such as 1:4 is worked out by "
        "`dilution` or `bare dilution`",
        "1 in 1,000",
        shown=lambda value: f"{value:.6g} mg/mL",
    ),
    "volume": Measured("mL", 0, 5_000, required=False),
    "weight": Measured("kg", 0.4, 400, required=False),
}
_USP = "FDA and USP on ratio strengths (official 1 May 2016)"
EXAMPLES = (
    Example({"strength": "1 in 1,000"}, ("strength: 1.000 mg/mL",), _USP),
    Example({"strength": "1:10,000"}, ("strength: 0.100 mg/mL",), _USP),
    Example({"strength": "1 in 400"}, ("strength: 2.500 mg/mL",), _USP),
    Example({"strength": "1 in 10,000,000"}, ("strength: 0.0001 mg/mL",), "computed from the rule of USP"),
    Example({"strength": "1 in 200,000"}, ("strength: 0.005 mg/mL",), "computed from the rule of USP"),
    Example(
        {"strength": "1 in 200,000", "volume": "0.5 mL", "weight": "60 kg"},
        ("strength: 0.005 mg/mL", "dose: 0.0025 mg", "for the weight: 0.000042 mg/kg"),
        "computed from the rule of USP",
    ),
    Example({"strength": "0.1 %"}, ("strength: 1.000 mg/mL",), "definition"),
    Example(
        {"strength": "0.25 %", "volume": "20 mL", "weight": "60 kg"},
        ("strength: 2.500 mg/mL", "dose: 50.00 mg", "for the weight: 0.83 mg/kg"),
        "worked example; common practice, no source",
    ),
    Example(
        {"strength": "1:1000", "volume": "4 mL"},
        ("strength: 1.000 mg/mL", "dose: 4.00 mg"),
        "USP, elimination of ratio expressions: a fatal slip",
    ),
)


def work(strength: float, volume: float | None, weight: float | None) -> Result:
    """Return mg/mL, and the dose in mg and mg/kg where volume and weight are given."""
    if weight is not None and volume is None:
        raise InputFault(
            Fault("volume", "a weight without a volume", "the volume that was given", example="volume: 20 mL")
        )
    answers = [_one(strength, "mg/mL", 3, "strength")]
    steps = [f"{plainly(strength)} mg/mL"]
    if volume is not None:
        answers.append(_one(strength * volume, "mg", 2, "dose"))
        steps.append(f"{plainly(strength)} × {plainly(volume)} = {plainly(strength * volume)} mg")
        if weight is not None:
            answers.append(_one(strength * volume / weight, "mg/kg", 2, "for the weight"))
    return Result(tuple(answers), steps=tuple(steps))


def _one(value: float, unit: str, digits: int, label: str) -> Answer:
    return one(value, unit, places(value, digits), label)
