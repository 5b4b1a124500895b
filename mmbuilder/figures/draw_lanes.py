"""Draw the lanes: a mark for every entry, words for those that the plan has words for."""

from __future__ import annotations

from mmbuilder.figures.captions import HINDSIGHT
from mmbuilder.figures.entries import NAMES, Entry, Key, Lane
from mmbuilder.figures.labels import Spot
from mmbuilder.figures.lanes import ARROW, mark_x
from mmbuilder.figures.pen import Pen
from mmbuilder.figures.sheet import Dots, Shape, Stroke, stroke
from mmbuilder.figures.style import LINE, TEXT, Ink
from mmbuilder.safe.text import SafeText, again, fill

_SIZES = {"strong": 14.0, "worded": 10.5, "plain": 8.0}
"""Of marks, by how much they matter; points across."""


def draw_lanes(pen: Pen) -> None:
    """Draw every lane that has something to show."""
    for lane in pen.plan.lanes:
        members = {e.key: e for e in pen.entries if e.at.placed and pen.plan.mode.lane(e.lane) is lane}
        if members:
            _lane(pen, lane, members)


def _lane(pen: Pen, lane: Lane, members: dict[Key, Entry]) -> None:
    band = pen.band(lane.value)
    y = pen.plan.lanes[lane].marks(band.bottom)
    pen.ground.append(Stroke(pen.rules(band.bottom), Ink.RULE, 0.7))
    pen.name(NAMES[lane], y + TEXT * 0.33)
    for spot in pen.plan.lanes[lane].spots:
        if isinstance(spot.wish.key, tuple) and spot.wish.key in members:
            _words(pen, spot, members[spot.wish.key], y)
    for entry in sorted(members.values(), key=lambda e: (e.strong, e.key in pen.plan.labelled)):
        _mark(pen, entry, y)
    for tag in filter(None, (tag.of(members) for tag in pen.plan.lanes[lane].tags)):
        pen.write(tag.left, band.bottom - 4, tag.text, ink=Ink.BLUE)


def _words(pen: Pen, spot: Spot, entry: Entry, y: float) -> None:
    foot = y + TEXT * 0.33 - spot.row * LINE
    lines = _now(pen, spot, entry)
    for index, line in enumerate(lines):
        pen.write(spot.start, foot - (len(lines) - 1 - index) * LINE, line)
    if spot.row:
        beside = not spot.start < spot.wish.x < spot.end
        top = foot - (TEXT * 0.6 if beside else -2.0)
        pen.lines.append(stroke((spot.wish.x, top), (spot.wish.x, y), ink=Ink.GREY, width=0.9))


def _now(pen: Pen, spot: Spot, entry: Entry) -> tuple[SafeText, ...]:
    """Return the words of the plan, without what nobody could know yet at the cut."""
    dropped = set() if entry.disputed else {fill("({letter})", letter=pen.plan.letters.of(entry.key))}
    if pen.until != float("inf"):
        dropped |= set(HINDSIGHT.split())
    kept = [again(word for word in line.split() if word not in dropped) for line in spot.lines]
    return tuple(line for line in kept if line)


def _mark(pen: Pen, entry: Entry, y: float) -> None:
    x = mark_x(entry, pen.plan.axis)
    _uncertain(pen, entry, x, y)
    look = "strong" if entry.strong else "worded" if entry.key in pen.plan.labelled else "plain"
    for other in entry.others:
        if other.centre is not None:
            there = pen.plan.axis.x(other.centre)
            pen.lines.append(stroke((x, y), (there, y), width=0.9))
            pen.marks.append(Dots(((there, y),), entry.shape, _SIZES[look], Ink.BLACK, hollow=True))
    hollow = entry.shape in (Shape.RING, Shape.SQUARE)
    ink = Ink.BLACK if entry.strong else Ink.BLUE
    pen.marks.append(Dots(((x, y),), entry.shape, _SIZES[look] - 1.5 * hollow, ink, hollow=hollow))


def _uncertain(pen: Pen, entry: Entry, x: float, y: float) -> None:
    lo, hi = entry.at.lo, entry.at.hi
    if lo is None or hi is None:
        tip = x + (ARROW if hi is None else -ARROW)
        back = tip - 6 if hi is None else tip + 6
        head = ((back, y - 4.5), (tip, y), (back, y + 4.5))
        pen.lines.append(Stroke((((x, y), (tip, y)), head), Ink.BLACK, 1.6))
    elif hi > lo:
        for left, right in pen.pieces(lo, hi):
            ends = (((left, y - 5), (left, y + 5)), ((right, y - 5), (right, y + 5)))
            pen.lines.append(Stroke((((left, y), (right, y)), *ends), Ink.BLACK, 1.6))
