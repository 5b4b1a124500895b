"""What was found in a file that belongs to no case: kinds and places, never the text."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from mmbuilder.scrub.declared import Index
from mmbuilder.scrub.layers import Patterns
from mmbuilder.scrub.plan import Span
from mmbuilder.scrub.settle import settle
from mmbuilder.scrub.standins import lettered


@dataclass(frozen=True)
class Finding:
    """One finding.

    Attributes:
        kind: what it is.
        where: the line, cell, part and paragraph, in words.
        start, end: characters into that text; None for what is no text.
        box: left, top, right, bottom in pixels of the upright picture; None for what is no region.
    """

    kind: str
    where: str
    start: int | None = None
    end: int | None = None
    box: tuple[int, int, int, int] | None = None

    def as_dict(self) -> dict[str, str | int | list[int] | None]:
        """Plain values for JSON."""
        box = list(self.box) if self.box else None
        return {"kind": self.kind, "where": self.where, "start": self.start, "end": self.end, "box": box}


def spans_of(texts: Sequence[str], index: Index | None = None) -> list[list[Span]]:
    """Everything that may identify in the texts of one file; for each, sorted and not overlapping.

    One person has one stand-in through the whole file. A date becomes `[date]`: a loose text
    has no event to count days from.
    """
    patterns = Patterns()
    declared = [index.find(text) if index else [] for text in texts]
    found = [
        settle(text, [*named, *told])
        for text, named, told in zip(texts, declared, patterns.find(texts), strict=True)
    ]
    return lettered(texts, found, _FIRST_FREE)


_FIRST_FREE = 10_000
"""Groups from here on are of people found by title; declared ones are numbered below."""


def replaced(text: str, spans: list[Span]) -> str:
    """The text with a stand-in for every span."""
    out, place = [], 0
    for span in spans:
        out += [text[place : span.start], span.stand_in]
        place = span.end
    return "".join((*out, text[place:]))
