"""Where everything stands, worked out for what is shown of a story: nothing of what comes has a place."""

from __future__ import annotations

import functools
from dataclasses import dataclass, replace

from mmbuilder.analysis.timeline import MOST_LABELS, Interval, Timeline
from mmbuilder.figures.axis import NOTHING, Axis, make_axis
from mmbuilder.figures.bands import BETWEEN, Band, needed, stacked
from mmbuilder.figures.bars import Bars, bars
from mmbuilder.figures.brackets import ROW, brackets
from mmbuilder.figures.captions import listed_caption
from mmbuilder.figures.days import flagged
from mmbuilder.figures.entries import NAMES, Entry, Key, Lane, entries
from mmbuilder.figures.flags import HEIGHT, Flag, flags, fly, lengthened, pole
from mmbuilder.figures.gutter import gutter, line_key, strip_height
from mmbuilder.figures.lanes import REACH, LanePlan, lane_plans, numbered
from mmbuilder.figures.layout import Placement
from mmbuilder.figures.letters import Letters, bare, hatches, holds_letter, letters, roomy
from mmbuilder.figures.listing import NONE, Line, Listing, listing
from mmbuilder.figures.mode import Mode, modes
from mmbuilder.figures.notes import Extra, notes, paragraph
from mmbuilder.figures.shares import HEARTS, fair, shares
from mmbuilder.figures.strips import Strip, strips
from mmbuilder.figures.style import LINE, TEXT
from mmbuilder.safe.case import DayAndNight
from mmbuilder.safe.text import SafeText, number

_AMPLE = 99
"""More lines than the notes of any chart take."""

_MARGIN = 9.0
"""Right of the axis, for half a mark; points."""

ZONE_ROWS = 1
"""Rows that the box of events without a time takes up above the lane of events."""


@dataclass(frozen=True)
class Plan:
    """All places."""

    width: float
    height: float
    mode: Mode
    axis: Axis
    entries: tuple[Entry, ...]
    lanes: dict[Lane, LanePlan]
    flags: tuple[Flag, ...]
    flag_places: Placement
    bracket_rows: int
    phases: Bars
    recorder: Bars
    strips: tuple[Strip, ...]
    letters: Letters
    listing: Listing
    bands: dict[str, Band]
    need: float
    """Height it asks for."""
    day_and_night: DayAndNight | None = None

    @property
    def poles(self) -> tuple[float, ...]:
        """Where the lines of the flags stand."""
        return tuple(pole(flag, self.axis) for flag in self.flags)

    @property
    def flown(self) -> frozenset[Key]:
        """Events whose words stand under a flag."""
        return frozenset(("event", flag.number) for flag in self.flags if flag.strongest)

    @property
    def labelled(self) -> frozenset[object]:
        """Entries with words of their own."""
        return self.flown | {spot.wish.key for lane in self.lanes.values() for spot in lane.spots}

    @property
    def numbers(self) -> dict[Key, SafeText]:
        """The number of every mark that has one instead of words."""
        tags = (tag for lane in self.lanes.values() for tag in lane.tags)
        return {one.key: number(one.number) for tag in tags for one in tag.members}

    @property
    def unnamed(self) -> frozenset[object]:
        """Entries whose only word is the letter of their note."""
        spots = (spot for lane in self.lanes.values() for spot in lane.spots)
        return frozenset(spot.wish.key for spot in spots if bare(spot.lines))

    def extra(self, shown: Timeline, told: tuple[Interval, ...], until: float) -> Extra:
        """Return what the notes have to tell of what is shown."""
        labelled = self.labelled
        listed = {cell.line.key for cell in self.listing.cells}
        worded = labelled | listed
        return Extra(
            told=told,
            more=sum(e.at.placed and ("event", e.number) not in worded for e in shown.events),
            numbers=self.numbers,
            bars=(*self.phases.unnamed(until), *(self.recorder.unnamed(until) if self.mode.recorder else ())),
            recorder=not self.mode.recorder,
            undrawn=_undrawn(shown, self.strips),
            hatched=_hatched(shown, self.strips, self.axis),
            worded=labelled,
            unnamed=self.unnamed,
        )


def make_plan(timeline: Timeline, wide: float, high: float, *, noted: bool = True) -> Plan:
    """Return the least condensed plan that fits; the most condensed if none does.

    Args:
        timeline: the story.
        wide: the room across; points.
        high: the room down; points.
        noted: whether the notes stand on the drawing; else whoever shows it tells them.
    """
    plan, story = None, entries(timeline)
    for mode in modes() if noted else (replace(mode, notes=0) for mode in modes()):
        plan, told = _drafted(timeline, story, mode, wide, high)
        if needed(_sizes(plan, 0)) > high:
            continue  # numbers and notes only make it higher
        plan = _finished(plan, timeline, told)
        if plan.need <= high:
            return _listed(plan, timeline)
    assert plan is not None
    return plan if plan.bands else _finished(plan, timeline, told)


def full_plan(timeline: Timeline, wide: float, high: float) -> Plan | None:
    """Return the fullest plan, if it fits and leaves no event and no note without its words."""
    story, mode = entries(timeline), next(modes())
    if sum(entry.at.placed for entry in story) > MOST_LABELS:
        return None
    plan, told = _drafted(timeline, story, mode, wide, high)
    if needed(_sizes(plan, 0)) > high:
        return None
    plan = _finished(plan, timeline, told)
    asking = {entry.key for entry in story if entry.at.placed and entry.lane is not Lane.DECISIONS}
    parts = notes(timeline, plan.letters, plan.axis, plan.extra(timeline, told, float("inf")))
    told_whole = asking <= plan.labelled and len(paragraph(parts, wide - 4, _AMPLE)) <= mode.notes
    return plan if told_whole and plan.need <= high else None


def _drafted(
    timeline: Timeline, story: tuple[Entry, ...], mode: Mode, wide: float, high: float
) -> tuple[Plan, tuple[Interval, ...]]:
    """Return places for all but numbers and notes, and the intervals that have no bracket."""
    shown = strips(timeline.series, mode.lines)
    drawn = tuple(line for strip in shown for _, line in strip.lines)
    given = letters(timeline, drawn, None)
    flown = _flown(timeline, given, mode)
    members = _members(story, mode)
    left = gutter(timeline, shown, tuple(NAMES[lane] for lane in members))
    axis, flag_places = _best_axis(timeline, story, flown, left, wide)
    flown = flown if axis.scales else ()
    poles = tuple(pole(flag, axis) for flag in flown)
    given, lanes, flown, flag_places = _worded(timeline, story, mode, axis, flown, flag_places, wide)
    bracketed, told = brackets(timeline, axis, poles, wide)
    phases = bars(((p.name, p.start, p.end) for p in timeline.phases), axis, poles, tight=not mode.names)
    tapes = timeline.recordings if mode.recorder else ()
    recorder = bars(((r.name, r.start, r.end) for r in tapes), axis, poles, tight=not mode.names)
    rows = max((bracket.row + 1 for bracket in bracketed), default=0)
    plan = Plan(
        wide,
        high,
        mode,
        axis,
        story,
        lanes,
        flown,
        flag_places,
        rows,
        phases,
        recorder,
        shown,
        given,
        NONE,
        {},
        0.0,
        timeline.day_and_night,
    )
    return plan, told


def _worded(
    timeline: Timeline,
    story: tuple[Entry, ...],
    mode: Mode,
    axis: Axis,
    flown: tuple[Flag, ...],
    flag_places: Placement,
    wide: float,
) -> tuple[Letters, dict[Lane, LanePlan], tuple[Flag, ...], Placement]:
    """Return letters, lanes and flags in which every letter has a place behind some words."""
    drawn = tuple(line for strip in strips(timeline.series, mode.lines) for _, line in strip.lines)
    silent: frozenset[object] = frozenset()
    while True:
        given = letters(timeline, drawn, axis, silent)
        lanes = _lanes(story, mode.of_lanes, axis, given, flown, wide)
        if axis.scales and (given.given or silent):
            flown = _flown(timeline, given, mode)
            flag_places = fly(flown, axis, wide)
        mute = _mute(given, lanes, flown, flag_places)
        if not mute:
            return given, lanes, *lengthened(flown, flag_places, axis, wide)
        silent |= mute  # they give way, so that the letters of the others run without a hole


def _flown(timeline: Timeline, given: Letters, mode: Mode) -> tuple[Flag, ...]:
    return tuple(flag for flag in flags(timeline, given) if mode.light or flag.strongest)


@functools.lru_cache(maxsize=8)  # many modes differ in other things
def _lanes(
    story: tuple[Entry, ...], mode: Mode, axis: Axis, given: Letters, flown: tuple[Flag, ...], wide: float
) -> dict[Lane, LanePlan]:
    if not axis.scales:
        return {}
    poles = tuple(pole(flag, axis) for flag in flown)
    keys = frozenset(("event", flag.number) for flag in flown if flag.strongest)
    return lane_plans(_members(story, mode), axis, given, keys, poles, mode.room(), wide)


def _mute(
    given: Letters, lanes: dict[Lane, LanePlan], flown: tuple[Flag, ...], places: Placement
) -> frozenset[object]:
    """Return the events that have a letter and found no room for any word to put it behind."""
    placed = {item.label.key for item in places.placed}
    worded: set[object] = {
        ("event", flag.number) for flag in flown if flag.strongest and flag.number in placed
    }
    worded |= {spot.wish.key for lane in lanes.values() for spot in lane.spots}
    return frozenset(anchor for anchor in given.given if isinstance(anchor, tuple)) - worded


def _finished(plan: Plan, timeline: Timeline, told: tuple[Interval, ...]) -> Plan:
    """Add the numbers of what has no words, and the notes."""
    keys = frozenset(("event", flag.number) for flag in plan.flags if flag.strongest)
    rest = _rest(timeline, plan.lanes, keys) if plan.mode.numbers and plan.lanes else ()
    numbers = {line.key: line.number for line in rest}
    members = _members(plan.entries, plan.mode)
    lanes = {
        lane: numbered(made, members[lane], plan.axis, numbers, plan.poles)
        for lane, made in plan.lanes.items()
    }
    return _with_bands(replace(plan, lanes=lanes), timeline, told)


def _with_bands(plan: Plan, timeline: Timeline, told: tuple[Interval, ...]) -> Plan:
    parts = notes(timeline, plan.letters, plan.axis, plan.extra(timeline, told, float("inf")))
    sizes = _sizes(plan, len(paragraph(parts, plan.width - 4, plan.mode.notes)))
    return replace(plan, bands=stacked(sizes, plan.height), need=needed(sizes))


def _listed(plan: Plan, timeline: Timeline) -> Plan:
    """Add the list of what the numbers are, if the height that is left over holds it."""
    flown = frozenset(("event", flag.number) for flag in plan.flags if flag.strongest)
    rest = _rest(timeline, plan.lanes, flown) if plan.mode.numbers else ()
    made = listing(rest, plan.width, plan.height - plan.need - BETWEEN)
    if not made.rows:
        return plan
    told = brackets(timeline, plan.axis, plan.poles, plan.width)[1]
    return _with_bands(replace(plan, listing=made), timeline, told)


def _rest(timeline: Timeline, lanes: dict[Lane, LanePlan], flown: frozenset[Key]) -> tuple[Line, ...]:
    """Return the events that have a mark and no words, by their place in the story (that of the handout)."""
    worded = flown | {spot.wish.key for lane in lanes.values() for spot in lane.spots}
    return tuple(
        Line(("event", event.number), place, listed_caption(event))
        for place, event in enumerate(timeline.events, 1)
        if event.at.placed and ("event", event.number) not in worded
    )


def _members(story: tuple[Entry, ...], mode: Mode) -> dict[Lane, list[Entry]]:
    """Return the placed entries of each lane that has any, in the order of the lanes."""
    found: dict[Lane, list[Entry]] = {}
    for lane in Lane:
        inside = [entry for entry in story if entry.at.placed and mode.lane(entry.lane) is lane]
        if inside:
            found[lane] = inside
    return found


@functools.lru_cache(maxsize=8)
def _best_axis(
    timeline: Timeline, story: tuple[Entry, ...], flown: tuple[Flag, ...], left: float, wide: float
) -> tuple[Axis, Placement]:
    """Return the fair axis with the least heart at which flags and lengths take the fewest rows."""
    if not timeline.panels:
        return NOTHING, Placement((), ())
    tried: list[_Tried] = []
    for hearts in HEARTS if any(panel.heart for panel in timeline.panels) else (HEARTS[0][:1],):
        if all(one.unfair for one in tried):
            tried += (_tried(timeline, story, flown, left, wide, heart) for heart in hearts)
    best = min(tried, key=lambda one: one.cost)
    return best.axis, best.places


@dataclass(frozen=True)
class _Tried:
    """An axis, and what its lengths and flags cost.

    Attributes:
        unfair: its heart, where the eye would take a longer wait for a shorter one; else nothing.
        rows: that they take.
        beside: lengths that do not stand over their bracket.
    """

    axis: Axis
    places: Placement
    unfair: float
    rows: int
    beside: int

    @property
    def cost(self) -> tuple[float, int, int]:
        """The less, the better."""
        return self.unfair, self.rows, self.beside


def _tried(
    timeline: Timeline,
    story: tuple[Entry, ...],
    flown: tuple[Flag, ...],
    left: float,
    wide: float,
    heart: float,
) -> _Tried:
    axis = make_axis(timeline, left, wide - _MARGIN, shares(timeline, story, heart))
    places = fly(flown, axis, wide)
    drawn, _ = brackets(timeline, axis, tuple(pole(flag, axis) for flag in flown), wide)
    rows = places.rows + max((bracket.row + 1 for bracket in drawn), default=0) + 4 * len(places.unplaced)
    unfair = 0.0 if fair(timeline, axis) else heart
    return _Tried(axis, places, unfair, rows, sum(not bracket.over for bracket in drawn))


def _sizes(plan: Plan, note_lines: int) -> dict[str, float]:
    """Return the least height of every band that is wanted, from the top."""
    some = bool(plan.axis.scales)
    sizes = {
        "flags": plan.flag_places.rows * HEIGHT if plan.flags else 0.0,
        "brackets": plan.bracket_rows * ROW,
        "phases": plan.phases.height,
        **{lane.value: _lane_height(plan, lane) for lane in plan.lanes},
        "recorder": plan.recorder.height,
        **{f"strip{place}": strip_height(strip) for place, strip in enumerate(plan.strips) if some},
        "axis": TEXT + 6 if some else 0.0,
        "units": LINE if some and (plan.mode.units or any(flagged(plan.day_and_night, plan.axis))) else 0.0,
        "listed": plan.listing.height,
        "body": 0.0 if some else plan.height - LINE * note_lines - 6,
        "notes": LINE * note_lines + 2,
    }
    return {name: size for name, size in sizes.items() if size}


def _lane_height(plan: Plan, lane: Lane) -> float:
    untimed = lane is next(iter(plan.lanes)) and any(not entry.at.placed for entry in plan.entries)
    least = LINE * (ZONE_ROWS + 1) + 3 if untimed else 2 * REACH + 3
    return max(plan.lanes[lane].height, least + plan.lanes[lane].foot)


def _undrawn(timeline: Timeline, shown: tuple[Strip, ...]) -> tuple[SafeText, ...]:
    """Return the names of the lines of readings that the plan has no place for."""
    drawn = {line_key(line) for strip in shown for _, line in strip.lines}
    return tuple(line.name for line in timeline.series if line_key(line) not in drawn)


def _hatched(shown: Timeline, strips_: tuple[Strip, ...], axis: Axis) -> dict[SafeText, bool]:
    """Return the reasons of gaps that are seen and have no room for them, with whether a letter has."""
    drawn = {line_key(line) for strip in strips_ for _, line in strip.lines}
    lines = (line for line in shown.series if line_key(line) in drawn)
    found: dict[SafeText, bool] = {}
    for gap in hatches(lines, axis):
        if not roomy(gap, axis):
            found[gap.reason] = found.get(gap.reason, False) or holds_letter(gap, axis)
    return found
