"""What several patterns found in one text, in order of place, without what overlaps."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Protocol, TypeVar


class Placed(Protocol):
    """What stands in a text from `start` to `end`."""

    @property
    def start(self) -> int:
        """Place of its first letter."""
        ...

    @property
    def end(self) -> int:
        """Place after its last letter."""
        ...


P = TypeVar("P", bound=Placed)


def apart(found: Iterable[P]) -> Iterator[P]:
    """Yield in order of place; of two that overlap the earlier, of two that begin together the longer."""
    last = 0
    for one in sorted(found, key=lambda one: (one.start, -one.end)):
        if one.start >= last:
            yield one
            last = one.end
