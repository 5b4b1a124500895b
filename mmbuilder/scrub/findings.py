"""What was found in a file that belongs to no case: kinds and places, never the text."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from mmbuilder.scrub.declared import Index
from mmbuilder.scrub.plan import Span

Look = Callable[[Sequence[str]], Sequence[Sequence[Span]]]
"""What finds the identifiers in texts: `spans_of` with an index, or the memory of a whole file."""


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
    from mmbuilder.case.identifiers import Declared
    from mmbuilder.scrub.propose import in_texts

    return in_texts(texts, index or Index(Declared()))


def replaced(text: str, spans: list[Span]) -> str:
    """The text with a stand-in for every span."""
    out, place = [], 0
    for span in spans:
        out += [text[place : span.start], span.stand_in]
        place = span.end
    return "".join((*out, text[place:]))
