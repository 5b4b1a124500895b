"""Horizontal stretches of the drawing, stacked from the top."""

from __future__ import annotations

from dataclasses import dataclass

BETWEEN = 0.5
"""Least distance between bands; points."""

_MOST = 60.0
"""What a strip of readings may gain from height that is left over; points."""

_AIR = 48.0
"""Most that is left free under a band: farther off, a lane and its axis are two drawings; points."""


@dataclass(frozen=True)
class Band:
    """A horizontal stretch of the drawing; points from the top."""

    top: float
    bottom: float

    @property
    def middle(self) -> float:
        """Its centre line."""
        return (self.top + self.bottom) / 2


def needed(sizes: dict[str, float]) -> float:
    """Return the height that bands of these sizes take up."""
    return sum(sizes.values()) + BETWEEN * (len(sizes) - 1)


def stacked(sizes: dict[str, float], high: float) -> dict[str, Band]:
    """Stack the bands; what is left over goes to the readings, between the bands, then above and below."""
    left = max(high - needed(sizes), 0.0)
    strips = [name for name in sizes if name.startswith("strip")]
    grown = {
        name: size + (min(left / len(strips), _MOST) if name in strips else 0.0)
        for name, size in sizes.items()
    }
    spare = max(high - needed(grown), 0.0)
    loose = [name for name in grown if name not in _CLOSE]
    between = min(spare / max(len(loose), 1), _AIR)
    bands, top = {}, (spare - between * len(loose)) / 2
    for name, size in grown.items():
        bands[name] = Band(top, top + size)
        top += size + BETWEEN + (between if name in loose else 0.0)
    return bands


_CLOSE = frozenset({"flags", "axis", "units", "notes"})
"""What stands close to the band under it."""
