"""The layers of finders over the declared list, and their sockets.

A judge that learned plugs in as a `Finder` (`scrub.judged`), a memory
of the whole document as a `Memory` (`scrub.memory`). Their null versions are real: they look at
nothing, and say so in the report.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Sequence
from types import ModuleType
from typing import Protocol, runtime_checkable

from mmbuilder.errors import MMBuilderError
from mmbuilder.registry import discover
from mmbuilder.scrub.plan import Span
from mmbuilder.scrub.read_before import ReadBefore
from mmbuilder.scrub.words import word_set

Found = Sequence[Sequence[Span]]
"""For each text, what was found in it."""


class Finder(Protocol):
    """Something that looks for identifiers in texts it is given all at once."""

    name: str
    unchecked: tuple[str, ...]
    """What it leaves unlooked for, in words for the report."""

    def find(self, texts: Sequence[str]) -> Found:
        """Return the findings for each text, in the order given; offsets into that text."""
        ...


@runtime_checkable
class Informed(Finder, Protocol):
    """A finder that need not look where others have found something already."""

    def find_beside(self, texts: Sequence[str], found: Found) -> Found:
        """Return the findings for each text beside those that are given."""
        ...


class Memory(Protocol):
    """Something that looks again, everywhere, for what was found anywhere."""

    name: str
    unchecked: tuple[str, ...]

    def find(self, texts: Sequence[str], found: Found) -> Found:
        """Return more findings for each text."""
        ...


class NoNameModel:
    """A model that reads nothing."""

    name: str = "name model: none"
    unchecked: tuple[str, ...] = ("names that nobody declared and that stand without a title",)

    def find(self, texts: Sequence[str]) -> Found:
        """Return no finding for any text."""
        return [()] * len(texts)


class NoMemory:
    """A memory that keeps nothing."""

    name: str = "document memory: none"
    unchecked: tuple[str, ...] = (
        "a name found by its title in one sentence, where it stands without the title in another",
    )

    def find(self, texts: Sequence[str], found: Found) -> Found:
        """Return no finding for any text."""
        return [()] * len(texts)


REQUIRED = ("KIND", "LETTER", "SOURCE", "EXAMPLES", "NEAR_MISSES", "find")
"""What a detector's file must hold."""


NEEDS_FIGURE = word_set(
    """
    account_number announced_number bed device_serial donation_number fax gs1 health_plan licence_number medicare_au
    national_number nhi npi nric numbered_ward odd_number phone process_run record_number vehicle
    """
)
"""Detectors each of whose patterns holds a figure (a test takes the patterns apart): not asked about a text without one."""
_FIGURE = re.compile(r"\d")


def detectors() -> dict[str, ModuleType]:
    """Every pattern detector there is, by name."""
    return discover("mmbuilder.scrub.detectors", *REQUIRED)


class Patterns:
    """All pattern detectors as one layer; what it has read it does not read again."""

    unchecked: tuple[str, ...] = ()

    def __init__(self) -> None:
        self._leaves = detectors()
        self.name = "patterns"
        self.names = tuple(self._leaves)
        self._read = ReadBefore[str, tuple[Span, ...]](self._each)

    def find(self, texts: Sequence[str]) -> Found:
        """Return what the detectors found.

        Raises:
            MMBuilderError: a detector failed; it is named, and what it read is not.
        """
        found = self._read.of(texts)
        return [found[text] for text in texts]

    def _each(self, texts: Collection[str]) -> Iterator[tuple[Span, ...]]:
        return (tuple(self._in_one(text)) for text in texts)

    def _in_one(self, text: str) -> Iterator[Span]:
        figures = _FIGURE.search(text) is not None
        for name, leaf in self._leaves.items():
            if figures or name not in NEEDS_FIGURE:
                yield from _guarded(name, leaf, text)


def _guarded(name: str, leaf: ModuleType, text: str) -> list[Span]:
    """Run one detector; a failure is never "found nothing"."""
    try:
        return list(leaf.find(text))
    except Exception as fault:
        kind = type(fault).__name__
    # Outside the handler: the first error's message may hold the text, and must not be chained.
    raise MMBuilderError(f"the detector {name} failed ({kind}), so nothing was built; please report this")
