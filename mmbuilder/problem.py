"""One fault in a case folder, told so that the person who wrote it can mend it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict, dataclass
from enum import StrEnum


class Severity(StrEnum):
    """Whether a fault keeps the deck from being built."""

    STOP = "stop"
    WARN = "warn"


@dataclass(frozen=True, order=True)
class Problem:
    """A located fault. Sorts by file, then line, then column.

    `line` and `column` count from 1; 0 means the file as a whole. No field may hold
    free text from the case: `quote` is for keys, closed words and clock times only.
    """

    file: str
    line: int
    column: int
    code: str
    text: str
    found: str = ""
    expected: str = ""
    why: str = ""
    example: str = ""
    quote: str = ""
    severity: Severity = Severity.STOP

    @property
    def stops(self) -> bool:
        """Whether the build must not go on."""
        return self.severity is Severity.STOP

    @property
    def place(self) -> str:
        """`file:line:column`, as editors and terminals link it."""
        return f"{self.file}:{self.line}:{self.column}" if self.line else self.file


def as_text(problem: Problem) -> str:
    """Tell a problem in beats: place, their words, found, expected, why, example."""
    lines = [f"{problem.place}: {problem.text}  [{problem.code}]"]
    beats = (
        ("your line", problem.quote),
        ("found", problem.found),
        ("expected", problem.expected),
        ("why", problem.why),
        ("write", problem.example),
    )
    for name, value in beats:
        if value:
            first, *rest = value.splitlines()
            lines.append(f"  {name:<9} {first}")
            lines.extend(f"  {'':<9} {line}" for line in rest)
    return "\n".join(lines)


def as_github(problem: Problem) -> str:
    """One workflow-annotation line; line breaks and percent signs escaped as that format asks."""
    level = "error" if problem.stops else "warning"
    body = "; ".join(
        filter(None, (problem.text, problem.found and f"found {problem.found}", problem.expected))
    )
    where = f"file={_property(problem.file)},line={max(problem.line, 1)},col={max(problem.column, 1)}"
    return f"::{level} {where},title={_property(problem.code)}::{_data(body)}"


def as_dict(problem: Problem) -> dict[str, str | int]:
    """Plain values for JSON."""
    return asdict(problem) | {"severity": problem.severity.value}


def tally(problems: Iterable[Problem]) -> tuple[int, int]:
    """(stops, warnings)."""
    kinds = [problem.stops for problem in problems]
    return sum(kinds), len(kinds) - sum(kinds)


def _data(text: str) -> str:
    return text.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _property(text: str) -> str:
    return _data(text).replace(":", "%3A").replace(",", "%2C")
