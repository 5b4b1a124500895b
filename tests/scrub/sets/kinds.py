"""Sentences by kind, written before the rules for these kinds were; half of them, by a hash of the line, held out."""

from __future__ import annotations

from collections.abc import Iterator

from tests.scrub.sets.passages import Passage, written


def kinds() -> Iterator[Passage]:
    """Every sentence by kind, with and without identifiers."""
    for name in ("written_kinds.txt", "clean_kinds.txt"):
        yield from written(name)


def more() -> Iterator[Passage]:
    """The second batch, by hash too."""
    for name in ("written_more.txt", "clean_more.txt"):
        yield from written(name)
