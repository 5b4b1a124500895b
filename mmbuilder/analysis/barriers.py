"""Barriers in their order, as a diagram shows them."""

from __future__ import annotations

from dataclasses import dataclass

from mmbuilder.safe.terms import BarrierState
from mmbuilder.safe.text import SafeText


@dataclass(frozen=True)
class Barrier:
    """What should have caught it, and what became of it."""

    what: SafeText
    state: BarrierState


@dataclass(frozen=True)
class Barriers:
    """What set out, the barriers in the order in which it met them, and what it would have reached."""

    start: SafeText
    barriers: tuple[Barrier, ...]
    end: SafeText

    @property
    def stop(self) -> int | None:
        """Place of the first barrier that held."""
        held = (place for place, bar in enumerate(self.barriers) if bar.state is BarrierState.HELD)
        return next(held, None)
