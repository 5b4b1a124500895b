"""Where everything stands, worked out once for the whole story.

Cuts of one story share a plan: a lane, a label or a bracket is where it will be when the
rest is shown, so the room's eye stays put. The plan holds places; what is drawn into them
comes from the cut alone.

If words do not fit, labels become numbers with a list beside; if that does not fit either,
the lanes are put together.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum

from mmbuilder.analysis.timeline import Timeline
from mmbuilder.figures.axis import Axis, make_axis
from mmbuilder.figures.bars import Bars, bars
from mmbuilder.figures.entries import NAMES, Entry, Key, Lane, entries
from mmbuilder.figures.flags import ROW, Flag, brackets, flags
from mmbuilder.figures.layout import Label, Placement, place
from mmbuilder.figures.notes import Letters, letters, notes, paragraph, reason_of
from mmbuilder.figures.strips import Strip, bounds, strips
from mmbuilder.figures.style import FLAG, LINE, TEXT, fit, width, wrap
from mmbuilder.safe.case import Gap, Series
from mmbuilder.safe.text import SafeText, clip, fill, join, number, wording

MANY = 12
"""With more labels than this, they are numbered and listed beside (common practice, no source)."""

REACH = 7.0
"""Half of a mark, and of the ground around it; points."""

ARROW = 26.0
"""Length of the open arrow of an event known only to be before or after; points."""

FLAG_LINE = FLAG * 1.2
"""Height of one row of flags; points."""

_ROWS = 6
"""Most rows of labels in a lane, beside the row of its marks."""

_NUMBER_ROWS = 2

_MERGE = (9.0, 16.0, 26.0, 40.0, 80.0, 2000.0)
"""Marks of a lane closer than this share one number label, the least that works; points."""

_COLUMN = 226.0
"""Width of the list beside; points."""

_SLIM = 190.0
"""Width of each column where there are two; points."""

_ZONE = 150.0
"""Width of the zone of events without a time; points."""

_NARROW_ZONE = 64.0

_BETWEEN = 3.0
"""Least distance between bands; points."""


class Lanes(Enum):
    """Which lanes are put together."""

    APART = "apart"
    PAIRED = "paired"
    ONE = "one"


_TOGETHER: dict[Lanes, dict[Lane, Lane]] = {
    Lanes.APART: {},
    Lanes.PAIRED: {Lane.DECISIONS: Lane.EVENTS, Lane.PEOPLE: Lane.DRUGS},
    Lanes.ONE: {Lane.DECISIONS: Lane.EVENTS, Lane.PEOPLE: Lane.EVENTS, Lane.DRUGS: Lane.EVENTS},
}


@dataclass(frozen=True)
class Mode:
    """How far the chart is condensed."""

    numbered: bool
    lanes: Lanes
    columns: int = 0
    squeeze: int = 0
    """How many of the lesser things are given up: 1 notes beyond two lines, 2 flags but the three
    marks, 3 names beside bars and a third bracket, 4 lines of readings but the first. What is
    given up is told in the notes."""


@dataclass(frozen=True)
class Band:
    """A horizontal stretch of the drawing; points from the top."""

    top: float
    bottom: float

    @property
    def middle(self) -> float:
        """Its centre line."""
        return (self.top + self.bottom) / 2


@dataclass(frozen=True)
class Plan:
    """All places."""

    width: float
    height: float
    mode: Mode
    axis: Axis
    entries: tuple[Entry, ...]
    lanes: dict[Lane, Placement]
    flags: tuple[Flag, ...]
    flag_places: Placement
    phases: Bars
    recorder: Bars
    strips: tuple[Strip, ...]
    letters: Letters
    bands: dict[str, Band]
    listing: tuple[tuple[Entry, float, float, tuple[SafeText, ...]], ...]
    """(entry, x, baseline of its first line, lines)."""
    unlisted: int
    zone: tuple[float, float] | None
    """Left and right of the zone of events without a time."""
    right: float
    """Where the list begins, or the frame ends."""
    need: float
    """Height it asks for."""

    def lane_of(self, entry: Entry) -> Lane:
        """Return the lane an entry stands in."""
        return lane_in(self.mode, entry)


def lane_in(mode: Mode, entry: Entry) -> Lane:
    """Return the lane an entry stands in, its own or the one that took it up."""
    return _TOGETHER[mode.lanes].get(entry.lane, entry.lane)


def make_plan(timeline: Timeline, wide: float, high: float) -> Plan:
    """Return the least condensed plan that fits; the most condensed if none does."""
    story = entries(timeline)
    numbered = [Mode(True, lanes, _columns(story, high)) for lanes in Lanes]
    numbered += [replace(numbered[-1], squeeze=level) for level in range(1, 5)]
    modes = numbered if len(story) > MANY else [Mode(False, Lanes.APART), *numbered]
    plan = None
    for mode in modes:
        plan = _plan(timeline, story, wide, high, mode)
        if plan is not None and plan.need <= high:
            return plan
    assert plan is not None
    return plan


def _columns(story: tuple[Entry, ...], high: float) -> int:
    return 1 if len(story) * LINE <= high else 2


def _listed(story: tuple[Entry, ...], capacity: int, wide: float) -> list[tuple[SafeText, ...]]:
    """Return each entry's lines in the list beside; one line each if they would not fit otherwise."""
    wrapped = [wrap(entry.text, wide)[:2] or (wording("…"),) for entry in story]
    if sum(map(len, wrapped)) <= capacity:
        return wrapped
    return [(fit(entry.text, wide) or wording("…"),) for entry in story]


def _plan(timeline: Timeline, story: tuple[Entry, ...], wide: float, high: float, mode: Mode) -> Plan | None:
    right = wide - (mode.columns * _column(mode) if mode.numbered else 0)
    zone_width = _zone_width(story, mode)
    shown = strips(timeline.series[:1] if mode.squeeze > 3 else timeline.series)
    gutter = _gutter(story, shown, timeline, mode)
    edge = right - (zone_width + 12 if zone_width else 0)
    axis = make_axis(timeline, gutter, edge - _margin(timeline, shown))
    lanes = _lanes(story, axis, mode, edge)
    flown = tuple(flag for flag in flags(timeline) if mode.squeeze < 2 or flag.strongest)
    flag_places = place((_flag_label(flag, axis) for flag in flown), 0, edge, rows=5, inline=False)
    short = _short_gaps(timeline, axis)
    given = letters(timeline, short)
    tight = mode.squeeze > 2
    phases = bars(((p.name, p.start, p.end) for p in timeline.phases), axis, tight=tight)
    recorder = bars(((r.name, r.start, r.end) for r in timeline.recordings), axis, tight=tight)
    drawn, told = brackets(timeline, axis, tight=tight) if axis.scales else ((), timeline.intervals)
    unnamed = [text for made in (phases, recorder) for text in made.unnamed(float("inf"))]
    parts = notes(timeline, given, told, unnamed, undrawn(timeline, shown))
    lines = paragraph(parts, right - 8, note_lines(mode))
    rows = max((bracket.row + 1 for bracket in drawn), default=0)
    sizes = {
        "flags": flag_places.rows * FLAG_LINE + 2 if flown else 0.0,
        "brackets": rows * ROW,
        "phases": phases.height,
        **{lane.value: _lane_height(placement, mode) for lane, placement in lanes.items()},
        "recorder": recorder.height,
        **{f"strip{index}": _strip_height(strip) for index, strip in enumerate(shown)},
        "axis": LINE + 6 if axis.scales else 0.0,
        "units": LINE if len(axis.scales) > 1 else 0.0,
        "notes": LINE * len(lines) + 2,
    }
    sizes = {name: size for name, size in sizes.items() if size}
    need = sum(sizes.values()) + _BETWEEN * (len(sizes) - 1)
    if not mode.numbered and any(placement.unplaced for placement in lanes.values()):
        need = float("inf")
    listing, unlisted = _listing(story, mode, right, high)
    return Plan(
        wide, high, mode, axis, story, lanes, flown, flag_places, phases, recorder, shown, given,
        _bands(sizes, high), listing, unlisted,
        (right - zone_width, right) if zone_width else None, right, need,
    )  # fmt: skip


def note_lines(mode: Mode) -> int:
    """Return how many lines of notes there may be."""
    return 4 if mode.squeeze < 1 else 2 if mode.squeeze < 4 else 1


def undrawn(timeline: Timeline, shown: tuple[Strip, ...]) -> tuple[SafeText, ...]:
    """Return the names of the lines of readings that the plan has no place for."""
    drawn = {line_key(line) for strip in shown for _, line in strip.lines}
    return tuple(line.name for line in timeline.series if line_key(line) not in drawn)


def line_key(line: Series) -> tuple[SafeText, SafeText]:
    """Return what tells a line of readings apart in a plan and its cuts."""
    return line.name, line.unit


def _zone_width(story: tuple[Entry, ...], mode: Mode) -> float:
    if all(entry.at.placed for entry in story):
        return 0.0
    return _NARROW_ZONE if mode.numbered else _ZONE


def lane_name(mode: Mode, lane: Lane) -> SafeText:
    """Return what stands beside a lane."""
    return wording("Drugs, staff") if mode.lanes is Lanes.PAIRED and lane is Lane.DRUGS else NAMES[lane]


def _gutter(story: tuple[Entry, ...], shown: tuple[Strip, ...], timeline: Timeline, mode: Mode) -> float:
    names = [lane_name(mode, lane_in(mode, entry)) for entry in story if entry.at.placed]
    names += [wording("Phase")] if timeline.phases else []
    names += [wording("Recorder")] if timeline.recordings else []
    widest = max([width(name) for name in names], default=0.0)
    units = [min(width(strip.unit), 80.0) + 12 + width(tick) for strip in shown for tick in ends(strip)]
    return max([widest, *units]) + 10


def ends(strip: Strip) -> tuple[SafeText, SafeText]:
    """Return the labels at the ends of a strip's scale."""
    low, high = bounds(strip)
    return tick(low), tick(high)


def tick(value: float) -> SafeText:
    """Return a reading as a tick label."""
    return number(value, "g")


def _margin(timeline: Timeline, shown: tuple[Strip, ...]) -> float:
    """Return room for the names at the end of lines that run up to the end of the axis."""
    if not timeline.panels:
        return 8.0
    last = timeline.panels[-1]
    late = last.end - 0.25 * (last.end - last.start)
    lines = [line for strip in shown for _, line in strip.lines]
    names = [
        width(line_name(line.name), bold=True) for line in lines if line.points and line.points[-1][0] > late
    ]
    return max(names, default=0.0) + 16


def line_name(name: SafeText) -> SafeText:
    """Return the name that stands at the end of a line."""
    return clip(name, 3)


def _lanes(story: tuple[Entry, ...], axis: Axis, mode: Mode, edge: float) -> dict[Lane, Placement]:
    placements = {}
    for lane in Lane:
        members = [e for e in story if e.at.placed and lane_in(mode, e) is lane]
        if members:
            placements[lane] = (
                _numbered(members, axis, edge) if mode.numbered else _worded(members, axis, edge)
            )
    return placements


def _worded(members: list[Entry], axis: Axis, edge: float) -> Placement:
    return place(_word_labels(members, axis), axis.left - 4, edge, rows=_ROWS, inline=True)


def _numbered(members: list[Entry], axis: Axis, edge: float) -> Placement:
    """Place numbers in few rows; where they crowd, neighbours share one label."""
    tried = [
        place(_number_labels(members, axis, apart), axis.left - 4, edge, rows=_NUMBER_ROWS, inline=True)
        for apart in _MERGE
    ]
    return min(tried, key=lambda placement: (len(placement.unplaced), placement.rows > 1))


def _word_labels(members: list[Entry], axis: Axis) -> list[Label]:
    return [_label((entry,), entry.text, axis) for entry in members]


def _number_labels(members: list[Entry], axis: Axis, apart: float) -> list[Label]:
    groups: list[list[Entry]] = []
    for entry in sorted(members, key=lambda e: (mark_x(e, axis), e.number)):
        if groups and mark_x(entry, axis) - mark_x(groups[-1][0], axis) < apart:
            groups[-1].append(entry)
        else:
            groups.append([entry])
    return [_label(tuple(group), numbers(group), axis) for group in groups]


def numbers(group: list[Entry]) -> SafeText:
    """Return the numbers of marks that share a label: `4`, `4–6`, `4, 7`."""
    values = sorted(entry.number for entry in group)
    if len(values) > 2 and values[-1] - values[0] == len(values) - 1:
        return fill("{first}–{last}", first=values[0], last=values[-1])
    return join(", ", map(number, values))


def _label(group: tuple[Entry, ...], text: SafeText, axis: Axis) -> Label:
    spans = [mark_span(entry, axis) for entry in group]
    keys: tuple[Key, ...] = tuple(entry.key for entry in group)
    wide = width(text) + (width(wording(" (m)")) if any(entry.others for entry in group) else 0)
    return Label(keys, mark_x(group[0], axis), wide, min(s[0] for s in spans), max(s[1] for s in spans))


def mark_x(entry: Entry, axis: Axis) -> float:
    """Return where an entry's mark stands; it must have a place in time."""
    assert entry.at.centre is not None
    return axis.x(entry.at.centre)


def mark_span(entry: Entry, axis: Axis) -> tuple[float, float]:
    """Return how far an entry reaches: bar of uncertainty, open arrow, times of other sources."""
    x = mark_x(entry, axis)
    left, right = x - REACH, x + REACH
    if entry.at.lo is None:
        left = x - ARROW - 2
    elif entry.at.hi is None:
        right = x + ARROW + 2
    else:
        left, right = min(left, axis.x(entry.at.lo) - 2), max(right, axis.x(entry.at.hi) + 2)
    centres = [axis.x(other.centre) for other in entry.others if other.centre is not None]
    return min([left, *(c - REACH for c in centres)]), max([right, *(c + REACH for c in centres)])


def _flag_label(flag: Flag, axis: Axis) -> Label:
    assert flag.at.centre is not None
    x = axis.x(flag.at.centre)
    return Label(flag.number, x, width(flag.text, FLAG, bold=True), x - 1, x + 1)


def _lane_height(placement: Placement, mode: Mode) -> float:
    return LINE * (placement.rows + 1) + 2


def _strip_height(strip: Strip) -> float:
    return max(2 * TEXT + 6, 16.0 * len(strip.lines) + 4)


def _short_gaps(timeline: Timeline, axis: Axis) -> list[SafeText]:
    gaps = [gap for line in timeline.series for gap in line.gaps]
    return [reason_of(gap.reason) for gap in sorted(gaps, key=lambda g: g.start) if not roomy(gap, axis)]


def roomy(gap: Gap, axis: Axis) -> bool:
    """Whether a gap is wide enough to have its reason written in it."""
    pieces = axis.pieces(gap.start, gap.end)
    return any(right - left >= width(reason_of(gap.reason)) + 8 for left, right in pieces)


def _listing(
    story: tuple[Entry, ...], mode: Mode, right: float, high: float
) -> tuple[tuple[tuple[Entry, float, float, tuple[SafeText, ...]], ...], int]:
    """Place the list in its columns; return it and how many entries found no room."""
    if not mode.numbered:
        return (), 0
    made: list[tuple[Entry, float, float, tuple[SafeText, ...]]] = []
    column = line = 0
    rows = int(high // LINE)
    kept = story if len(story) <= rows * mode.columns else story[: rows * mode.columns - 1]
    for entry, lines in zip(kept, _listed(kept, rows, _column(mode) - 50), strict=True):
        if line + len(lines) > rows:
            column, line = column + 1, 0
        made.append((entry, right + column * _column(mode) + 12, line * LINE + TEXT, lines))
        line += len(lines)
    return tuple(made), len(story) - len(kept)


def _column(mode: Mode) -> float:
    return _COLUMN if mode.columns < 2 else _SLIM


def _bands(sizes: dict[str, float], high: float) -> dict[str, Band]:
    """Stack the bands; what is left over goes to the readings, then between the bands."""
    left = high - sum(sizes.values()) - _BETWEEN * (len(sizes) - 1)
    readings = [name for name in sizes if name.startswith("strip")]
    for name in readings:
        more = min(max(left, 0.0) / len(readings) * 0.85, 120.0)
        sizes = {**sizes, name: sizes[name] + more}
    spare = high - sum(sizes.values()) - _BETWEEN * (len(sizes) - 1)
    between = max(_BETWEEN + spare / max(len(sizes) - 1, 1), 0.0)
    bands, top = {}, 0.0
    for name, size in sizes.items():
        bands[name] = Band(top, top + size)
        # The flags stand on their brackets, and the units under their ticks.
        close = name in ("flags", "axis") and len(sizes) > 2
        top += size + (min(2.0, between) if close else between)
    return bands
