"""Where things stand in a file, and the form in which a fault is first told."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple, TypeAlias

from mmbuilder.case.freetext import Path, Scalar
from mmbuilder.problem import Problem, Severity

Tree: TypeAlias = "dict[str, Tree] | list[Tree] | Scalar"
"""A file as read: keys in their plain form, every value as text."""


class Mark(NamedTuple):
    """A place in a file, from 1; line 0 is the file as a whole."""

    line: int
    column: int


START = Mark(0, 0)


@dataclass(frozen=True)
class Finding:
    """A fault with its place in the case, before the place is turned into a line.

    Attributes:
        path: the value at fault, or the part it is missing from.
        why: why it matters; the rule's own `WHY` where empty.
        at_key: points at the key rather than at the value.
    """

    path: Path
    text: str
    found: str = ""
    expected: str = ""
    example: str = ""
    why: str = ""
    quote: str = ""
    severity: Severity = Severity.STOP
    at_key: bool = False

    def problem(self, file: str, mark: Mark, code: str, why: str = "") -> Problem:
        """Return the fault as it is told: in `file`, at `mark`."""
        return Problem(
            file,
            mark.line,
            mark.column,
            code,
            self.text,
            self.found,
            self.expected,
            self.why or why,
            self.example,
            self.quote,
            self.severity,
        )
