"""All that was given of one drug; where two records of a dose conflict, both totals and no choice."""

from __future__ import annotations

import re
from itertools import product
from typing import NamedTuple

from mmbuilder.clinic.faults import Fault, InputFault
from mmbuilder.clinic.inputs import Many, Value, Written
from mmbuilder.clinic.measure import REVIEW_ONLY, Answer, Example, Result, in_full, one
from mmbuilder.clinic.units import Amount, amount, same_kind

NAME = "cumulative dose"
FORMULA = "sum of (number × dose); a dose that two records tell differently makes two totals"
SOURCE = "common practice, no source"
CAUTION = (
    "Of one drug. Chart, pump and ampoules may each be wrong; say which record said what, and leave "
    f"a conflict open until somebody settles it. {REVIEW_ONLY}"
)
KINDS = ("mg", "U", "mL", "mmol")
"""What a dose may be an amount of: not a rate, and not a dose for each kilogram."""
CONFLICTS = 6
"""Conflicting entries at once: every combination is worked out."""
ENTRY = "3 x 0.1 mg"
_OR = re.compile(r"\s+or\s+")
_NUMBER = re.compile(r"(\d{1,3})\s*[x×*]\s*")


class Told(NamedTuple):
    """One way an entry may be read: so many doses of so much."""

    number: int
    size: float
    unit: str


def entry(text: str) -> Value:
    """Read `0.1 mg`, `3 x 0.1 mg`, or what conflicts as `0.1 mg or 1 mg`; return it in one notation.

    Raises:
        ValueError: it is none, a dose has no unit, or it is not said of which dose the number is.
    """
    told = ways(text)
    if any(not same_kind(way.unit, told[0].unit) for way in told):
        raise ValueError("two kinds of unit in one entry")
    if len({bool(_NUMBER.match(part)) for part in _OR.split(text.strip())}) > 1:
        raise ValueError("3 x 0.1 mg or 1 mg: of one dose, or of all three?")
    return " or ".join(f"{way.number} x {in_full(way.size, 12)} {way.unit}" for way in told)


def ways(text: str) -> tuple[Told, ...]:
    """Return every way an entry may be read.

    Raises:
        ValueError: one of them is no dose with its unit.
    """
    return tuple(_one(part) for part in _OR.split(text.strip()))


def _one(text: str) -> Told:
    number = _NUMBER.match(text)
    dose = amount("", text[number.end() :] if number else text, ENTRY)
    if dose.low != dose.high or dose.low < 0 or not any(same_kind(dose.unit, kind) for kind in KINDS):
        raise ValueError("not one dose with its unit")
    return Told(int(number[1]) if number else 1, dose.low, dose.unit)


INPUTS = {
    "entries": Many(
        Written(
            entry,
            "a dose with its unit, such as 0.1 mg or 3 x 0.1 mg; where two records conflict, both with "
            "their unit and 'or' between, in an entry of its own",
            ENTRY,
            shown=str,
        )
    )
}
_WORKED = "worked example; common practice, no source"
EXAMPLES = (
    Example(
        {"entries": ["2 x 0.1 mg", "0.1 mg or 1 mg"]},
        (),
        _WORKED,
        ("unresolved, lowest: 0.3 mg", "unresolved, highest: 1.2 mg"),
    ),
    Example({"entries": "3 x 0.1 mg"}, ("0.3 mg",), _WORKED),
    Example({"entries": ["100 µg", "0.05 mg", "2 x 25 mcg"]}, ("200 µg",), "0.1 + 0.05 + 0.05 mg, computed"),
    Example(
        {"entries": ["1 mg or 1000 µg", "0.5 mg"]}, ("1.5 mg",), "the same dose in two units: no conflict"
    ),
    Example(
        {"entries": ["5 mg or 50 mg", "1 mg or 2 mg"]},
        (),
        "5 + 1 and 50 + 2, computed",
        ("unresolved, lowest: 6 mg", "unresolved, highest: 52 mg"),
    ),
    Example(
        {"entries": ["0.00005 mg", "0.0001 mg"]}, ("0.00015 mg",), "computed; a figure below a ten-thousandth"
    ),
)


def work(entries: tuple[str, ...]) -> Result:
    """Return the total in the unit of the first entry, or the lowest and highest where records conflict."""
    read = [ways(text) for text in entries]
    unit = read[0][0].unit
    if any(not same_kind(told[0].unit, unit) for told in read):
        raise InputFault(
            Fault(
                "entries",
                "units of more than one kind",
                "one drug, in units that add up",
                example=f"entries: {ENTRY}",
            )
        )
    doses = [tuple(dict.fromkeys(_within(way, unit) for way in told)) for told in read]
    conflicts = sum(len(made) > 1 for made in doses)
    if conflicts > CONFLICTS:
        raise InputFault(Fault("entries", f"{conflicts} that conflict", f"at most {CONFLICTS} at once"))
    totals = sorted({round(sum(made), 9) for made in product(*doses)})
    steps = tuple(
        f"{text} = {' or '.join(in_full(dose, 6) for dose in made)} {unit}"
        for text, made in zip(entries, doses, strict=True)
    )
    if len(totals) == 1:
        return Result((_total(totals[0], totals, unit),), steps=steps)
    return Result(
        (),
        (
            _total(totals[0], totals, unit, "unresolved, lowest"),
            _total(totals[-1], totals, unit, "unresolved, highest"),
        ),
        steps=steps,
        notes=(f"Records conflict; {len(totals)} totals are possible and none is chosen.",),
    )


def _within(way: Told, unit: str) -> float:
    """The whole of an entry in the unit of the answer; rounded, so that 1 mg and 1,000 µg are one dose."""
    return round(way.number * Amount(way.size, way.size, way.unit).within(unit)[0], 9)


def _total(value: float, totals: list[float], unit: str, label: str = "") -> Answer:
    """A total, with as many decimals as the finest of the totals needs."""
    digits = next((places for places in range(9) if all(round(one, places) == one for one in totals)), 9)
    return one(value, unit, digits, label)
