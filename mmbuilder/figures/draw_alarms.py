"""Draw the alarm limits that were set that day; none is ever taken from a list of usual ones."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import TYPE_CHECKING

from mmbuilder.figures.gutter import line_name, tick
from mmbuilder.figures.sheet import Box, Dash, Dots, Point, Stroke, Words
from mmbuilder.figures.strips import Scale
from mmbuilder.figures.style import TEXT, Ink, width
from mmbuilder.safe.case import Series
from mmbuilder.safe.text import SafeText, fill

if TYPE_CHECKING:
    from mmbuilder.figures.pen import Pen

_STEP = 24.0
"""From one place that is tried for the words to the next; points."""


def draw_alarms(pen: Pen, line: Series, scale: Scale, *, named: bool) -> None:
    """Draw each limit as far as the cut shows, with its words; `named` if the strip has other lines."""
    if line.alarm_low is not None:
        text = fill("alarm below {limit}", limit=tick(line.alarm_low))
        _limit(pen, scale.y(line.alarm_low), _whose(line, text, named=named), scale)
    if line.alarm_high is not None:
        text = fill("alarm above {limit}", limit=tick(line.alarm_high))
        _limit(pen, scale.y(line.alarm_high), _whose(line, text, named=named), scale)


def _whose(line: Series, text: SafeText, *, named: bool) -> SafeText:
    return fill("{name}: {text}", name=line_name(line.name), text=text) if named else text


def _limit(pen: Pen, y: float, text: SafeText, scale: Scale) -> None:
    panels = pen.plan.axis.scales
    pieces = pen.pieces(panels[0].panel.start, panels[-1].panel.end)
    drawn = tuple(((left, y), (right, y)) for left, right in pieces if right > left)
    pen.lines.append(Stroke(drawn, Ink.GREY, 1.2, Dash.DASHED))
    around = Box(pen.plan.axis.left, y - 1.5 * TEXT, pen.plan.axis.right, y + 1.5 * TEXT)
    taken = _taken(pen, around, y)
    # Words without a plate, so that no reading is hidden: they stand where nothing is, or in the notes only.
    places = _places(pieces, y, text, scale)
    pen.free(words for words in places if not any(_meets(words.box, *segment) for segment in taken))


def _places(pieces: list[tuple[float, float]], y: float, text: SafeText, scale: Scale) -> Iterator[Words]:
    wide = width(text)
    for left, right in reversed(pieces):
        start = right - wide - 3
        while start >= left:
            for baseline in (y - 3, y + 0.85 * TEXT):
                if scale.band.top + 0.75 * TEXT <= baseline <= scale.band.bottom - 0.2 * TEXT:
                    yield Words(start, baseline, text, ink=Ink.GREY)
            start -= _STEP


_Segment = tuple[Point, Point]


def _taken(pen: Pen, around: Box, y: float) -> list[_Segment]:
    """Return readings, lines and hatches beside a limit, as segments; not the limit, nor the faint rules."""
    found: list[_Segment] = []
    for item in (*pen.ground, *pen.lines, *pen.marks):
        if isinstance(item, Dots):
            found += [(point, point) for point in item.points if around.top < point[1] < around.bottom]
        elif isinstance(item, Stroke) and item.ink is not Ink.RULE:
            pairs = (pair for line in item.lines for pair in pairwise(line))
            found += [pair for pair in pairs if _beside(pair, around) and pair[0][1] != y]
    return found


def _beside(pair: _Segment, around: Box) -> bool:
    low, high = sorted((pair[0][1], pair[1][1]))
    return low < around.bottom and high > around.top


def _meets(box: Box, start: Point, end: Point) -> bool:
    """Whether a segment comes within three points of a box."""
    left, top, right, bottom = box.left - 3, box.top - 3, box.right + 3, box.bottom + 3
    first, last = 0.0, 1.0
    for low, high, at, to in ((left, right, start[0], end[0]), (top, bottom, start[1], end[1])):
        if at == to:
            if not low < at < high:
                return False
            continue
        ends = sorted(((low - at) / (to - at), (high - at) / (to - at)))
        first, last = max(first, ends[0]), min(last, ends[1])
    return first < last or (first == last and start == end)
