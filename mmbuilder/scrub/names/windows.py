"""Cut long texts into overlapping windows, and put windows of like length into one batch.

A piece seen by two windows is judged by the one in which it stands further from the edge, so that a
name on a border is still read with words on both sides.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

LENGTH = 126  # pieces; with the opening and closing mark 128. The model allows 512 but was used on short text
OVERLAP = 32
BATCH = 1024  # padded pieces computed at once: bounds memory


@dataclass(frozen=True, slots=True)
class Window:
    """Pieces `start` to `end` of text number `text`; those from `first` to `last` are judged here."""

    text: int
    start: int
    end: int
    first: int
    last: int


def cut(text: int, count: int) -> Iterator[Window]:
    """Windows over a text of `count` pieces; every piece is judged exactly once."""
    start = first = 0
    while first < count:
        end = min(start + LENGTH, count)
        last = count if end == count else end - OVERLAP // 2
        yield Window(text, start, end, first, last)
        start, first = end - OVERLAP, last


def batches(windows: Iterable[Window]) -> Iterator[Sequence[Window]]:
    """Windows in groups of like length, none larger than `BATCH` padded pieces."""
    group: list[Window] = []
    for window in sorted(windows, key=lambda w: w.end - w.start):
        if group and (window.end - window.start + 2) * (len(group) + 1) > BATCH:
            yield group
            group = []
        group.append(window)
    if group:
        yield group
