"""Ticks of a panel: fine ones without words, wider ones with a label, and what their step is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from mmbuilder.figures.axis import Scale, clamped
from mmbuilder.figures.style import width
from mmbuilder.safe.moment import DAY, Elapsed, Known, Moment, clock, duration
from mmbuilder.safe.text import SafeText, fill, number, wording

_STEPS = {
    "min": (1, 2, 5, 10, 15, 20, 30, 60, 120),
    "h": (15, 30, 60, 120, 180, 240, 360, 720, 1440, 2880),
    "day": (DAY, 2 * DAY, 5 * DAY, 7 * DAY, 14 * DAY, 28 * DAY, 56 * DAY, 364 * DAY),
}
"""Distances between ticks; minutes."""

_AIR = 12.0
"""Least distance between two tick labels; points."""

_FINE = 9.0
"""Least distance between two fine ticks; points."""


@dataclass(frozen=True)
class Ticks:
    """Fine ticks at `fine`; labels as (x of the tick, left end, text)."""

    step: SafeText
    fine: tuple[float, ...]
    labels: tuple[tuple[float, float, SafeText], ...]


def ticks(scale: Scale, following: float | None) -> Ticks:
    """Return the ticks of a panel; at its end none that the panel `following` begins with."""
    step = _fine_step(scale)
    return Ticks(
        _named(step), tuple(scale.x(t) for t in _times(scale, step)), _labels(scale, step, following)
    )


def _fine_step(scale: Scale) -> float:
    steps = _STEPS[scale.panel.unit]
    points = (scale.right - scale.left) / (scale.panel.end - scale.panel.start)
    return next((step for step in steps if step * points >= _FINE), steps[-1])


def _named(step: float) -> SafeText:
    precision = DAY if step >= 2 * DAY else 1.0
    if step == DAY:
        return wording("ticks 1 day")
    return fill(
        "ticks {step}", step=_hours(step) if 60 <= step < DAY else duration(Elapsed(step, step, precision))
    )


def _hours(step: float) -> SafeText:
    return fill("{hours} h", hours=number(step / 60, "g"))


def _labels(scale: Scale, fine: float, following: float | None) -> tuple[tuple[float, float, SafeText], ...]:
    for step in _STEPS[scale.panel.unit]:
        if step % fine:
            continue
        times = [time for time in _times(scale, step) if time != following]
        texts = [(scale.x(time), tick_label(time, scale.panel.unit)) for time in times]
        found = tuple((x, clamped(x, text, scale), text) for x, text in texts)
        if all(a[1] + width(a[2]) + _AIR <= b[1] for a, b in pairwise(found)):
            return found
    return _first(scale)


def _first(scale: Scale) -> tuple[tuple[float, float, SafeText], ...]:
    """Return a single label, where there is no room for two."""
    steps = reversed(_STEPS[scale.panel.unit])
    time = next((time for step in steps for time in _times(scale, step)), None)
    if time is None:
        return ()
    text = tick_label(time, scale.panel.unit)
    return ((scale.x(time), clamped(scale.x(time), text, scale), text),)


def _times(scale: Scale, step: float) -> Iterator[float]:
    minutes = -(-scale.panel.start // step) * step
    while minutes <= scale.panel.end + 1e-6:
        yield minutes
        minutes += step


def tick_label(minutes: float, unit: str) -> SafeText:
    """`T+0:20` on a scale of minutes, `T+6 h` on one of hours, `Day 2` on one of days."""
    if unit == "day":
        return fill("Day {day}", day=number(round(minutes / DAY)) if minutes >= 0 else _minus(minutes))
    if unit == "h" and minutes % 60 == 0:
        sign = wording("T−") if minutes < 0 else wording("T+")
        return fill("{sign}{hours} h", sign=sign, hours=number(abs(minutes) / 60, ".0f"))
    return clock(Moment(minutes, minutes, Known.EXACT))


def _minus(minutes: float) -> SafeText:
    return fill("−{day}", day=number(abs(round(minutes / DAY))))
