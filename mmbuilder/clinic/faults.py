"""What is wrong with a figure, in words; the figure itself is not repeated."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Fault:
    """One input that cannot be used.

    Attributes:
        name: the input as its measure calls it; empty for the measure as a whole.
        found: what is there, by kind.
        expected: what was expected.
        why: why it matters; may be empty.
        example: a line that would do.
    """

    name: str
    found: str
    expected: str
    why: str = ""
    example: str = ""


class InputFault(ValueError):
    """The inputs of one measure cannot be used; every fault is in `faults`."""

    def __init__(self, *faults: Fault) -> None:
        super().__init__(
            "; ".join(f"{fault.name}: {fault.found}, expected {fault.expected}" for fault in faults)
        )
        self.faults = faults
