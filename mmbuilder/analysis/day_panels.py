"""The axis of visits: days on an even scale, cut where visits crowd beside long times without any."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from mmbuilder.analysis.timeline import Panel
from mmbuilder.safe.moment import DAY

_PANELS = 3
"""More scales than this side by side cannot be read."""

_CROWDED = 1 / 18
"""Two visits closer than this share of their panel run into each other..."""

_UNEVEN = 3.0
"""...and a cut helps where the longest silence is this many times the shortest."""

_MOST = 0.6
"""A silence of this share of a crowded panel is where it is cut."""

_FAR = 1.5
"""Time between two panels is skipped if it is this many times as long as both together."""

_LONGEST = {"min": 240.0, "h": 5 * DAY}


def day_panels(times: Sequence[float]) -> tuple[tuple[Panel, ...], tuple[float, ...]]:
    """Divide the axis where visits crowd; return the panels and their shares of the width.

    Each panel has an even scale. It is cut where both sides can then be read best; what lies
    between is skipped, with the skipped time written, only where it is far longer than both.
    """
    parts: list[list[float]] = [sorted(set(times))]
    while len(parts) < _PANELS and (crowded := [part for part in parts if _crowded(part)]):
        worst = parts.index(min(crowded, key=_ease))
        parts[worst : worst + 1] = _cut(parts[worst])
    unit = _unit(parts[-1][-1] - parts[0][0], times)
    pads = [_pad(part, unit) for part in parts]
    starts, ends = [parts[0][0] - pads[0]], []
    for (before, after), (pad, next_pad) in zip(pairwise(parts), pairwise(pads), strict=True):
        last, first = _meet(before, after, pad, next_pad)
        ends.append(last)
        starts.append(first)
    ends.append(parts[-1][-1] + pads[-1])
    panels = tuple(Panel(start, end, unit) for start, end in zip(starts, ends, strict=True))
    weights = [len(part) + 0.6 for part in parts]
    return panels, tuple(weight / sum(weights) for weight in weights)


def _crowded(part: list[float]) -> bool:
    """Whether visits run into each other for the sake of a silence elsewhere; an even crowd stays one."""
    steps = [after - before for before, after in pairwise(part)]
    return _ease(part) < _CROWDED and max(steps) >= _UNEVEN * min(steps)


def _cut(part: list[float]) -> tuple[list[float], list[float]]:
    """Cut at a silence that is most of the whole, else where both sides can be read best."""
    cuts = [(part[:place], part[place:]) for place in range(1, len(part))]
    longest = max(cuts, key=_silence)
    return longest if _silence(longest) > _MOST * (part[-1] - part[0]) else max(cuts, key=_worth)


def _silence(cut: tuple[list[float], list[float]]) -> float:
    return cut[1][0] - cut[0][-1]


def _worth(cut: tuple[list[float], list[float]]) -> tuple[float, float]:
    """Return how well both sides of a cut can be read, and then how much time lies between them."""
    return min(map(_ease, cut)), _silence(cut)


def _ease(part: Sequence[float]) -> float:
    """Return the least step as a share of the whole: the larger, the easier to read."""
    if len(part) < 2:
        return 1.0
    return min(after - before for before, after in pairwise(part)) / (part[-1] - part[0])


def _unit(span: float, times: Sequence[float]) -> str:
    if all(time % DAY == 0 for time in times):
        return "day"
    return next((unit for unit, longest in _LONGEST.items() if span <= longest), "day")


def _pad(part: Sequence[float], unit: str) -> float:
    least = {"min": 5.0, "h": 60.0, "day": DAY / 2}[unit]
    return max(0.05 * (part[-1] - part[0]), least)


def _meet(
    before: Sequence[float], after: Sequence[float], pad: float, next_pad: float
) -> tuple[float, float]:
    """Return where one panel ends and the next begins: the same time, unless time is skipped."""
    silence = after[0] - before[-1]
    spans = (before[-1] - before[0]) + (after[-1] - after[0])
    if silence > _FAR * spans and silence > 2 * (pad + next_pad):
        return before[-1] + pad, after[0] - next_pad
    middle = before[-1] + min(silence / 2, max(pad, silence * pad / (pad + next_pad)))
    return middle, middle
