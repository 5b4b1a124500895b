"""What was found in a file that belongs to no case: kinds and places, never the text."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from mmbuilder.scrub.plan import Decision, PixelBox, Span

Look = Callable[[Sequence[str]], Sequence[Sequence[Span]]]
"""What finds the identifiers in texts: for each, sorted and not overlapping."""


@dataclass(frozen=True)
class Finding:
    """One finding.

    Attributes:
        kind: what it is.
        where: the line, cell, part and paragraph, in words.
        start, end: characters into that text; None for what is no text.
        box: left, top, right, bottom in pixels of the upright picture; None for what is no region.
        layer: what found it; empty where that says nothing (metadata, a part of a file).
        confidence: 0 to 1; None where no such figure exists.
        kept: why it was left in; empty where it was replaced, covered or dropped.
    """

    kind: str
    where: str
    start: int | None = None
    end: int | None = None
    box: tuple[int, int, int, int] | None = None
    layer: str = ""
    confidence: float | None = None
    kept: str = ""

    def as_dict(self) -> dict[str, str | int | float | list[int] | None]:
        """Plain values for JSON."""
        box = list(self.box) if self.box else None
        told = {"kind": self.kind, "where": self.where, "start": self.start, "end": self.end, "box": box}
        return told | {"layer": self.layer, "confidence": self.confidence, "kept": self.kept}


NO_REASON = "no reason was given"


def of_span(span: Span, where: str) -> Finding:
    """A stretch of text as a finding."""
    return Finding(
        span.kind, where, span.start, span.end, None, span.layer.value, span.confidence, _kept(span)
    )


def of_box(box: PixelBox, where: str) -> Finding:
    """A region of a picture as a finding."""
    area = (box.left, box.top, box.right, box.bottom)
    return Finding(box.kind, where, box=area, layer=box.layer.value, kept=_kept(box))


def parted(findings: Iterable[Finding]) -> tuple[tuple[Finding, ...], tuple[Finding, ...]]:
    """What goes, and what stays with its reason; each in order."""
    listed = tuple(findings)
    gone = tuple(finding for finding in listed if not finding.kept)
    return gone, tuple(finding for finding in listed if finding.kept)


def _kept(found: Span | PixelBox) -> str:
    return (found.reason or NO_REASON) if found.decision is Decision.KEEP else ""


def replaced(text: str, spans: list[Span]) -> str:
    """The text with a stand-in for every span."""
    out, place = [], 0
    for span in spans:
        out += [text[place : span.start], span.stand_in]
        place = span.end
    return "".join((*out, text[place:]))
