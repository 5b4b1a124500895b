"""Where an axis may skip time: silences that are long against what surrounds them.

Readings that were due and not taken are no silence: they are shown as a gap, so a series
holds its stretch together.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from statistics import median

Stretch = tuple[float, float]
"""Start and end; minutes from the index event."""

_SHARE = 0.35
"""A silence longer than this share of its stretch may be cut out..."""

_NEIGHBOUR = 3.0
"""...if it is also this many times as long as the silences beside it."""

_DWARFED = 2.0
"""So may one this many times as long as the busy stretch beside it..."""

_PACE = 8.0
"""...if it is also this many times as long as the usual silence there."""

_CROWDED = 1 / 25
"""Nothing is cut out while the usual step between entries is more than this share of the stretch."""


@dataclass(frozen=True)
class Busy:
    """Stretches in which something happens, merged and in order."""

    stretches: tuple[Stretch, ...]

    @property
    def start(self) -> float:
        """When the first one begins."""
        return self.stretches[0][0]

    @property
    def end(self) -> float:
        """When the last one ends."""
        return self.stretches[-1][1]

    @property
    def silences(self) -> list[float]:
        """Lengths of what lies between them."""
        return [after[0] - before[1] for before, after in pairwise(self.stretches)]

    @property
    def span(self) -> float:
        """From the first start to the last end."""
        return self.end - self.start

    def split(self, place: int) -> tuple[Busy, Busy]:
        """Return what lies before a silence, and after."""
        return Busy(self.stretches[: place + 1]), Busy(self.stretches[place + 1 :])


def parted(stretches: list[Stretch], most: int) -> list[Busy]:
    """Cut at the longest silences that may be skipped, into at most `most` parts."""
    parts = [Busy(merged(stretches))]
    while len(parts) < most and (worst := _worst(parts)) is not None:
        index, place = worst
        parts[index : index + 1] = parts[index].split(place)
    return parts


def merged(stretches: list[Stretch]) -> tuple[Stretch, ...]:
    """Put together what overlaps, in order."""
    found: list[Stretch] = []
    for start, end in sorted(stretches):
        if found and start <= found[-1][1]:
            found[-1] = found[-1][0], max(end, found[-1][1])
        else:
            found.append((start, end))
    return tuple(found)


def _worst(parts: list[Busy]) -> tuple[int, int] | None:
    """Return the longest silence that may be cut out, as (part, place)."""
    found = [
        (part.silences[place], -index, place) for index, part in enumerate(parts) for place in _places(part)
    ]
    if not found:
        return None
    _, index, place = max(found)
    return -index, place


def _places(part: Busy) -> Iterator[int]:
    silences = part.silences
    if len(silences) < 2 or median(silences) > _CROWDED * part.span:
        return
    for place, silence in enumerate(silences):
        beside = [*silences[max(place - 1, 0) : place], *silences[place + 1 : place + 2]]
        left, right = part.split(place)
        long = silence > _SHARE * part.span and silence >= _NEIGHBOUR * max(beside)
        if long or _dwarfs(silence, left) or _dwarfs(silence, right):
            yield place


def _dwarfs(silence: float, side: Busy) -> bool:
    """Whether a busy stretch would be crushed by the silence next to it."""
    steps = side.silences
    return len(steps) > 1 and silence >= max(_DWARFED * side.span, _PACE * median(steps))
