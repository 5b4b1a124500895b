"""Clocks, phases, recordings and events: every time becomes minutes from the index event."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.case import model
from mmbuilder.case.clocks import Reckoner
from mmbuilder.case.when import When
from mmbuilder.safe import case as safe
from mmbuilder.safe.moment import UNKNOWN, Moment
from mmbuilder.safe.terms import YesNo
from mmbuilder.scrub.crossing.conflicting import figures, records
from mmbuilder.scrub.crossing.words import Words

DUSK, DAWN = 20 * 60.0, 8 * 60.0
"""Night where the author gives no hours of it; common practice, no source. Minutes past midnight."""


def clocks(raw: model.Case, words: Words, reckoner: Reckoner) -> Iterator[safe.Clock]:
    """Yield every clock that has an offset to tell; a recording counts from its own start."""
    for place, stands in enumerate(reckoner.offsets()):
        if not stands.recording:
            name = words.at(("clocks", place, "name"), raw.clocks[place].name)
            yield safe.Clock(name, stands.reference, stands.offset, stands.drift)


def recordings(raw: model.Case, words: Words, reckoner: Reckoner) -> Iterator[safe.Recording]:
    """Yield when each recorder ran."""
    for place, clock in enumerate(raw.clocks):
        if clock.starts is not None:
            start, end = reckoner.recording(clock)
            yield safe.Recording(words.at(("clocks", place, "name"), clock.name), start, end)


def phases(raw: model.Timeline, words: Words, reckoner: Reckoner) -> Iterator[safe.Phase]:
    """Yield the phases; one whose end nobody gave has an unknown end."""
    for phase in raw.phases:
        start = reckoner.moment(phase.starts, phase.clock)
        end = UNKNOWN if phase.ends is None else reckoner.moment(phase.ends, phase.clock)
        yield safe.Phase(words.safe(phase.name), start, end)


def day_and_night(raw: model.Timeline, reckoner: Reckoner) -> safe.DayAndNight | None:
    """Carry across where midnight lies, and the hours of night where they are to be shown; no date."""
    midnight = reckoner.to_midnight()
    if midnight is None or raw.night is not YesNo.YES:
        return None if midnight is None else safe.DayAndNight(midnight)
    dusk, dawn = _time_of_day(raw.night_from), _time_of_day(raw.night_to)
    if dusk is None or dawn is None:
        return safe.DayAndNight(midnight, DUSK, DAWN, usual=True)
    return safe.DayAndNight(midnight, dusk, dawn)


def _time_of_day(when: When | None) -> float | None:
    return when.first.seconds / 60 if when is not None and when.first is not None else None


def moments(raw: model.Timeline, reckoner: Reckoner) -> list[Moment]:
    """Return when each event was, in the order of the case."""
    return [reckoner.moment(event.when, event.clock, place) for place, event in enumerate(raw.events)]


def events(
    raw: model.Timeline, words: Words, reckoner: Reckoner, times: list[Moment]
) -> Iterator[safe.Event]:
    """Yield the events, numbered from 1 in the order of the case."""
    for number, (event, at) in enumerate(zip(raw.events, times, strict=True), 1):
        yield safe.Event(
            number=number,
            kind=event.kind,
            what=words.safe(event.what),
            at=at,
            label=words.safe(event.label),
            source=words.safe(event.source),
            sure=event.sure,
            others=tuple(_others(event, words, reckoner)),
            noticed=event.noticed,
            recognised=event.recognised,
            dose=words.safe(event.dose),
            volume=words.safe(event.volume),
            records=tuple(records(event, words)),
            computed=tuple(figures(raw.events, number - 1)),
        )


def _others(event: model.Event, words: Words, reckoner: Reckoner) -> Iterator[safe.OtherTime]:
    for other in event.also:
        if other.when is None:
            continue
        yield safe.OtherTime(reckoner.moment(other.when, other.clock), words.safe(other.source))
