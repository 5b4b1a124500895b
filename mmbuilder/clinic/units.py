"""Figures with their units, read and converted by pint over our own short list of units.

A unit is never guessed: `12` of a pressure is asked about, and mL, mg and % stay apart.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from math import isfinite
from pathlib import Path
from typing import TYPE_CHECKING

from mmbuilder.clinic.faults import Fault, InputFault

if TYPE_CHECKING:
    import pint

_NUMBER = r"[+\-−]?\d+(?:[.,]\d+)*"
_AMOUNT = re.compile(rf"\s*({_NUMBER})\s*(?:(?:-|–|to)\s*({_NUMBER}))?\s*(.*?)\s*", re.DOTALL)
_TWO = re.compile(rf"\s*(\d+)\s*(st|ft|stone|feet)\s+({_NUMBER})\s*(lb|lbs|in|inches|pounds)?\s*")
_THOUSANDS = re.compile(r"[+\-−]?[1-9]\d{0,2}(?:,\d{3})+(?:\.\d+)?")
_PLAIN = re.compile(r"[+\-]?(?:\d+(?:\.\d*)?|\.\d+)")
_SMALLER = {"st": ("lb", 14), "stone": ("lb", 14), "ft": ("in", 12), "feet": ("in", 12)}
"""The unit that stands behind one, and how many of it make one."""


@dataclass(frozen=True)
class Amount:
    """A figure between `low` and `high` (equal where it is certain), in `unit`; the unit may be empty."""

    low: float
    high: float
    unit: str

    def within(self, unit: str) -> tuple[float, float]:
        """Return both ends in another unit of the same dimension.

        Raises:
            ValueError: the dimensions differ, or the unit is not known.
        """
        times = factor(self.unit, unit)
        return self.low * times, self.high * times


@cache
def registry() -> pint.UnitRegistry[float]:
    """The units, loaded when a case computes something."""
    import pint

    return pint.UnitRegistry(str(Path(__file__).with_name("units.txt")))


def number(text: str) -> float:
    """Read a figure: `1,885` is a thousand and more, `1,9` has a decimal comma.

    Raises:
        ValueError: it is no figure; what is wrong is told in words of ours, without the text.
    """
    plain = text.strip().replace("−", "-")
    plain = plain.replace(",", "" if _THOUSANDS.fullmatch(plain) else ".")
    if not _PLAIN.fullmatch(plain):  # float() would also read "inf", "nan" and "1e5"
        raise ValueError("a figure that can be read in two ways, or not at all")
    if not isfinite(value := float(plain)):
        raise ValueError("a figure that is too large")
    return value


def amount(name: str, text: str, example: str) -> Amount:
    """Read a figure with its unit, such as `96 mmHg`, `20-30 mL`, `11 st 4 lb`.

    Raises:
        InputFault: it is no figure.
    """
    if found := _TWO.fullmatch(text):
        (small, whole), more = _SMALLER[found[2]], number(found[3])
        if not same_kind(found[4] or small, small) or not 0 <= more < whole:
            wanted = f"at most {whole - 1} {small} behind the {found[2]}"
            raise InputFault(Fault(name, "two figures that do not go together", wanted, example=example))
        total = float(found[1]) * whole + more
        return Amount(total, total, small)
    found = _AMOUNT.fullmatch(text.strip().lstrip("~≈"))
    if found is None:
        raise InputFault(Fault(name, "words", "a figure with its unit", example=example))
    try:
        low, high = number(found[1]), number(found[2] or found[1])
    except ValueError as wrong:
        raise InputFault(Fault(name, str(wrong), "one figure", example=example)) from None
    if high < low:
        raise InputFault(
            Fault(name, "a range that runs backwards", "the lower figure first", example=example)
        )
    return Amount(low, high, found[3])


USUAL = frozenset({"mg", "g", "kg", "µg", "mcg", "ng", "mL", "ml", "L", "l", "mmol", "cm", "mm", "min", "h"})
"""Units that `pint` is not loaded for only to hear that they are some: it takes an eighth of a second."""


def same_kind(one: str, other: str) -> bool:
    """Whether two units measure the same thing."""
    if one == other and one in USUAL:
        return True
    try:
        factor(one, other)
    except ValueError:
        return False
    return True


@cache
def factor(given: str, wanted: str) -> float:
    """What a figure in one unit is multiplied by to be in another.

    Raises:
        ValueError: the dimensions differ, or a unit is not known.
    """
    from tokenize import TokenError

    import pint

    refused = (pint.errors.PintError, ValueError, AttributeError, SyntaxError, TypeError, ArithmeticError)
    try:
        one = registry().Quantity(1.0, _plain(given)).to(_plain(wanted)).magnitude
    except (*refused, AssertionError, KeyError, TokenError):  # what pint meets in `-`, `g^0` and `b}`
        raise ValueError("not a unit of this kind") from None
    return float(one)


def _plain(unit: str) -> str:
    """The unit as pint reads it."""
    plain = "/min" if unit.strip().casefold() == "bpm" else unit.strip()
    plain = plain.replace("per ", "/").removeprefix("beats").removeprefix("breaths").strip()
    plain = f"1{plain}" if plain.startswith("/") else plain
    return re.sub(r"(?<=[a-zµ])[²2]", "**2", plain)
