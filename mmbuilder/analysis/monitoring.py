"""What is still watched after the case: what, by whom, until when, and at which value something is done.

A plan without an end or a threshold is no plan: what is missing is named and never filled in.
"""

from __future__ import annotations

from collections.abc import Sequence

from mmbuilder.safe.case import Watch
from mmbuilder.safe.text import SafeText, fill, join, wording

HEAD = (wording("What"), wording("Until"), wording("Threshold"), wording("By role"))

NOT_STATED = wording("not stated")


def missing(watch: Watch) -> tuple[SafeText, ...]:
    """Return what has to be filled in before somebody else could follow this line."""
    parts = (
        (watch.until, wording("end")),
        (watch.threshold, wording("threshold")),
        (watch.role, wording("role")),
    )
    return tuple(name for value, name in parts if not value)


def monitoring_rows(plan: Sequence[Watch]) -> tuple[tuple[SafeText, ...], ...]:
    """Return the plan under `HEAD`, in the order it was told; an empty place says so."""
    return tuple(tuple(cell or NOT_STATED for cell in (w.what, w.until, w.threshold, w.role)) for w in plan)


def monitoring_gaps(plan: Sequence[Watch]) -> tuple[SafeText, ...]:
    """Return `eye pressure: no threshold, no role` for each line that is not complete."""
    return tuple(
        fill(
            "{what}: {gaps}",
            what=watch.what,
            gaps=join(", ", (fill("no {name}", name=n) for n in missing(watch))),
        )
        for watch in plan
        if missing(watch)
    )
