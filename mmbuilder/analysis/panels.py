"""Where the axis is cut into panels: minutes for the operation, hours for the crisis, days for the ward.

A panel ends where a silence is long against what surrounds it. Readings that were due and
not taken are no silence: they are shown as a gap, so a series holds its stretch together.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from statistics import median

from mmbuilder.analysis.timeline import Panel
from mmbuilder.safe.case import Event, Phase, Recording, Series
from mmbuilder.safe.moment import DAY, Elapsed, Moment, duration
from mmbuilder.safe.text import SafeText

MOST = 4
"""More panels than this cannot be read."""

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

_RUN = 20.0
"""A series ends where the next reading is this many usual steps away, and no gap is stated."""

_LONGEST = {"min": 240.0, "h": 2.5 * DAY}
"""Longest stretch that is told in minutes, and in hours; minutes."""

_PAD = {"min": 5.0, "h": 60.0, "day": DAY / 2}
"""What a panel is rounded to; minutes."""

Stretch = tuple[float, float]


@dataclass(frozen=True)
class _Busy:
    stretches: tuple[Stretch, ...]
    """Merged and in order."""

    @property
    def silences(self) -> list[float]:
        return [after[0] - before[1] for before, after in pairwise(self.stretches)]

    @property
    def span(self) -> float:
        return self.stretches[-1][1] - self.stretches[0][0]

    def split(self, place: int) -> tuple[_Busy, _Busy]:
        return _Busy(self.stretches[: place + 1]), _Busy(self.stretches[place + 1 :])


def panels(
    events: tuple[Event, ...],
    decisions: tuple[tuple[int, Moment, SafeText], ...],
    phases: tuple[Phase, ...],
    series: tuple[Series, ...],
    recordings: tuple[Recording, ...],
) -> tuple[Panel, ...]:
    """Cut the axis at its long silences; no panel if nothing has a place in time."""
    moments = [event.at for event in events] + [moment for _, moment, _ in decisions]
    moments += [other.at for event in events for other in event.others]
    stretches = [*_of_moments(moments), *_of_phases(phases), *_of_recordings(recordings)]
    stretches += [run for line in series for run in _runs(line)]
    if not stretches:
        return ()
    parts = [_Busy(_merged(stretches))]
    while len(parts) < MOST and (worst := _worst(parts)) is not None:
        index, place = worst
        parts[index : index + 1] = parts[index].split(place)
    dated = {stretch for stretch in _of_moments(m for m in moments if m.precision >= DAY)}
    return _padded(parts, dated)


def skipped(parts: tuple[Panel, ...]) -> tuple[SafeText, ...]:
    """Time left out between panels, in words: `31 h`. One fewer than the panels."""
    return tuple(_told(after.start - before.end) for before, after in pairwise(parts))


def _told(minutes: float) -> SafeText:
    if minutes >= 3 * DAY:
        return duration(Elapsed(minutes, minutes, DAY))
    if minutes >= 120:
        minutes = round(minutes / 60) * 60
    return duration(Elapsed(minutes, minutes))


def _of_moments(moments: Iterable[Moment]) -> Iterator[Stretch]:
    for moment in moments:
        ends = [end for end in (moment.lo, moment.hi) if end is not None]
        if ends:
            yield min(ends), max(ends)


def _of_phases(phases: Iterable[Phase]) -> Iterator[Stretch]:
    # Only where one starts or ends: a week on the ward is not a week of events.
    for phase in phases:
        yield from _of_moments((phase.start, phase.end))


def _of_recordings(recordings: Iterable[Recording]) -> Iterator[Stretch]:
    for recording in recordings:
        ends = [end for end in (recording.start.centre, recording.end.centre) if end is not None]
        if ends:
            yield min(ends), max(ends)


def _runs(line: Series) -> Iterator[Stretch]:
    """Stretches without a silence that nobody explained."""
    times = [time for time, _ in line.points]
    if not times:
        return
    steps = [after - before for before, after in pairwise(times)]
    longest = _RUN * median(steps) if steps else 0.0
    start = times[0]
    for before, after in pairwise(times):
        stated = any(gap.start < after and before < gap.end for gap in line.gaps)
        if after - before > longest and not stated:
            yield start, before
            start = after
    yield start, times[-1]


def _merged(stretches: list[Stretch]) -> tuple[Stretch, ...]:
    merged: list[Stretch] = []
    for start, end in sorted(stretches):
        if merged and start <= merged[-1][1]:
            merged[-1] = merged[-1][0], max(end, merged[-1][1])
        else:
            merged.append((start, end))
    return tuple(merged)


def _worst(parts: list[_Busy]) -> tuple[int, int] | None:
    """Return the longest silence that may be cut out, as (part, place)."""
    found = [
        (part.silences[place], -index, place) for index, part in enumerate(parts) for place in _places(part)
    ]
    if not found:
        return None
    _, index, place = max(found)
    return -index, place


def _places(part: _Busy) -> Iterator[int]:
    silences = part.silences
    if len(silences) < 2 or median(silences) > _CROWDED * part.span:
        return
    for place, silence in enumerate(silences):
        beside = [*silences[max(place - 1, 0) : place], *silences[place + 1 : place + 2]]
        left, right = part.split(place)
        long = silence > _SHARE * part.span and silence >= _NEIGHBOUR * max(beside)
        if long or _dwarfs(silence, left) or _dwarfs(silence, right):
            yield place


def _dwarfs(silence: float, side: _Busy) -> bool:
    """Whether a busy stretch would be crushed by the silence next to it."""
    steps = side.silences
    return len(steps) > 1 and silence >= max(_DWARFED * side.span, _PACE * median(steps))


def _padded(parts: list[_Busy], dated: set[Stretch]) -> tuple[Panel, ...]:
    made = []
    for index, part in enumerate(parts):
        start, end = part.stretches[0][0], part.stretches[-1][1]
        unit = _unit(start, end, by_day=any(start <= day[0] and day[1] <= end for day in dated))
        pad = _PAD[unit]
        first = (start - 0.02 * (end - start)) // pad * pad if start % pad else start
        last = -(-(end + 0.04 * (end - start) + 1e-6) // pad) * pad
        if index:
            first = max(first, start - _room(parts[index - 1], part))
        if index + 1 < len(parts):
            last = min(last, end + _room(part, parts[index + 1]))
        made.append(Panel(first, last, unit))
    return tuple(made)


def _room(before: _Busy, after: _Busy) -> float:
    """Return how much of a silence the panels beside it may take up."""
    return 0.2 * (after.stretches[0][0] - before.stretches[-1][1])


def _unit(start: float, end: float, *, by_day: bool) -> str:
    span, away = end - start, max(abs(start), abs(end))
    if by_day and (span < 1 or span > _LONGEST["min"]):
        return "day"
    if span < 1 and away >= 360:
        # A lone entry: told by how far away it is.
        return "day" if away >= 3 * DAY else "h"
    return next((unit for unit, longest in _LONGEST.items() if span <= longest), "day")
