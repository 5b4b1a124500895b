"""The axis of days under the rows: a long tick a visit, fine ticks between, zigzags where time is skipped."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from mmbuilder.analysis.panels import skipped
from mmbuilder.analysis.series import Point, SeriesChart
from mmbuilder.figures.axis import Axis, Scale
from mmbuilder.figures.series_page import Page
from mmbuilder.figures.sheet import Point as Place
from mmbuilder.figures.sheet import Stroke, Words, stroke
from mmbuilder.figures.style import TEXT, Ink, width
from mmbuilder.figures.ticks import ticks
from mmbuilder.safe.text import SafeText, again, fill, join

HIGH = 8.0 + TEXT
"""Height of the axis with its labels; points."""

_BREAK, _SEAM = 34.0, 12.0
_LONG, _SHORT = 6.0, 3.0

_AIR = 8.0
"""Between the names of two visits; points."""


def day_axis(chart: SeriesChart, left: float, right: float) -> Axis:
    """Lay the panels side by side between two limits."""
    skips = skipped(chart.panels)
    breaks = [max(_BREAK, width(text) + 10) if text else _SEAM for text in skips]
    room, at, scales = right - left - sum(breaks), left, []
    for panel, share, after in zip(chart.panels, chart.shares, [*breaks, 0.0], strict=True):
        scales.append(Scale(panel, at, at + share * room))
        at += share * room + after
    return Axis(tuple(scales), skips, left, right)


def draw_day_axis(page: Page, axis: Axis, visits: tuple[Point, ...], top: float, line: float) -> SafeText:
    """Draw the axis on its `line`, and what parts panels up to `top`; return what the fine ticks count."""
    baseline = line + _LONG + TEXT * 0.82
    for left, right, skip in axis.breaks:
        middle = (left + right) / 2
        for side in (middle - 2, middle + 2):
            points = zigzag((side, top), (side, line + 4)) if skip else ((side, top), (side, line + 4))
            page.ground.append(stroke(*points, ink=Ink.GREY))
            page.drawn.append(((side, top), (side, line)))
        if skip:
            page.put([_centred(middle, baseline, skip, Ink.GREY)])
    steps: list[SafeText] = []
    for scale in axis.scales:
        made = ticks(scale, None)
        steps.append(again(made.step.split()[1:]))
        page.lines.append(stroke((scale.left, line), (scale.right, line), width=1.4))
        page.lines.append(Stroke(tuple(((x, line), (x, line + _SHORT)) for x in made.fine), Ink.GREY, 0.9))
    for visit in _by_weight(visits):
        x = axis.x(visit.time)
        page.lines.append(stroke((x, line), (x, line + _LONG), width=1.4))
        _label(page, x, baseline, visit, axis)
    return join(", then ", dict.fromkeys(steps))


def _by_weight(visits: tuple[Point, ...]) -> tuple[Point, ...]:
    """Return the first and the last visit, then the others in order."""
    return (visits[0], visits[-1], *visits[1:-1])


def _label(page: Page, x: float, baseline: float, visit: Point, axis: Axis) -> None:
    """Name a visit under its tick, `Day 13` or `13`, with air to its neighbours, or not at all."""
    last = visit.when.split()[-1]
    short = [last] if visit.when == fill("Day {last}", last=last) else []
    for text in (visit.when, *short):
        wide = width(text)
        left = min(max(x - wide / 2, axis.left - 4), page.width - wide)
        if not any(_near(left, wide, other, baseline) for other in page.words) and page.put(
            [Words(left, baseline, text)]
        ):
            return


def _near(left: float, wide: float, other: Words, baseline: float) -> bool:
    beside = left < other.box.right + _AIR and other.x < left + wide + _AIR
    return abs(other.y - baseline) < 1 and beside


def _centred(x: float, baseline: float, text: SafeText, ink: Ink) -> Words:
    return Words(x - width(text) / 2, baseline, text, TEXT, False, ink)


def zigzag(start: Place, end: Place) -> Iterator[Place]:
    """Points of a zigzag between two places on an upright or a level line."""
    long = abs(end[0] - start[0]) + abs(end[1] - start[1])
    upright = start[0] == end[0]
    steps = max(int(long / 7), 2)
    for step in range(steps + 1):
        aside = 2.5 if step % 2 else -2.5
        x = start[0] + (end[0] - start[0]) * step / steps
        y = start[1] + (end[1] - start[1]) * step / steps
        yield (x + aside, y) if upright else (x, y + aside)


def joined_parts(
    axis: Axis, start: tuple[float, float], end: tuple[float, float]
) -> list[tuple[Place, Place]]:
    """Return a line between two (time, height) as it runs in each panel: what is skipped is not drawn."""
    found = []
    for scale in axis.scales:
        first, last = max(start[0], scale.panel.start), min(end[0], scale.panel.end)
        if first < last:
            ends = [(scale.x(time), _at(start, end, time)) for time in (first, last)]
            found += list(pairwise(ends))
    return found


def _at(start: tuple[float, float], end: tuple[float, float], time: float) -> float:
    return start[1] + (end[1] - start[1]) * (time - start[0]) / (end[0] - start[0])
