"""Readings: one strip a unit and quantity, each with a scale of its own; at most three lines in all."""

from __future__ import annotations

import functools
import math
from bisect import bisect_left, bisect_right
from dataclasses import dataclass
from itertools import pairwise
from statistics import median

from mmbuilder.analysis.timeline import MOST_LINES
from mmbuilder.figures.bands import Band
from mmbuilder.figures.quantities import QUANTITIES, is_mean, quantity
from mmbuilder.figures.sheet import Dash, Shape
from mmbuilder.figures.style import Ink
from mmbuilder.safe.case import Series
from mmbuilder.safe.text import SafeText

_SILENT = 3.0
"""A line is not drawn over more than this many of its usual steps."""

LOOKS = (
    (Ink.BLUE, Dash.SOLID, Shape.DOT),
    (Ink.BLACK, Dash.DASHED, Shape.SQUARE),
    (Ink.VERMILLION, Dash.DOTTED, Shape.UP),
)
"""Colour, dash and shape of the first, second and third line."""

_MEAN = (40.0, 120.0)

_WINDOWS = {
    "%": (80.0, 100.0),
    "mmhg": (0.0, 160.0),
    "/min": (40.0, 140.0),
    "bpm": (40.0, 140.0),
    "beats/min": (40.0, 140.0),
    "breaths/min": (0.0, 40.0),
    "kpa": (0.0, 8.0),
    "°c": (35.0, 39.0),
    "cmh2o": (0.0, 40.0),
}
"""What a strip shows at least, so that its scale does not tell what is still to come.

Common practice, no source: roughly the range printed on paper charts.
"""


_INSET = 4.0
"""Between the ends of a scale and the edges of its strip; points."""


@dataclass(frozen=True)
class Scale:
    """From a reading to a height on the sheet."""

    band: Band
    low: float
    high: float

    def y(self, value: float) -> float:
        """Return the height of a reading; points from the top."""
        share = (value - self.low) / (self.high - self.low)
        return self.band.bottom - _INSET - share * (self.band.bottom - self.band.top - 2 * _INSET)


@dataclass(frozen=True)
class Strip:
    """Lines that share a unit and measure the same.

    Attributes:
        lines: (place in the timeline, series) of each.
        quantity: what they measure; empty where the unit is all that is known.
    """

    unit: SafeText
    lines: tuple[tuple[int, Series], ...]
    quantity: str = ""

    @property
    def key(self) -> tuple[SafeText, str]:
        """What tells it from the other strips of a plan."""
        return self.unit, self.quantity


def strips(series: tuple[Series, ...], most: int = MOST_LINES) -> tuple[Strip, ...]:
    """Group the first lines by unit and by what they measure, in order."""
    groups: dict[tuple[SafeText, str], list[tuple[int, Series]]] = {}
    for place, line in enumerate(series[:most]):
        groups.setdefault((line.unit, quantity(line.name)), []).append((place, line))
    return tuple(Strip(unit, tuple(lines), measured) for (unit, measured), lines in groups.items())


def bounds(strip: Strip) -> tuple[float, float]:
    """Return lower and upper end of the scale, both ticks: the usual window, widened to what is drawn."""
    read = [end for _, line in strip.lines for end in _ends(line)]
    values = [*read, *(limit for _, line in strip.lines for limit in alarms(line))]
    low, high = _window(strip)
    if read and (max(read) < low or min(read) > high):
        low, high = math.inf, -math.inf  # emboli a minute are no heart rate
    low, high = min([low, *values]), max([high, *values])
    if not math.isfinite(low) or not math.isfinite(high):
        return 0.0, 1.0
    if high - low < 1e-9:
        low, high = (low - 1 if low else low), high + 1  # nothing was counted: no less than nothing
    step = _nice((high - low) / 5)
    return math.floor(low / step + 1e-9) * step, math.ceil(high / step - 1e-9) * step


def _window(strip: Strip) -> tuple[float, float]:
    """Return what it shows at least; where every line is a mean pressure, the fall of one has to be seen."""
    unit = strip.unit.reveal().strip().lower()
    if unit == "mmhg" and not strip.quantity and all(is_mean(line.name) for _, line in strip.lines):
        return _MEAN
    usual = QUANTITIES[strip.quantity].windows if strip.quantity else _WINDOWS
    return usual.get(unit, (math.inf, -math.inf))


def alarms(line: Series) -> tuple[float, ...]:
    """Return the alarm limits that were set, the lower one first."""
    return tuple(limit for limit in (line.alarm_low, line.alarm_high) if limit is not None)


@functools.lru_cache(maxsize=8)  # asked for in every mode a chart is tried in
def _ends(line: Series) -> tuple[float, ...]:
    """Return the lowest and the highest reading; nothing if there is none."""
    values = [value for _, value in line.points if math.isfinite(value)]
    return (min(values), max(values)) if values else ()


def middle(low: float, high: float) -> float | None:
    """Return a tick halfway, if it is as round as the ends: 90 or 2.5, and not 87.5."""
    step = _nice((high - low) / 5) / 2
    half = (low + high) / 2
    short = abs(half - round(half)) < 1e-6 or abs(half - float(f"{half:.2g}")) < 1e-9
    return half if short and abs(half / step - round(half / step)) < 1e-6 else None


def _nice(size: float) -> float:
    """Return the round number (1, 2, 2.5, 4 or 5 times a power of ten) at or above `size`."""
    power = 10.0 ** float(math.floor(math.log10(size)))
    found: float = next(power * factor for factor in (1, 2, 2.5, 4, 5, 10) if power * factor >= size - 1e-12)
    return found


def runs(line: Series) -> tuple[tuple[tuple[float, float], ...], ...]:
    """Return the stretches that may be joined: none runs over a gap, an artefact or a long silence."""
    good = [
        (place, point)
        for place, point in enumerate(line.points)
        if place not in line.artefacts and math.isfinite(point[1])
    ]
    steps = [after[1][0] - before[1][0] for before, after in pairwise(good)]
    usual = median(steps) if steps else 0.0
    found: list[list[tuple[float, float]]] = []
    for index, (place, point) in enumerate(good):
        joined = index > 0 and _joined(line, good[index - 1], (place, point), usual)
        if joined:
            found[-1].append(point)
        else:
            found.append([point])
    return tuple(tuple(run) for run in found)


def part(run: tuple[tuple[float, float], ...], start: float, end: float) -> list[tuple[float, float]]:
    """Return what of a joined stretch lies in a panel, up to its edges: the line goes on behind them."""
    # Only the readings in the panel and one on either side; they are in order of time.
    opens = max(bisect_right(run, start, key=_time) - 1, 0)
    inside = run[opens : bisect_left(run, end, key=_time) + 1]
    found: list[tuple[float, float]] = []
    for before, after in pairwise(inside):
        if start <= before[0] < after[0] <= end:
            found += [before, after]
            continue
        first, last = max(before[0], start), min(after[0], end)
        if first < last:
            found += [_between(before, after, first), _between(before, after, last)]
    return list(dict.fromkeys(found))


def _time(point: tuple[float, float]) -> float:
    return point[0]


def _between(before: tuple[float, float], after: tuple[float, float], time: float) -> tuple[float, float]:
    if time in (before[0], after[0]):
        return before if time == before[0] else after
    share = (time - before[0]) / (after[0] - before[0])
    return time, before[1] + share * (after[1] - before[1])


_Reading = tuple[int, tuple[float, float]]


def _joined(line: Series, before: _Reading, after: _Reading, usual: float) -> bool:
    start, end = before[1][0], after[1][0]
    if after[0] != before[0] + 1 or end - start > _SILENT * usual + 1e-9:
        return False
    # A loop: it is asked of every reading, and a generator takes three times as long.
    for gap in line.gaps:  # noqa: SIM110
        if gap.start < end and start < gap.end:
            return False
    return True
