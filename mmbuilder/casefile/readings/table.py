"""What one pass through a readings file gives."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

from mmbuilder.case.model import ReadingLine


@dataclass
class Column:
    """A column as it is read: (seconds, value) with what was left out.

    Attributes:
        unread: lines whose cell is no number.
        two_ways: lines whose comma may part thousands; `decimal` once one of the column cannot.
    """

    line: ReadingLine
    position: int
    points: list[tuple[float, float]] = field(default_factory=list)
    dropped: int = 0
    missing: int = 0
    unread: list[int] = field(default_factory=list)
    two_ways: list[int] = field(default_factory=list)
    decimal: bool = False


@dataclass
class Table:
    """All that one pass through a file gives. Times in seconds from midnight of its first day."""

    columns: list[Column]
    elapsed: bool
    unit: int | None = None
    day: int | date | None = None
    day_zero: date | None = None
    times: list[float] = field(default_factory=list)
    lines: list[int] = field(default_factory=list)
    short: list[int] = field(default_factory=list)
    long: list[int] = field(default_factory=list)
