"""What a file under `measures/` holds, and what it gives back.

NAME      what the author writes to ask for it, in the trade's words: "mean arterial pressure"
INPUTS    its inputs by the name the author writes, each of a kind of `inputs`
FORMULA   in words and signs, as it is shown beside the result
SOURCE    where the formula was published, or "common practice, no source", or "from memory: ..."
CAUTION   what a reader must know before using the number
EXAMPLES  worked examples with what must come out, each with its own source
work      a pure function of the inputs, by their names with `_` for spaces, in the units of INPUTS
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

MOST_DIGITS = 12
REVIEW_ONLY = "For review of a past case; not for treatment."


@dataclass(frozen=True)
class Answer:
    """One number that came out.

    Attributes:
        label: what it is, in our words; empty where the measure has but one.
        value: lowest and highest; equal where every input was certain.
        unit: as it is printed; may be empty.
        digits: decimals to print.
        words: printed in place of the number, such as "stage 1" or "not defined"; `value` is then their
            place in their order, or 0 where they have none.
        signed: what is above 0 is printed with its sign too.
    """

    label: str
    value: tuple[float, float]
    unit: str = ""
    digits: int = 0
    words: str = ""
    signed: bool = False

    def __str__(self) -> str:
        return f"{self.label}: {self.figure()}" if self.label else self.figure()

    def figure(self) -> str:
        """The number with its unit, as printed; a range as `20 to 60 min`."""
        if self.words:
            return self.words
        low, high = (_printed(end, self.digits, signed=self.signed) for end in self.value)
        said = low if low == high else f"{low} to {high}"
        return f"{said}{'' if self.unit in ('', '%') else ' '}{self.unit}"


@dataclass(frozen=True)
class Result:
    """What a measure gives back.

    Attributes:
        answers: numbers that hold.
        disputed: for what sources do not agree on: the same number by each convention, named in its label.
        steps: the working, a line a step, with figures in.
        notes: what a reader should know of this result.
    """

    answers: tuple[Answer, ...]
    disputed: tuple[Answer, ...] = ()
    steps: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


@dataclass(frozen=True)
class Worked(Result):
    """A result with what it came from: everything a reader needs to do it again.

    Attributes:
        name: of the measure.
        inputs: each as it was understood, in the unit of the formula.
        formula, source, caution: of the measure.
    """

    name: str = ""
    inputs: tuple[tuple[str, str], ...] = ()
    formula: str = ""
    source: str = ""
    caution: str = REVIEW_ONLY


@dataclass(frozen=True)
class Example:
    """A worked example: what goes in, what must be printed, and who says so."""

    given: Mapping[str, str | Sequence[str]]
    printed: tuple[str, ...]
    source: str
    disputed: tuple[str, ...] = ()


def one(value: float, unit: str = "", digits: int = 0, label: str = "") -> Answer:
    """An answer that is certain."""
    return Answer(label, (value, value), unit, digits)


def said(words: str, label: str = "", place: float = 0.0) -> Answer:
    """An answer in words; those with an order say their place in it."""
    return Answer(label, (place, place), words=words)


def places(value: float, least: int) -> int:
    """The decimals that keep a figure within 1 % of itself, `least` or more: a weak strength is not 0.000."""
    digits = least
    while digits < MOST_DIGITS and abs(round(value, digits) - value) > abs(value) / 100:
        digits += 1
    return digits


def in_full(value: float, figures: int) -> str:
    """A figure to so many significant ones, never with an exponent: it may be read again as an input."""
    return f"{Decimal(f'{value:.{figures}g}'):f}"


def plainly(value: float) -> str:
    """A figure as a reader has it: thousands apart, whole ones in full, else six significant; no exponent."""
    told = f"{int(value):,}" if float(value).is_integer() else f"{Decimal(f'{value:.6g}'):,f}"
    return told.replace("-", "−")


def _printed(value: float, digits: int, *, signed: bool = False) -> str:
    rounded = float(f"{value:.{digits}f}") + 0.0  # no "-0"
    plus = "+" if signed and rounded > 0 else ""
    return plus + f"{rounded:,.{digits}f}".replace("-", "−")
