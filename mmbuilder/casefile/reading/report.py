"""The list of faults of one file; the same fault on a hundred lines is told ten times and counted."""

from __future__ import annotations

from collections import Counter

from mmbuilder.casefile.mark import START, Mark
from mmbuilder.problem import Problem, Severity

MOST = 10
"""How often a fault of one kind is told in full."""


class Report:
    """Faults of one file as they are found."""

    def __init__(self, file: str) -> None:
        self.file = file
        self._problems: list[Problem] = []
        self._count: Counter[str] = Counter()

    def tell(
        self,
        mark: Mark,
        code: str,
        text: str,
        *,
        found: str = "",
        expected: str = "",
        why: str = "",
        example: str = "",
        quote: str = "",
        severity: Severity = Severity.STOP,
    ) -> None:
        """Add a fault, unless its kind has been told often enough."""
        self._count[code] += 1
        if self._count[code] <= MOST:
            self._problems.append(
                Problem(self.file, *mark, code, text, found, expected, why, example, quote, severity)
            )

    def has(self, code: str) -> bool:
        """Whether a fault of this kind was found."""
        return code in self._count

    def problems(self) -> tuple[Problem, ...]:
        """Return all of them, with a line for each kind that was cut short."""
        cut = (
            Problem(self.file, *START, code, f"the same on {count - MOST} more lines, not listed one by one")
            for code, count in sorted(self._count.items())
            if count > MOST
        )
        return (*self._problems, *cut)
