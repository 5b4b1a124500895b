"""Times on both sides of the hour at which clocks are changed are asked about."""

from __future__ import annotations

from calendar import SUNDAY, monthrange, weekday
from collections.abc import Iterator
from datetime import date, timedelta

from mmbuilder.case.clocks import ClockFault, Reckoner
from mmbuilder.casefile.context import EVENTS, Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.problem import Severity

CODE = "clocks-changed"
WHY = "an interval over a changed clock is an hour too long or too short, and nothing in its times shows it"
GOOD = """
clocks: [{name: theatre clock, reference: yes}, {name: changed clock, offset: -1 h}]
timeline: {day zero: 2024-03-31, events: {0: {when: 2024-03-31 00:30}, 1: {when: "00:40"},
  2: {when: "00:50"}, 3: {when: "03:20", clock: changed clock}}}
"""
BAD = """
timeline: {day zero: 2024-03-31, events: {0: {when: 2024-03-31 00:30}, 1: {when: "00:40"},
  2: {when: "00:50"}, 3: {when: "03:20"}}}
"""

_HOUR, _DAY = 60.0, 1440.0
_CHANGED = (1 * _HOUR, 3 * _HOUR)
"""Minutes of the day between which a clock on the wall is changed, in Europe and in North America."""
_NEAR = 12 * _HOUR
"""Of events farther apart an hour matters little."""
_WEEK = timedelta(days=7)


def check(ctx: Context) -> Iterator[Finding]:
    """Yield the first event behind such an hour that stands within half a day of one before it.

    Silent where no date is told, or a clock is listed that is an hour off.
    """
    reckoner = Reckoner(ctx.case)
    try:
        days = [] if reckoner.day_zero is None or _an_hour_off(ctx) else list(_nights(reckoner.day_zero, ctx))
        midnights = [reckoner.minutes(0, day, None, elapsed=False) for day in days]
    except ClockFault:
        return  # told by the rule on clocks
    for midnight in midnights:
        near = _around(ctx, midnight + _CHANGED[0], midnight + _CHANGED[1])
        if near is not None:
            before, after = near
            line = ctx.line((*EVENTS, before, "when"))
            yield Finding(
                (*EVENTS, after, "when"),
                "in this night clocks are changed, in Europe or in North America",
                found=f"this event after it, and the one on line {line} before it",
                expected="the changed clock as a clock of its own; nothing to do where none was changed",
                example="clocks:\n  - {name: theatre clock, reference: yes}\n"
                "  - {name: changed clock, offset: -1 h}    (put forward; +1 h where it was put back)",
                severity=Severity.WARN,
            )


def _an_hour_off(ctx: Context) -> bool:
    return any(clock.offset is not None and abs(clock.offset.seconds) == 3600 for clock in ctx.case.clocks)


def _around(ctx: Context, start: float, end: float) -> tuple[int, int] | None:
    """The last event over by `end` and the first begun after `start`, in this order and near each other."""
    placed = [
        (moment.lo, moment.hi, at)
        for at, moment in enumerate(ctx.moments)
        if moment is not None and moment.lo is not None and moment.hi is not None
    ]
    began, after = min(((lo, at) for lo, _, at in placed if lo > start), default=(None, 0))
    if began is None:
        return None
    over, before = max(((hi, at) for _, hi, at in placed if hi < min(end, began)), default=(None, 0))
    return None if over is None or began - over > _NEAR else (before, after)


def _nights(zero: date, ctx: Context) -> Iterator[date]:
    """Yield each day of the case on which clocks are changed."""
    edges = [edge for moment in ctx.moments if moment for edge in (moment.lo, moment.hi) if edge is not None]
    if edges:
        first, last = (zero + timedelta(days=edge // _DAY) for edge in (min(edges), max(edges)))
        for year in range(first.year, last.year + 2):
            # The index event may be at any hour of any day near Day 0.
            yield from (
                day for day in changes(year) if abs(day - first) < _WEEK or first < day < last + _WEEK
            )


def changes(year: int) -> tuple[date, ...]:
    """The nights of a year in which clocks are changed: in Europe, then in North America.

    Directive 2000/84/EC: the last Sundays of March and October. Energy Policy Act of 2005: the second
    Sunday of March, the first of November. Both from memory; tests hold them against the tz database.
    """
    return (_last(year, 3), _last(year, 10), _first(year, 3) + timedelta(days=7), _first(year, 11))


def _first(year: int, month: int) -> date:
    return date(year, month, 1 + (SUNDAY - weekday(year, month, 1)) % 7)


def _last(year: int, month: int) -> date:
    end = monthrange(year, month)[1]
    return date(year, month, end - (weekday(year, month, end) - SUNDAY) % 7)
