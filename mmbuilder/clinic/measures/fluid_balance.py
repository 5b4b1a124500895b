"""Fluid in less fluid out, of one period and running on from the one before."""

from __future__ import annotations

from dataclasses import replace

from mmbuilder.clinic.inputs import Many, Measured
from mmbuilder.clinic.measure import REVIEW_ONLY, Answer, Example, Result, one, plainly

NAME = "fluid balance"
FORMULA = "all that went in − all that came out; running: that + the balance before"
SOURCE = "common practice, no source"
CAUTION = f"Insensible loss is not in it. Name the period; a part of a day is no day. {REVIEW_ONLY}"
INPUTS = {
    "in": Many(Measured("mL", 0, 100_000)),
    "out": Many(Measured("mL", 0, 100_000)),
    "balance before": Measured("mL", -50_000, 50_000, required=False),
    "over": Measured("h", 0.1, 240, required=False),
}
DAY = 24
EXAMPLES = (
    Example(
        {"in": "4200 mL", "out": "1650 mL"}, ("+2,550 mL",), "worked example; common practice, no source"
    ),
    Example({"in": ["1 L", "500 mL"], "out": ["1.2 L", "0.4 L"]}, ("−100 mL",), "computed"),
    Example({"in": "1,000 mL,500 mL", "out": "1.2 L; 400 mL"}, ("−100 mL",), "the same in one line"),
    Example(
        {"in": "4200 mL", "out": "1650 mL", "balance before": "-800 mL", "over": "24 h"},
        ("of this period: +2,550 mL", "running: +1,750 mL"),
        "worked example, running on; computed",
    ),
    Example({"in": "1 L", "out": "1 L", "over": "8 h"}, ("0 mL",), "a part of a day, said in a note"),
)


def work(balance_before: float | None, over: float | None, **flows: tuple[float, ...]) -> Result:
    """Return the balance in mL, running on if the one before is given; more out than in is negative."""
    gained, lost = sum(flows["in"]), sum(flows["out"])
    balance = gained - lost
    steps = [f"{gained:,.0f} − {lost:,.0f} = {_told(balance)} mL"]
    answers = [_signed(balance, "of this period" if balance_before is not None else "")]
    if balance_before is not None:
        answers.append(_signed(balance_before + balance, "running"))
        steps.append(f"{_told(balance_before)} + {_told(balance)} = {_told(balance_before + balance)} mL")
    part = over is not None and over < DAY
    notes = (f"Of {plainly(over)} h: a part of a day.",) if over is not None and part else ()
    return Result(tuple(answers), steps=tuple(steps), notes=notes)


def _signed(value: float, label: str) -> Answer:
    return replace(one(value, "mL", 0, label), signed=True)


def _told(value: float) -> str:
    return f"{value:,.0f}".replace("-", "−")
