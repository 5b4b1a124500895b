"""The panels of an axis: minutes for the operation, hours for the crisis, days for the ward.

Long silences are skipped. The heart of the story gets a panel of its own where it is short
against the whole, and so does a crowd of events at the start or end of a long stretch; there
no time is skipped and only the scale changes.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import chain, pairwise
from statistics import median

from mmbuilder.analysis.heart import heart
from mmbuilder.analysis.silences import Busy, Stretch, parted
from mmbuilder.analysis.timeline import Panel
from mmbuilder.safe.case import Event, Phase, Recording, Series
from mmbuilder.safe.moment import DAY, Elapsed, Moment, duration
from mmbuilder.safe.text import EMPTY, SafeText

MOST = 4
"""More panels than this cannot be read."""

_RUN = 20.0
"""A series ends where the next reading is this many usual steps away, and no gap is stated."""

_LONE = 2
"""So few readings..."""

_ASTRAY = 0.25
"""...so far from everything that happened (share of its span) are off the axis."""

_SLIVERS = (0.2, 0.5, 1.0)
"""What is left beside the heart gets no panel if it is shorter than this share of the heart.

The larger shares are tried if there would be too many panels.
"""

_CROWD = 0.08
"""A crowd of entries in so small a share of a panel, at its end, gets a panel of its own..."""

_ENTRIES = 3
"""...if there are so many..."""

_PAUSE = 0.4
"""...and a silence of this share of the crowd follows."""

_BLANK = 0.2
"""How much of the axis follows where a chart stops, as a share of what its last panel shows before."""

_LONGEST = {"min": 240.0, "h": 5 * DAY}
"""Longest stretch that is told in minutes, and in hours; minutes."""

_PAD = {"min": 5.0, "h": 60.0, "day": 60.0}
"""What a panel is rounded to; minutes. Half a day if entries were given by the day."""

Decisions = tuple[tuple[int, Moment, SafeText], ...]


def panels(
    events: tuple[Event, ...],
    decisions: Decisions,
    phases: tuple[Phase, ...],
    series: tuple[Series, ...],
    recordings: tuple[Recording, ...],
    until: float | None = None,
) -> tuple[Panel, ...]:
    """Divide the axis, with blank behind `until` where it stops there; no panel if nothing has a place."""
    moments = [event.at for event in events] + [moment for _, moment, _ in decisions]
    moments += [other.at for event in events for other in event.others]
    told = [*_of_moments(moments), *_of_phases(phases), *_of_recordings(recordings)]
    stretches = [*told, *chain.from_iterable(_runs(line, told) for line in series)]
    if not stretches:
        return ()
    if until is not None:
        told.append((until, until))
        stretches.append((until, until))
    dated = {stretch for stretch in _of_moments(m for m in moments if m.precision >= DAY)}
    busy = sorted(time for stretch in told for time in stretch)
    tried = (
        _enlarged(_padded(parted(stretches, most), dated), events, sliver)
        for most in range(MOST, 0, -1)
        for sliver in _SLIVERS
    )
    ends = {phase.end.centre for phase in phases if phase.end.centre is not None}
    made = _eased(next(made for made in tried if len(made) <= MOST), busy, ends)
    return made if until is None else _stopped(made, until)


def _stopped(made: tuple[Panel, ...], until: float) -> tuple[Panel, ...]:
    """Let the last panel end a little behind a time, whatever comes then."""
    *before, last = (panel for panel in made if panel.start <= until)
    end = max(until + (until - last.start) * _BLANK, last.start + _PAD["min"])
    return (*before, replace(_part(last, last.start, end), heart=last.heart))


def skipped(parts: tuple[Panel, ...]) -> tuple[SafeText, ...]:
    """Time left out between panels, in words: `31 h`; empty where none is. One fewer than the panels."""
    return tuple(_told(after.start - before.end) for before, after in pairwise(parts))


def _told(minutes: float) -> SafeText:
    if minutes < 1e-6:
        return EMPTY
    if minutes >= 3 * DAY:
        return duration(Elapsed(minutes, minutes, DAY))
    if minutes >= 120:
        minutes = round(minutes / 60) * 60
    return duration(Elapsed(minutes, minutes))


# --- what takes up time -----------------------------------------------------------------------


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


def _runs(line: Series, told: list[Stretch]) -> Iterator[Stretch]:
    """Stretches without a silence that nobody explained, lone readings far away left out."""
    times = _near([time for time, _ in line.points], told)
    if not times:
        return
    steps = [after - before for before, after in pairwise(times)]
    longest = _RUN * median(steps) if steps else 0.0
    start = times[0]
    for before, after in pairwise(times):
        if after - before > longest and not any(gap.start < after and before < gap.end for gap in line.gaps):
            yield start, before
            start = after
    yield start, times[-1]


def _near(times: list[float], told: list[Stretch]) -> list[float]:
    """Leave out one or two readings that lie far from everything that happened."""
    if not told:
        return times
    first, last = min(start for start, _ in told), max(end for _, end in told)
    far = _ASTRAY * (last - first)
    early = [time for time in times if time < first - far]
    late = [time for time in times if time > last + far]
    astray = {time for lone in (early, late) if len(lone) <= _LONE for time in lone}
    return [time for time in times if time not in astray]


# --- from stretches to panels -----------------------------------------------------------------


def _padded(parts: list[Busy], dated: set[Stretch]) -> tuple[Panel, ...]:
    made = []
    for index, part in enumerate(parts):
        start, end = part.start, part.end
        by_day = any(start <= day[0] and day[1] <= end for day in dated)
        unit = _unit(start, end, by_day=by_day)
        pad = DAY / 2 if by_day and unit == "day" else _PAD[unit]
        first = (start - 0.02 * (end - start)) // pad * pad if start % pad else start
        last = max(-(-end // pad) * pad, first + pad)
        if index:
            first = max(first, start - _room(parts[index - 1], part))
        if index + 1 < len(parts):
            last = min(last, end + _room(part, parts[index + 1]))
        made.append(Panel(first, last, unit))
    return tuple(made)


def _room(before: Busy, after: Busy) -> float:
    """Return how much of a silence the panels beside it may take up."""
    return 0.2 * (after.start - before.end)


def _unit(start: float, end: float, *, by_day: bool = False) -> str:
    span, away = end - start, max(abs(start), abs(end))
    if by_day and (span < 1 or span > _LONGEST["min"]):
        return "day"
    if span < 1 and away >= 360:
        # A lone entry: told by how far away it is.
        return "day" if away >= 3 * DAY else "h"
    return next((unit for unit, longest in _LONGEST.items() if span <= longest), "day")


def _enlarged(made: tuple[Panel, ...], events: tuple[Event, ...], sliver: float) -> tuple[Panel, ...]:
    """Give the heart of the story a panel of its own, cut out of the one it lies in."""
    for place, panel in enumerate(made):
        window = heart(events, (panel.start, panel.end))
        if window is not None:
            return (*made[:place], *_around(panel, *window, sliver), *made[place + 1 :])
    return made


def _around(panel: Panel, start: float, end: float, sliver: float) -> tuple[Panel, ...]:
    least = sliver * (end - start)
    first = start if start - panel.start > least else panel.start
    last = end if panel.end - end > least else panel.end
    before = (_part(panel, panel.start, first),) if first > panel.start else ()
    after = (_part(panel, last, panel.end),) if last < panel.end else ()
    return (*before, replace(_part(panel, first, last), heart=True), *after)


def _part(panel: Panel, start: float, end: float) -> Panel:
    return Panel(start, end, _unit(start, end))


def _eased(made: tuple[Panel, ...], busy: list[float], ends: set[float]) -> tuple[Panel, ...]:
    """Give the crowd at the start of a long panel one of its own, while there may be more panels."""
    found = list(made)
    for panel in made:
        at = None if panel.heart or panel.unit == "min" else _crowded_until(panel, busy, ends)
        if len(found) < MOST and at is not None:
            place = found.index(panel)
            found[place : place + 1] = [_part(panel, panel.start, at), _part(panel, at, panel.end)]
    return tuple(found)


def _crowded_until(panel: Panel, busy: list[float], ends: set[float]) -> float | None:
    """Return where a crowd at the start of a panel parts from the rest.

    That is after the first phase that is followed by a pause, else at the longest pause.
    """
    times = [time for time in dict.fromkeys(busy) if panel.start <= time <= panel.end]
    small = _CROWD * (panel.end - panel.start)
    found = [
        ((after - before) / (before - panel.start), before, after)
        for entries, (before, after) in enumerate(pairwise(times), start=1)
        if entries >= _ENTRIES and 0 < before - panel.start <= small
    ]
    after_phase = [pause for pause in found if pause[1] in ends and pause[0] >= _PAUSE]
    longest = max(found, default=(0.0, 0.0, 0.0))
    chosen = after_phase[0] if after_phase else longest
    return _rounded(panel.start, *chosen[1:]) if chosen[0] >= _PAUSE else None


def _rounded(start: float, before: float, after: float) -> float:
    """Return a round time between two entries, nearer to the first."""
    wished = before + min(0.1 * (after - before), 0.2 * (before - start))
    rounded = (-(-wished // step) * step for step in (60.0, 30.0, 15.0, 10.0, 5.0, 1.0))
    return next((time for time in rounded if before < time < after), wished)
