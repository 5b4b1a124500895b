"""What an infusion gave in all, stage by stage, as its rate was changed."""

from __future__ import annotations

import re

from mmbuilder.clinic.inputs import Many, Measured, Value, Written
from mmbuilder.clinic.measure import REVIEW_ONLY, Example, Result, in_full, one, places, plainly
from mmbuilder.clinic.units import amount

NAME = "infusion total"
FORMULA = "sum of (rate × time) of every stage; dose = that × drug ÷ volume"
SOURCE = "common practice, no source"
CAUTION = (
    f"Stages as the pump logged them; boluses and the dead space of the line are not in it. {REVIEW_ONLY}"
)
STAGE = "6 mL/h for 20 min"
MOST = 2_000
"""mL/h beyond which a slip of the pen is likelier."""


def stage(text: str) -> Value:
    """Read `6 mL/h for 20 min`; return it in one notation.

    Raises:
        ValueError: it is none.
    """
    rate, minutes = parts(text)
    return f"{in_full(rate, 9)} mL/h for {in_full(minutes, 9)} min"


def parts(text: str) -> tuple[float, float]:
    """Return mL/h and minutes of a stage.

    Raises:
        ValueError: it is none.
    """
    found = re.fullmatch(r"\s*(.+?)\s+(?:for|x|×)\s+(.+?)\s*", text)
    if found is None:
        raise ValueError("not a rate and a time")
    rate, time = amount("", found[1], STAGE), amount("", found[2], STAGE)
    if rate.low != rate.high or time.low != time.high:
        raise ValueError("not one rate and one time")
    ran, minutes = rate.within("mL/h")[0], time.within("min")[0]
    if not 0 <= ran <= MOST or minutes < 0:
        raise ValueError("a rate or a time that cannot be")
    return ran, minutes


INPUTS = {
    "stages": Many(Written(stage, "a rate and how long it ran, both with their unit", STAGE, shown=str)),
    "drug": Measured("mg", 1e-6, 1e6, required=False),
    "volume": Measured("mL", 0.1, 5_000, required=False),
}
_CALC = "computed from the definition"
EXAMPLES = (
    Example(
        {"stages": ["6 mL/h for 20 min", "12 mL/h for 30 min"], "drug": "4 mg", "volume": "50 mL"},
        ("volume: 8.0 mL", "dose: 0.640 mg"),
        f"2 + 6 mL of 0.08 mg/mL, {_CALC}",
    ),
    Example({"stages": "100 mL/h for 1.5 h"}, ("volume: 150.0 mL",), _CALC),
    Example({"stages": ["6 mL/h for 20 min", "0 mL/h for 10 min"]}, ("volume: 2.0 mL",), f"a pause, {_CALC}"),
    Example({"stages": "0.1 L/h for 60 min"}, ("volume: 100.0 mL",), f"in other units, {_CALC}"),
)


def work(stages: tuple[str, ...], drug: float | None, volume: float | None) -> Result:
    """Return mL in all, and mg where the syringe is known."""
    ran = [rate * minutes / 60 for rate, minutes in map(parts, stages)]
    steps = [f"{text} = {plainly(made)} mL" for text, made in zip(stages, ran, strict=True)]
    total = sum(ran)
    answers = [one(total, "mL", places(total, 1), "volume")]
    notes: list[str] = []
    if drug is not None and volume is not None:
        dose = total * drug / volume
        answers.append(one(dose, "mg", places(dose, 3), "dose"))
        steps.append(f"{plainly(total)} × {plainly(drug)} ÷ {plainly(volume)} = {plainly(dose)} mg")
        if total > volume:
            notes.append("More ran than one syringe holds: it was changed, or a stage is wrong.")
    elif drug is not None or volume is not None:
        notes.append("No dose: it needs both the drug and the volume it was made up to.")
    return Result(tuple(answers), steps=tuple(steps), notes=tuple(notes))
