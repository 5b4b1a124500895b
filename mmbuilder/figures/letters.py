"""Letters that stand for notes: sources that disagree, reasons too long for their gap.

They are given in order of time, to what stands on the chart and to nothing else: so they run a, b, c
without a hole, in the whole story and in every cut of it.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass

from mmbuilder.analysis.timeline import Timeline
from mmbuilder.figures.axis import Axis
from mmbuilder.figures.style import width
from mmbuilder.safe.case import Gap, Series
from mmbuilder.safe.moment import Known
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
        """Return the letter of an event or of a reason; empty for one that has none."""
        return _LETTERS[self.place(anchor)] if anchor in self.given else EMPTY

    def place(self, anchor: Anchor) -> int:
        """Return the place of its letter, or one after all others."""
        return self.given.index(anchor) if anchor in self.given else len(self.given)


def letters(
    timeline: Timeline, drawn: Iterable[Series], axis: Axis | None, silent: Collection[object] = ()
) -> Letters:
    """Give letters to events whose sources disagree, and to reasons that find no room in their gap.

    Args:
        timeline: the whole story.
        drawn: the lines of readings that the chart has a strip for.
        axis: None while it is not known: reasons then wait.
        silent: events without words on the chart, which their note tells by name.
    """
    found: list[tuple[float, Anchor]] = [
        (time, key) for key, time in _disputed(timeline) if key not in silent
    ]
    if axis is not None:
        narrow = (gap for gap in hatches(drawn, axis) if not roomy(gap, axis) and holds_letter(gap, axis))
        found += ((_holds_from(gap, axis), gap.reason) for gap in narrow)
    in_time = (anchor for _, anchor in sorted(found, key=lambda pair: pair[0]))
    return Letters(tuple(dict.fromkeys(in_time))[: len(_LETTERS)])


def _disputed(timeline: Timeline) -> Iterator[tuple[tuple[str, int], float]]:
    """Yield each event with a place whose sources disagree, with the first cut that tells of it."""
    later = float("inf")
    for event in reversed(timeline.events):
        if event.at.centre is None:
            continue
        if event.disputed:
            others = [other.at.centre for other in event.others if other.at.centre is not None]
            known = event.at.centre if event.records or not others else max(event.at.centre, min(others))
            # One that is only known to be after a time is shown once something later is.
            yield ("event", event.number), max(known, later) if event.at.known is Known.AFTER else known
        if event.at.known is not Known.AFTER:
            later = min(later, event.at.centre)


def bare(lines: Sequence[SafeText]) -> bool:
    """Whether a label is the letter of a note and nothing else."""
    return len(lines) == 1 and any(lines[0] == fill("({letter})", letter=letter) for letter in _LETTERS)


def hatches(drawn: Iterable[Series], axis: Axis) -> Iterator[Gap]:
    """Yield the gaps that have a reason and are wide enough to be seen."""
    yield from (gap for line in drawn for gap in line.gaps if gap.reason and _widest(gap, axis) > 1)


def roomy(gap: Gap, axis: Axis) -> bool:
    """Whether a gap is wide enough to have its reason written in it."""
    return _widest(gap, axis) >= width(gap.reason) + 8


def holds_letter(gap: Gap, axis: Axis) -> bool:
    """Whether a gap has room for a letter."""
    return _widest(gap, axis) >= _least()


def _holds_from(gap: Gap, axis: Axis) -> float:
    """Return the first cut in which what is seen of a gap has room for a letter."""
    wide, found = _least(), gap.end
    for scale in axis.scales:
        start, end = max(gap.start, scale.panel.start), min(gap.end, scale.panel.end)
        if end > start and scale.x(end) - scale.x(start) >= wide:
            found = min(found, start + (end - start) * wide / (scale.x(end) - scale.x(start)))
    return found


def _least() -> float:
    """Return the width of the widest letter, less what may stand over the edges of its gap."""
    return max(map(width, _LETTERS)) - _OVER


_OVER = 3.0


def _widest(gap: Gap, axis: Axis) -> float:
    return max((right - left for left, right in axis.pieces(gap.start, gap.end)), default=0.0)
