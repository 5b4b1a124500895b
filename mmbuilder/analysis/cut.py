"""A timeline up to a moment: nothing of what came later is left in it."""

from __future__ import annotations

from dataclasses import replace

from mmbuilder.analysis.intervals import derive
from mmbuilder.analysis.panels import panels
from mmbuilder.analysis.timeline import Chart, Mark, Timeline, find_marks
from mmbuilder.safe.case import Event, Phase, Recording, Series
from mmbuilder.safe.moment import UNKNOWN, Known, Moment
from mmbuilder.safe.terms import EventKind
from mmbuilder.safe.text import EMPTY, wording

_TO_COME = wording("an event still to come")
"""What T+0 is until the telling has reached it: its words may be the answer that the room is asked for."""


def cut(chart: Chart) -> Timeline:
    """Return what the chart may show: all of it, or only what had happened by `until`.

    Its axis grows with the story: one that were drawn to the end would tell how long that goes on.
    """
    whole, until = chart.timeline, chart.until
    if until is None:
        return whole
    events = _events(whole.events, until)
    # That it was a sign nobody had seen before the recognition, and the room is to find it.
    unseen = () if _recognised(events) else (Mark.FIRST_SIGN,)
    marks = tuple(entry for entry in find_marks(events) if entry[0] not in unseen)
    intervals = derive(events, marks)
    phases = tuple(_phase(phase, until) for phase in whole.phases if _happened(phase.start, until))
    decisions = tuple(entry for entry in whole.decisions if _happened(entry[1], until))
    series = tuple(filter(_any, (_series(line, until) for line in whole.series)))
    tapes = tuple(_recording(item, until) for item in whole.recordings if _happened(item.start, until))
    return replace(
        whole,
        zero=whole.zero if until >= 0 or not whole.zero else _TO_COME,
        events=events,
        phases=phases,
        decisions=decisions,
        series=series,
        recordings=tapes,
        marks=marks,
        intervals=tuple(entry for entry in intervals if entry.start is not None and entry.end is not None),
        panels=panels(events, decisions, phases, series, tapes, until),
    )


def same(one: Timeline, other: Timeline) -> bool:
    """Whether two cuts show the same, wherever their axes end."""
    return replace(one, panels=()) == replace(other, panels=())


def _happened(moment: Moment, until: float) -> bool:
    """Whether it had happened: by its middle, or by the one bound it has."""
    return moment.centre is not None and moment.centre <= until


def _events(events: tuple[Event, ...], until: float) -> tuple[Event, ...]:
    """Keep what had happened; an event of unknown or only lower-bounded time, if a later one had."""
    certain = [_happened(event.at, until) and event.at.known is not Known.AFTER for event in events]
    last = max((place for place, shown in enumerate(certain) if shown), default=-1)
    vague = [
        place < last and (not event.at.placed or _happened(event.at, until))
        for place, event in enumerate(events)
    ]
    told = zip(events, certain, vague, strict=True)
    shown = tuple(_event(event, until) for event, sure, maybe in told if sure or maybe)
    return shown if _recognised(shown) else tuple(replace(event, noticed=None) for event in shown)


def _recognised(events: tuple[Event, ...]) -> bool:
    return any(event.kind is EventKind.RECOGNITION for event in events)


def _event(event: Event, until: float) -> Event:
    """Leave out times that had not come, and figures: a total may count what came later."""
    others = tuple(other for other in event.others if _happened(other.at, until))
    return replace(event, others=others, computed=())


def _ended(end: Moment, until: float) -> Moment:
    """Return an end that has come; one that has not is not known yet."""
    return end if _happened(end, until) and end.known is not Known.AFTER else UNKNOWN


def _phase(phase: Phase, until: float) -> Phase:
    return replace(phase, end=_ended(phase.end, until))


def _recording(recording: Recording, until: float) -> Recording:
    return replace(recording, end=_ended(recording.end, until))


def _series(line: Series, until: float) -> Series:
    kept = [place for place, (time, _) in enumerate(line.points) if time <= until]
    renumbered = {old: new for new, old in enumerate(kept)}
    return replace(
        line,
        points=tuple(line.points[place] for place in kept),
        dropped=0,  # nobody knows how many of them came before
        artefacts=frozenset(renumbered[place] for place in line.artefacts if place in renumbered),
        gaps=tuple(
            replace(gap, end=min(gap.end, until), reason=gap.reason if gap.start < until else EMPTY)
            for gap in line.gaps
            if gap.start < until
        ),
    )


def _any(line: Series) -> bool:
    return bool(line.points)
