"""The kinds of input a measure may ask for, each turned from what was written into plain figures.

A kind has `read(name, raw)`, which returns every value the input may have: one, or the two ends
of a range.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Protocol

from mmbuilder.clinic.faults import Fault, InputFault
from mmbuilder.clinic.measure import plainly
from mmbuilder.clinic.units import amount, factor, number, same_kind

Raw = str | Sequence[str]
"""What the author wrote: one scalar, or a list of them."""

Value = float | str | tuple["Value", ...] | None


class Kind(Protocol):
    """A kind of input."""

    @property
    def required(self) -> bool:
        """Whether the measure cannot do without it."""
        ...

    def read(self, name: str, raw: Raw) -> tuple[Value, ...]:
        """Return every value the input may have.

        Raises:
            InputFault: it cannot be used.
        """
        ...


@dataclass(frozen=True)
class Measured:
    """A figure with a unit, given to the measure in `unit`.

    Attributes:
        unit: the unit the formula is written in.
        low, high: the figures that can be, in `unit`; outside them a slip of the pen is likelier.
        also: other units and how to get from them to `unit`, for what a factor of the dimension cannot
            do (mg/dL of creatinine to µmol/L).
        bare: whether a figure without a unit is taken as in `unit`: only where there is but one unit.
        turns: figures, in `unit`, at which the formula changes: a range over one is worked out on both sides.
    """

    unit: str
    low: float = float("-inf")
    high: float = float("inf")
    also: tuple[tuple[str, Callable[[float], float]], ...] = ()
    bare: bool = False
    turns: tuple[float, ...] = ()
    required: bool = True

    def read(self, name: str, raw: Raw) -> tuple[float, ...]:
        """Return the figure, or both ends of its range, in `unit`."""
        example = f"{name}: {self._typical()} {self.unit}"
        given = amount(name, _one(name, raw, example), example)
        if not given.unit and not self.bare:
            raise InputFault(
                Fault(
                    name, "a figure without a unit", f"a figure in {self._units()}", _NEVER_GUESSED, example
                )
            )
        ends = self._converted(name, given.low, given.high, given.unit or self.unit, example)
        if ends[0] < self.low or ends[1] > self.high:
            raise InputFault(
                Fault(
                    name,
                    "a figure that cannot be",
                    f"{_span(self.low, self.high)} {self.unit}",
                    example=example,
                )
            )
        return ends if ends[0] != ends[1] else ends[:1]

    def _converted(self, name: str, low: float, high: float, unit: str, example: str) -> tuple[float, float]:
        if unit == self.unit:  # most often; loading the library of units costs more than all else here
            return low, high
        for other, convert in self.also:
            if same_kind(unit, other) and not same_kind(unit, self.unit):
                times = factor(unit, other)
                return convert(low * times), convert(high * times)
        if not same_kind(unit, self.unit):
            raise InputFault(Fault(name, "a unit of another kind", self._units(), example=example))
        times = factor(unit, self.unit)
        return low * times, high * times

    def _units(self) -> str:
        return " or ".join([self.unit, *(unit for unit, _ in self.also)])

    def _typical(self) -> str:
        middle = self.low if self.low > float("-inf") else 1.0
        return f"{(middle + self.high) / 2 if self.high < float('inf') else max(middle, 1.0):.3g}"


@dataclass(frozen=True)
class Counted:
    """A plain number without a unit, such as a score or a count."""

    low: float = 0
    high: float = float("inf")
    whole: bool = True
    required: bool = True

    def read(self, name: str, raw: Raw) -> tuple[float, ...]:
        """Return the number."""
        example = f"{name}: {self.low:g}"
        text = _one(name, raw, example)
        try:
            value = number(text)
        except ValueError:
            raise InputFault(
                Fault(name, "not a plain number", "a number without a unit", example=example)
            ) from None
        if not self.low <= value <= self.high or (self.whole and value != int(value)):
            kind = "a whole number" if self.whole else "a number"
            raise InputFault(
                Fault(
                    name, "a number that cannot be", f"{kind} {_span(self.low, self.high)}", example=example
                )
            )
        return (value,)


@dataclass(frozen=True)
class Chosen:
    """One of a closed list of words.

    Attributes:
        also: other ways to write some of them, each with the word it stands for.
    """

    words: tuple[str, ...]
    required: bool = True
    also: tuple[tuple[str, str], ...] = ()

    def read(self, name: str, raw: Raw) -> tuple[str, ...]:
        """Return the word as the list has it."""
        example = f"{name}: {self.words[0]}"
        said = " ".join(_one(name, raw, example).split()).casefold()
        for written, word in (*((word, word) for word in self.words), *self.also):
            if written.casefold() == said:
                return (word,)
        raise InputFault(
            Fault(name, "a word that is not on the list", ", ".join(self.words), example=example)
        )


@dataclass(frozen=True)
class Written:
    """Something with a notation of its own, read by a function of the measure.

    Attributes:
        reading: returns the value, or raises `ValueError` with what is wrong.
        expected: the notation, in words.
        example: a value that reads.
        shown: writes a value as it was understood, in figures and units alone; None where what was read
            may be a time of day, which is not shown.
    """

    reading: Callable[[str], Value]
    expected: str
    example: str
    required: bool = True
    shown: Callable[[Value], str] | None = None

    def read(self, name: str, raw: Raw) -> tuple[Value, ...]:
        """Return what the function reads."""
        return (self._read(name, raw),)

    def _read(self, name: str, raw: Raw) -> Value:
        example = f"{name}: {self.example}"
        text = _one(name, raw, example)
        try:
            return self.reading(text)
        except ValueError:
            raise InputFault(Fault(name, "not in its notation", self.expected, example=example)) from None


@dataclass(frozen=True)
class WrittenRange(Written):
    """A notation that may be a range: its function returns a tuple of one value, or of both ends."""

    def read(self, name: str, raw: Raw) -> tuple[Value, ...]:
        """Return one value, or both ends."""
        ends = self._read(name, raw)
        assert isinstance(ends, tuple), "a function of WrittenRange returns a tuple"
        return ends if ends[0] != ends[-1] else ends[:1]


@dataclass(frozen=True)
class Many:
    """Several of one kind: a list, or one line with commas between.

    A comma between two digits of a figure is a part of it: `1,000 mL` is one thousand.
    """

    kind: Kind
    least: int = 1
    required: bool = True

    def read(self, name: str, raw: Raw) -> tuple[tuple[Value, ...], ...]:
        """Return all of them as one value, or their lowest and highest ends as two."""
        parts = self.parts(raw)
        if len(parts) < self.least:
            raise InputFault(Fault(name, f"{len(parts)} of them", f"at least {self.least}"))
        ends = [self.kind.read(name, part) for part in parts]
        lows, highs = tuple(end[0] for end in ends), tuple(end[-1] for end in ends)
        return (lows,) if lows == highs else (lows, highs)

    def parts(self, raw: Raw) -> list[str]:
        """Return each of them as it was written."""
        if not isinstance(raw, str):
            return list(raw)
        figures = isinstance(self.kind, Measured | Counted)
        comma = r";|,\s|(?<!\d),|,(?!\d)" if figures else r"[;,]"
        return [part for part in re.split(comma, raw) if part.strip()]


def minutes(text: str) -> float:
    """Read a clock time as minutes from midnight: `9:30`, `0930`, `21:05`.

    Raises:
        ValueError: it is none.
    """
    found = re.fullmatch(r"\s*(\d{1,2})[:.h]?(\d{2})\s*(?:h|hrs?)?\s*", text)
    if found is None or int(found[1]) > 23 or int(found[2]) > 59:
        raise ValueError("not a time of day")
    return int(found[1]) * 60.0 + int(found[2])


def stretch(text: str) -> tuple[float, float]:
    """Read two clock times, as minutes from midnight; an end before the start is on the next day.

    Raises:
        ValueError: it is no stretch of time.
    """
    ends = re.split(r"\s*(?:-|–|→|to)\s*", text.strip())
    if len(ends) != 2:
        raise ValueError("not two times of day")
    start, end = minutes(ends[0]), minutes(ends[1])
    return start, end if end >= start else end + 24 * 60


def not_backwards(name: str, length: float, hours: float, example: str) -> None:
    """Refuse a time over midnight that is likelier two times of day the wrong way round.

    Args:
        name: of the input.
        length: minutes from the first time to the second.
        hours: the longest that is plausible; ours, of common practice.
        example: a value that would do.

    Raises:
        InputFault: it is longer.
    """
    if length > hours * 60:
        raise InputFault(
            Fault(
                name,
                f"an end before its start, or more than {hours:g} hours after it",
                f"the earlier time first, at most {hours:g} hours before the later; over midnight is fine",
                "the other way round, the minutes of nearly a whole day would be counted",
                f"{name}: {example}",
            )
        )


SEX_WRITTEN = (("m", "male"), ("f", "female"))
TIME = Written(minutes, "a time of day", "14:05")
STRETCH = Written(stretch, "two times of day", "11:15-12:52")

_NEVER_GUESSED = "a unit is never guessed: the same figure in another unit is another dose"


def _one(name: str, raw: Raw, example: str) -> str:
    if isinstance(raw, str):
        return raw
    if len(raw) == 1:
        return raw[0]
    raise InputFault(Fault(name, "a list", "one figure", example=example))


def _span(low: float, high: float) -> str:
    if high == float("inf"):
        return f"of {plainly(low)} or more"
    if low == float("-inf"):
        return f"of {plainly(high)} or less"
    return f"from {plainly(low)} to {plainly(high)}"
