"""What is told in words under the chart, what matters most first."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from itertools import pairwise

from mmbuilder.analysis.conflicts import disagreements
from mmbuilder.analysis.describe import lengths
from mmbuilder.analysis.nights import said
from mmbuilder.analysis.timeline import Interval, Timeline
from mmbuilder.figures.axis import Axis
from mmbuilder.figures.captions import with_dose
from mmbuilder.figures.days import shaded
from mmbuilder.figures.letters import Letters
from mmbuilder.figures.style import wrap
from mmbuilder.safe.case import Event, Series
from mmbuilder.safe.moment import DAY, Elapsed, Moment, clock, duration
from mmbuilder.safe.text import EMPTY, SafeText, clip, fill, join, number, phrase, wording

_ZERO_WORDS = 8


@dataclass(frozen=True)
class Extra:
    """What else the drawing found no place for.

    Attributes:
        told: intervals without room for their lengths.
        more: how many events have a mark and neither words nor a line in the list.
        numbers: what stands under the marks without words.
        bars: names of phases and recordings, with their start.
        recorder: whether the recorder has no lane and is told here.
        undrawn: lines of readings without a strip.
        hatched: why readings are missing, where a gap has no room to say so; with whether a letter has room.
        worded: entries that have words, and with them the letter of their note.
        unnamed: those of them whose only word is that letter.
    """

    told: tuple[Interval, ...] = ()
    more: int = 0
    numbers: Mapping[tuple[str, int], SafeText] = field(default_factory=dict)
    bars: tuple[SafeText, ...] = ()
    recorder: bool = False
    undrawn: tuple[SafeText, ...] = ()
    hatched: Mapping[SafeText, bool] = field(default_factory=dict)
    worded: frozenset[object] = frozenset()
    unnamed: frozenset[object] = frozenset()


def notes(shown: Timeline, given: Letters, axis: Axis, extra: Extra) -> tuple[SafeText, ...]:
    """Return every note that what is shown calls for."""
    return tuple(note for note in _notes(shown, given, axis, extra) if note)


def _notes(shown: Timeline, given: Letters, axis: Axis, extra: Extra) -> Iterator[SafeText]:
    yield fill("T+0 = {zero}", zero=_zero(shown)) if shown.zero else EMPTY
    yield _night(shown, axis)
    yield shown.clock
    yield from (fill("{name}: {length}", name=i.name, length=lengths(i)) for i in extra.told)
    # What has a letter in the order of the letters, then what is told by name or look.
    lettered = sorted((*_conflicts(shown, given, extra), *_reasons(given, extra)), key=_place)
    yield from (note for _, note in lettered)
    yield _unexplained(shown.series, axis)
    yield _alarms(shown.series)
    yield wording("× artefact") if any(line.artefacts for line in shown.series) else EMPTY
    yield _more(extra.more, numbered=bool(extra.numbers))
    yield _untimed(shown) if axis.scales else EMPTY
    yield from _off_axis(shown.series, axis)
    yield from _device_values(shown.series)
    names = join(", ", extra.undrawn)
    yield fill("not drawn: {names}", names=names) if names else EMPTY
    yield from extra.bars
    yield _recorder(shown) if extra.recorder else EMPTY


def _zero(shown: Timeline) -> SafeText:
    """Return what T+0 is; by the label of its event if that is shorter."""
    same = (event.label for event in shown.events if event.what == shown.zero and event.label)
    return next(same, clip(shown.zero, _ZERO_WORDS))


def _alarms(series: Iterable[Series]) -> SafeText:
    """Tell every alarm limit: on the chart its words stand only where they are in nobody's way."""
    told: list[SafeText] = []
    for line in series:
        if line.alarm_low is not None:
            told.append(fill("{name} below {limit}", name=line.name, limit=number(line.alarm_low, "g")))
        if line.alarm_high is not None:
            told.append(fill("{name} above {limit}", name=line.name, limit=number(line.alarm_high, "g")))
    limits = join(", ", told)
    return fill("alarm limits set that day (grey dashes): {limits}", limits=limits) if told else EMPTY


def _night(shown: Timeline, axis: Axis) -> SafeText:
    """Say what is shaded, if anything is."""
    known = shown.day_and_night
    return said(known) if known is not None and any(shaded(known, axis)) else EMPTY


def _more(count: int, *, numbered: bool) -> SafeText:
    if not count:
        return EMPTY
    noun = wording("event") if count == 1 else wording("events")
    if numbered:
        return fill("{n} more {noun} in the handout, by number", n=number(count), noun=noun)
    return fill("{n} more {noun} in the handout", n=number(count), noun=noun)


def _untimed(shown: Timeline) -> SafeText:
    """Tell the events that have no time, each behind the one it was told after."""
    found, last = [], EMPTY
    for event in shown.events:
        if event.at.placed:
            last = clock(event.at)
        else:
            after = fill(" (after {when})", when=last) if last else EMPTY
            found.append(fill("{what}{after}", what=_name(event), after=after))
    told = join(", ", found)
    return fill("order known, time unknown: {told}", told=told) if told else EMPTY


def _name(event: Event) -> SafeText:
    return with_dose(phrase(event.label or event.what, 6), EMPTY)


def _place(lettered: tuple[int, SafeText]) -> int:
    return lettered[0]


def _conflicts(shown: Timeline, given: Letters, extra: Extra) -> Iterator[tuple[int, SafeText]]:
    """Tell every source that disagrees, behind its letter or number on the chart; by name if it has none."""
    for event in shown.events:
        key = ("event", event.number)
        worded = key in extra.worded
        on_chart = given.of(key) if worded else extra.numbers.get(key, EMPTY)
        # A number can be looked up; a letter alone cannot.
        name = _name(event) if not on_chart or key in extra.unnamed else EMPTY
        which = join(", ", (on_chart, name))
        told = [*_times(event), *disagreements(event)]
        if told:
            yield given.place(key), fill("{which}: {told}", which=which, told=join("; ", told))


def _times(event: Event) -> Iterator[SafeText]:
    if event.others:
        times = [(event.at, event.source), *((other.at, other.source) for other in event.others)]
        yield join(" or ", (_timed(clock(at), source) for at, source in times))


def _timed(when: SafeText, source: SafeText) -> SafeText:
    return fill("{when} ({source})", when=when, source=source) if source else when


def _reasons(given: Letters, extra: Extra) -> Iterator[tuple[int, SafeText]]:
    """Tell why readings are missing, behind its letter; a hatch too narrow for one has only its look."""
    for reason, lettered in extra.hatched.items():
        if lettered and given.of(reason):
            yield given.place(reason), fill("{letter}: {reason}", letter=given.of(reason), reason=reason)
        else:
            yield len(given.given), fill("narrow hatch: {reason}", reason=reason)


def _unexplained(series: Iterable[Series], axis: Axis) -> SafeText:
    """Say what a broken line is where nobody said why there are no readings."""
    gaps = (gap for line in series for gap in line.gaps if not gap.reason)
    if any(axis.pieces(gap.start, gap.end) for gap in gaps):
        return wording("line broken: no readings, no reason stated")
    return EMPTY


def _off_axis(series: Iterable[Series], axis: Axis) -> Iterator[SafeText]:
    """Tell readings that lie too far from the story to be drawn."""
    for line in series:
        for time, value in _outside(line, axis):
            side = wording("before") if time < 0 else wording("after")
            length = duration(Elapsed(abs(time), abs(time), DAY if abs(time) >= 2 * DAY else 1.0))
            yield fill(
                "off the axis: {name} {value} {unit}, {length} {side} T+0",
                name=line.name, value=number(value, "g"), unit=line.unit, length=length, side=side,
            )  # fmt: skip


def _device_values(series: Iterable[Series]) -> Iterator[SafeText]:
    """Tell how many values of a device were no readings."""
    for line in series:
        if line.dropped > 1:
            yield fill("{n} device values of {name} are no readings", n=line.dropped, name=line.name)
        elif line.dropped:
            yield fill("one device value of {name} is no reading", name=line.name)


def _outside(line: Series, axis: Axis) -> Iterator[tuple[float, float]]:
    """Readings in no panel. Both are in order of time, so what a panel holds is passed over at once."""
    reached = 0
    for scale in axis.scales:
        first = bisect_left(line.points, scale.panel.start, reached, key=_time)
        yield from line.points[reached:first]
        reached = bisect_right(line.points, scale.panel.end, first, key=_time)
    yield from line.points[reached:] if axis.scales else ()


def _time(point: tuple[float, float]) -> float:
    return point[0]


def _recorder(shown: Timeline) -> SafeText:
    """Tell when the recorder was off, or from when it was on."""
    tapes = sorted((r for r in shown.recordings if r.start.placed), key=lambda r: r.start.centre or 0.0)
    if not tapes:
        return EMPTY
    off = [_stretch(a.end, b.start) for a, b in pairwise(tapes) if a.end.placed]
    if off:
        return fill("recorder off {off}", off=join(", ", off))
    return fill("recorder on from {start}", start=clock(tapes[0].start))


def _stretch(start: Moment, end: Moment) -> SafeText:
    return fill("{start} to {end}", start=clock(start), end=clock(end))


def _left_out(count: int) -> SafeText:
    return fill("{n} {noun} left out", n=count, noun=wording("note") if count == 1 else wording("notes"))


def paragraph(parts: tuple[SafeText, ...], limit: float, most: int) -> tuple[SafeText, ...]:
    """Break the notes into lines; one that does not fit gives way to shorter ones, and is counted."""
    lines = _lines(parts, 0, limit)
    if len(lines) <= most:
        return lines
    kept: tuple[SafeText, ...] = ()
    for part in parts:
        if len(_lines((*kept, part), len(parts) - len(kept) - 1, limit)) <= most:
            kept = (*kept, part)
    return _lines(kept, len(parts) - len(kept), limit) if kept else wrap(clip(parts[0], 40), limit)[:most]


def _lines(parts: tuple[SafeText, ...], left_out: int, limit: float) -> tuple[SafeText, ...]:
    more = _left_out(left_out) if left_out else EMPTY
    return wrap(join("  ·  ", (*parts, more)), limit)
