"""How long each phase took, and what of the whole belongs to none.

Nothing is lost: the durations, less what overlaps, and the unassigned time make up the total. Ends that
are not certain count at their middle in that sum, and the range that they leave is kept beside it.
"""

from __future__ import annotations

from dataclasses import dataclass

from mmbuilder.safe.case import Phase
from mmbuilder.safe.moment import Elapsed, Moment, between
from mmbuilder.safe.text import SafeText


@dataclass(frozen=True)
class PhaseTotals:
    """Durations in minutes.

    Attributes:
        rows: (name, minutes) of each phase whose two ends are known; None for the others.
        ranges: of each row what its ends leave open; lowest and highest are equal where nothing is.
        whole: the same of the total, from first start to last end.
        overlap: counted in more than one phase.
        unassigned: in no phase.
        total: first start to last end, or as stated.
    """

    rows: tuple[tuple[SafeText, float | None], ...]
    ranges: tuple[Elapsed, ...]
    whole: Elapsed
    overlap: float
    unassigned: float
    total: float


def phase_totals(phases: tuple[Phase, ...], total: float | None = None) -> PhaseTotals:
    """Add up the phases; the ends of uncertain ones are taken at their middle.

    Args:
        phases: in any order.
        total: length of the whole operation in minutes; by default first start to last end.

    Raises:
        ValueError: the stated total is shorter than the time the phases cover.
    """
    spans = [_span(phase) for phase in phases]
    known = sorted(span for span in spans if span is not None)
    covered, reached = 0.0, float("-inf")
    for start, end in known:
        covered += max(0.0, end - max(start, reached))
        reached = max(reached, end)
    if total is None:
        total = reached - known[0][0] if known else 0.0
    if covered > total + 1e-9:
        raise ValueError("the phases cover more than the stated total")
    rows = tuple(
        (phase.name, None if span is None else span[1] - span[0])
        for phase, span in zip(phases, spans, strict=True)
    )
    summed = sum(end - start for start, end in known)
    ranges = tuple(between(phase.start, phase.end, ordered=True) for phase in phases)
    return PhaseTotals(rows, ranges, _whole(phases), summed - covered, total - covered, total)


def _whole(phases: tuple[Phase, ...]) -> Elapsed:
    """From the first start to the last end of phases with both, as far apart as each can be."""
    known = [phase for phase in phases if _span(phase) is not None]
    if not known:
        return Elapsed(None, None)
    first = min((phase.start for phase in known), key=_middle)
    return between(first, max((phase.end for phase in known), key=_middle), ordered=True)


def _middle(moment: Moment) -> float:
    assert moment.centre is not None
    return moment.centre


def _span(phase: Phase) -> tuple[float, float] | None:
    start, end = phase.start.centre, phase.end.centre
    return None if start is None or end is None or end < start else (start, end)
