"""Letters that stand for notes: sources that disagree, reasons too long for their gap."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from mmbuilder.analysis.timeline import Timeline
from mmbuilder.figures.axis import Axis
from mmbuilder.figures.style import width
from mmbuilder.safe.case import Gap
from mmbuilder.safe.text import EMPTY, SafeText, fill, wording

_LETTERS = (
    wording("a"), wording("b"), wording("c"), wording("d"), wording("e"), wording("f"), wording("g"),
    wording("h"), wording("i"), wording("j"), wording("k"), wording("l"),
)  # fmt: skip

Anchor = tuple[str, int] | SafeText
"""An event's key, or the reason of a gap."""


@dataclass(frozen=True)
class Letters:
    """Which letter stands for which note; given out once, for the whole story."""

    given: tuple[Anchor, ...]

    def of(self, anchor: Anchor) -> SafeText:
        """Return the letter of an event or of a reason, or nothing."""
        if anchor not in self.given:
            return EMPTY
        place = self.given.index(anchor)
        return _LETTERS[place] if place < len(_LETTERS) else wording("*")


def conflict_letters(timeline: Timeline) -> Letters:
    """Give letters to the events whose sources disagree, in order."""
    return Letters(tuple(("event", event.number) for event in timeline.events if event.disputed))


def bare(lines: Sequence[SafeText]) -> bool:
    """Whether a label is the letter of a note and nothing else."""
    letters = (*_LETTERS, wording("*"))
    return len(lines) == 1 and any(lines[0] == fill("({letter})", letter=letter) for letter in letters)


def with_reasons(letters: Letters, reasons: Iterable[SafeText]) -> Letters:
    """Give the next letters to the reasons that find no room in their gap."""
    return Letters((*letters.given, *dict.fromkeys(reasons)))


def short_gaps(timeline: Timeline, axis: Axis) -> list[SafeText]:
    """Return the reasons of gaps that are too narrow for them, in order of time."""
    gaps = [gap for line in timeline.series for gap in line.gaps]
    return [reason_of(gap.reason) for gap in sorted(gaps, key=lambda g: g.start) if not roomy(gap, axis)]


def roomy(gap: Gap, axis: Axis) -> bool:
    """Whether a gap is wide enough to have its reason written in it."""
    pieces = axis.pieces(gap.start, gap.end)
    return any(right - left >= width(reason_of(gap.reason)) + 8 for left, right in pieces)


def reason_of(reason: SafeText) -> SafeText:
    """Return why readings are missing, or that nobody said why."""
    return reason or wording("no reason stated")
