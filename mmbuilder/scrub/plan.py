"""What is to be removed: places and decisions, never the text itself.

A plan can be saved beside the case, read by the person who reviews it, and applied again.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from mmbuilder.case.freetext import Path


class Decision(StrEnum):
    """What is to be done with a finding."""

    REPLACE = "replace"
    KEEP = "keep"


class Layer(StrEnum):
    """What found it."""

    DECLARED = "declared"
    PATTERN = "pattern"
    MODEL = "model"
    MEMORY = "memory"
    AUTHOR = "author"


@dataclass(frozen=True, order=True)
class Span:
    """A stretch of one text that may identify somebody.

    Attributes:
        start, end: offsets into the text, end not included.
        kind: the detector's KIND, such as "phone number".
        letter: identifier class of 45 CFR 164.514(b)(2)(i), "A" to "R".
        stand_in: words to put in its place; safe by construction.
        confidence: 0 to 1; orders overlapping findings and what the reviewer sees first.
        group: number of the person, place or thing it names; one group, one stand-in.
    """

    start: int
    end: int
    kind: str
    letter: str
    stand_in: str
    confidence: float
    layer: Layer = Layer.PATTERN
    group: int | None = None
    decision: Decision = Decision.REPLACE
    reason: str = ""


@dataclass(frozen=True, order=True)
class PixelBox:
    """A rectangle of a picture, in pixels of the upright original; right and bottom not included."""

    left: int
    top: int
    right: int
    bottom: int
    kind: str = "drawn by the author"
    layer: Layer = Layer.AUTHOR
    decision: Decision = Decision.REPLACE
    reason: str = ""


@dataclass(frozen=True)
class RedactionPlan:
    """Every finding of one case.

    Attributes:
        texts: spans by the place of their text (`FreeText.path`), sorted, not overlapping.
        images: boxes by the number of their frame, from 1.
        detectors: names of the detectors that ran, so that a missing one shows.
        unchecked: what nothing looked at, in words for the report.
        reviewed_by: role of the person who reviewed it; empty means DRAFT.
        case: hash of the case it was made for; it fits no other.
    """

    texts: Mapping[Path, tuple[Span, ...]] = field(default_factory=dict)
    images: Mapping[int, tuple[PixelBox, ...]] = field(default_factory=dict)
    detectors: tuple[str, ...] = ()
    unchecked: tuple[str, ...] = ()
    reviewed_by: str = ""
    case: str = ""

    @property
    def draft(self) -> bool:
        """Whether nobody has reviewed it yet."""
        return not self.reviewed_by

    def counts(self) -> dict[str, int]:
        """Number of replacements by kind, for the report."""
        found: dict[str, int] = {}
        items: list[Span | PixelBox] = [span for spans in self.texts.values() for span in spans]
        items += [box for boxes in self.images.values() for box in boxes]
        for item in items:
            if item.decision is Decision.REPLACE:
                found[item.kind] = found.get(item.kind, 0) + 1
        return dict(sorted(found.items()))
