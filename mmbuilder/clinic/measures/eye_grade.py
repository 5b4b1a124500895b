"""Is a grade of the front of the eye, or of the lens, one that its scale has?"""

from __future__ import annotations

import re

from mmbuilder.clinic.faults import Fault, InputFault
from mmbuilder.clinic.inputs import Chosen, Value, Written
from mmbuilder.clinic.measure import REVIEW_ONLY, Example, Result, said

NAME = "eye grade"
FORMULA = "the grades that each named scale has"
SOURCE = (
    "SUN: Jabs DA and others, Am J Ophthalmol 2005;140:509-516, as reprinted in a Cochrane protocol; Shaffer "
    "and van Herick as printed in texts; Efron as its publisher states; Oxford: 0 to 5 for each panel, as "
    "printed; from memory: LOCS III 0.1 to 6.9 and 0.1 to 5.9 (Chylack 1993), Emery and Little I to V"
)
CAUTION = (
    "Name the scale with the grade: 2 means another thing on each. Whether the grade is right, only who "
    f"looked can say. {REVIEW_ONLY}"
)


def _tenths(first: int, last: int) -> tuple[str, ...]:
    """Every grade in tenths, from `first` to `last` tenths."""
    return tuple(f"{tenth / 10:.1f}" for tenth in range(first, last + 1))


_WHOLE = ("0", "1", "2", "3", "4")
_PLUS = ("1+", "2+", "3+", "4+")
SCALES = {
    "LOCS III nuclear opalescence": _tenths(1, 69),
    "LOCS III nuclear colour": _tenths(1, 69),
    "LOCS III cortical": _tenths(1, 59),
    "LOCS III posterior subcapsular": _tenths(1, 59),
    "Emery-Little": ("I", "II", "III", "IV", "V"),
    "Efron": _tenths(0, 40),
    "Oxford": (*_WHOLE, "5"),
    "Shaffer": _WHOLE,
    "van Herick": _WHOLE,
    "SUN cells": ("0", "0.5+", *_PLUS),
    "SUN flare": ("0", *_PLUS),
}
TOLERANCE = {
    "LOCS III nuclear opalescence": 0.7,
    "LOCS III nuclear colour": 0.7,
    "LOCS III cortical": 0.5,
    "LOCS III posterior subcapsular": 1.0,
}
"""95 % tolerance limits: Chylack LT and others, Arch Ophthalmol 1993;111:831-836, abstract."""


def grade(text: str) -> Value:
    """Read a grade as it is written: `3.5`, `0.5+`, `IV`.

    Raises:
        ValueError: it is neither a figure nor a Roman figure.
    """
    plain = "".join(text.split()).upper().replace(",", ".")
    if not re.fullmatch(r"\d{1,3}(?:\.\d{1,2})?\+?|[IV]{1,4}", plain):
        raise ValueError("not a grade")
    return plain


INPUTS = {
    "scale": Chosen(tuple(SCALES)),
    "grade": Written(grade, "a figure such as 3.5, 0.5+ or IV", "2", shown=str),
}


def _on(scale: str, grade: str, told: str, source: str) -> Example:
    return Example({"scale": scale, "grade": grade}, (f"{scale} {told}: within the scale",), source)


_SUN = "SUN tables as reprinted in a Cochrane protocol"
_MEMORY = "from memory: ends of the scale"
EXAMPLES = (
    _on("LOCS III cortical", "5.9", "5.9 (0.1 to 5.9)", _MEMORY),
    _on("LOCS III nuclear opalescence", "6.9", "6.9 (0.1 to 6.9)", _MEMORY),
    _on("LOCS III nuclear colour", "3", "3.0 (0.1 to 6.9)", _MEMORY),
    _on("Emery-Little", "v", "V (I, II, III, IV, V)", _MEMORY),
    _on("Efron", "4", "4.0 (0.0 to 4.0)", "the scales run from 0 to 4: their publisher; tenths from memory"),
    _on("Oxford", "5", "5 (0, 1, 2, 3, 4, 5)", "0 to 5 for each panel, as printed"),
    _on("van Herick", "0", "0 (0, 1, 2, 3, 4)", "grades 0 to 4 as printed in a text"),
    _on("SUN cells", "0.5+", "0.5+ (0, 0.5+, 1+, 2+, 3+, 4+)", _SUN),
    _on("SUN flare", "4", "4+ (0, 1+, 2+, 3+, 4+)", _SUN),
)


def work(scale: str, grade: str) -> Result:
    """Return that the grade is on the scale, with what the scale has.

    Raises:
        InputFault: the scale has no such grade.
    """
    found = next((one for one in SCALES[scale] if grade in _same(one)), None)
    if found is None:
        raise InputFault(
            Fault(
                "grade",
                "a grade that is not on the scale",
                f"one that {scale} has: {_range(scale)}",
                "a grade off its scale cannot be compared",
                f"grade: {SCALES[scale][1]}",
            )
        )
    notes: tuple[str, ...] = ()
    if scale in TOLERANCE:
        notes = (
            f"Two gradings within {TOLERANCE[scale]:g} of each other may be the same lens (95 % tolerance).",
        )
    return Result((said("within the scale", f"{scale} {found} ({_range(scale)})"),), notes=notes)


def _same(one: str) -> set[str]:
    """Ways to write one grade of a scale: 3 for 3.0, and 1 for 1+ where the scale has no other 1."""
    return {one, one.removesuffix("+"), one.removesuffix(".0")}


def _range(scale: str) -> str:
    grades = SCALES[scale]
    return ", ".join(grades) if len(grades) < 10 else f"{grades[0]} to {grades[-1]}"
