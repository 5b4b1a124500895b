"""Bring every time of a case to minutes from the index event on its one reference clock.

    reference reading = source reading + offset,  offset = reference - source at the anchor

A second anchor shows drift = second offset - first offset. It is not interpolated away: the
first offset is kept, and where the drift is larger than the step of the source, times after
the first anchor become ranges as wide as the drift. A clock nobody compared is taken at its
word, and its times are loose ("about"). Summer time is not reckoned with: clocks in a case
are wall clocks that nobody changed in between, or a clock of their own with an offset.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property

from mmbuilder.case import clock_fault as faulty
from mmbuilder.case.clock_fault import ClockFault
from mmbuilder.case.clock_list import ClockList, records
from mmbuilder.case.freetext import Path
from mmbuilder.case.model import Anchor, Case, Clock, Event
from mmbuilder.case.span import Shift, Span, as_counter, clock_face, counter, known_after, step_of, widened
from mmbuilder.case.stamp import DAY_STEP, Stamp
from mmbuilder.case.when import When
from mmbuilder.safe.moment import UNKNOWN, Elapsed, Known, Moment

__all__ = ["ClockFault", "ClockOffset", "Reckoner"]

_HALF_DAY, _HOUR = 43200, 3600


@dataclass(frozen=True)
class ClockOffset:
    """How a clock stands to the reference.

    Attributes:
        offset: what is added to its readings, in minutes; None where nobody said.
        drift: second offset less first, in minutes; None without a second anchor.
        recording: its readings count from its own start, so it has no offset to tell.
    """

    name: str
    reference: bool
    offset: Elapsed | None
    drift: Elapsed | None
    recording: bool


class Reckoner:
    """The clocks of one case, and the sums that join them.

    Making one never fails; `faults()` tells what is wrong with the clocks themselves, and
    `moment()` what is wrong with one time.
    """

    def __init__(self, case: Case) -> None:
        self._case = case
        self._list = ClockList(case.clocks)

    # What others ask

    def moment(self, when: When, clock: str | None = None, sequence: int = 0) -> Moment:
        """Return the time in minutes from the index event.

        Args:
            when: the time as given.
            clock: the clock it was read from; the reference if None and the words name none.
            sequence: its place in the order of the story.

        Raises:
            ClockFault: the time cannot be brought to the reference clock.
        """
        if when.known in (Known.UNKNOWN, Known.ORDER_ONLY):
            return Moment(None, None, when.known, sequence=sequence)
        span = self._span(when, clock, self._index_day)
        if not when.elapsed:
            self._ask_for_day(when, span)
        lo, hi = (None if edge is None else (edge - self._zero) / 60 for edge in (span.lo, span.hi))
        known = known_after(when.known, span)
        return Moment(lo, hi, known, span.step / 60, span.loose, sequence, self._days(when))

    def to_midnight(self) -> float | None:
        """Return minutes from the index event to the midnight after it; None where its hour is not known.

        Raises:
            ClockFault: the index event cannot be brought to the reference clock.
        """
        span = self._span(self._index.when, self._index.clock, self._index_day)
        if span.lo is None or span.hi is None or span.hi - span.lo > _HOUR:
            return None
        return (DAY_STEP - self._zero % DAY_STEP) / 60

    @cached_property
    def day_zero(self) -> date | None:
        """The date of Day 0; None where nothing says it."""
        given = self._case.timeline.day_zero
        if given is not None:
            return given.date
        stamp = self._dated(self._index.when, self._index.clock)
        return stamp.day if stamp is not None and isinstance(stamp.day, date) else None

    def days_from_zero(self, day: date) -> int | None:
        """Return the Day number of a date; None where nothing says which date is Day 0."""
        return None if self.day_zero is None else (day - self.day_zero).days

    def minutes(self, seconds: float, day: int | date | None, clock: str | None, *, elapsed: bool) -> float:
        """Return minutes from the index event for one reading of a logger, by the clock's first offset.

        Args:
            seconds: since midnight of `day`, or since the start of the recording.
            day: Day number or date; None means the day of the index event.
            clock: name of the clock; the reference if None.
            elapsed: whether `seconds` count from the start of that recording.

        Raises:
            ClockFault: the clock is not listed, or has no place in time.
        """
        source = self._list.source(None, clock, ())
        if elapsed:
            start = self._start(source, ())
            if start.lo is None or start.hi is None:
                raise faulty.no_start(self._list.path(source))
            base = (start.lo + start.hi) / 2
        else:
            stamp = Stamp(0, day)
            base = (
                self._absolute(stamp, self._index_day, self._list.path(source)) + self._shift(source).seconds
            )
        return (base + seconds - self._zero) / 60

    def counts(self, clock: str | None, path: Path = ()) -> bool:
        """Return whether readings of this clock count from the start of a recording.

        Raises:
            ClockFault: it is not listed.
        """
        source = self._list.source(None, clock, path)
        return records(source) and not self._list.has_offset(source)

    def offsets(self) -> tuple[ClockOffset, ...]:
        """Return how each clock stands to the reference, in the order of the case.

        Raises:
            ClockFault: an anchor cannot be used.
        """
        return tuple(self._offset(clock) for clock in self._case.clocks)

    def stands(self, when: When, clock: str | None) -> ClockOffset:
        """Return how the clock that a time was read from stands to the reference.

        Raises:
            ClockFault: it is not listed, or an anchor cannot be used.
        """
        return self._offset(self._list.source(when, clock, when.path))

    def recording(self, clock: Clock) -> tuple[Moment, Moment]:
        """Return when a recording starts and ends; the end is unknown where its length is.

        Raises:
            ClockFault: it has no start, or one that cannot be placed.
        """
        start = self._start(clock, ())
        lo, hi = (None if edge is None else (edge - self._zero) / 60 for edge in (start.lo, start.hi))
        known = known_after(Known.EXACT, start)
        first = Moment(lo, hi, known, start.step / 60, start.loose)
        if clock.runs is None:
            return first, UNKNOWN
        length = clock.runs.seconds / 60
        return first, replace(
            first, lo=None if lo is None else lo + length, hi=None if hi is None else hi + length
        )

    def faults(self) -> Iterator[ClockFault]:
        """Yield what is wrong, or worth a warning, with the clocks and the index event."""
        yield from self._reference_faults()
        for clock in self._case.clocks:
            yield from self._clock_faults(clock)
        try:
            _ = self._zero
        except ClockFault as fault:
            yield fault

    # The index event and Day 0

    @cached_property
    def _index(self) -> Event:
        wanted = self._case.timeline.index_event
        for event in self._case.timeline.events:
            if event.id == wanted:
                return event
        raise faulty.index_not_listed(("timeline", "index event"))

    @cached_property
    def _zero(self) -> int:
        """Seconds of the index event; the middle, where it is a range."""
        span = self._span(self._index.when, self._index.clock, self._index_day)
        if span.lo is None or span.hi is None:
            raise faulty.index_not_placed(self._index.when.path)
        return (span.lo + span.hi) // 2

    @cached_property
    def _index_day(self) -> int:
        """Day number that times without a day belong to."""
        stamp = self._dated(self._index.when, self._index.clock)
        if stamp is None or stamp.day is None:
            return 0
        return self._day_number(stamp.day, self._index.when.path)

    def _dated(self, when: When, clock: str | None) -> Stamp | None:
        """Return the reading that carries the day: of a time into a recording, the recording's start."""
        seen: set[str] = set()
        while when.elapsed:
            source = self._list.source(when, clock, when.path)
            if source.name in seen:
                raise faulty.cycle(self._list.path(source, "starts"))
            seen.add(source.name)
            if source.starts is None:
                return source.anchor.reference.first if source.anchor else None
            when, clock = source.starts, source.on
        return when.first or when.last

    def _day_number(self, day: int | date, path: Path) -> int:
        if isinstance(day, int):
            return day
        number = self.days_from_zero(day)
        if number is None:
            raise faulty.no_day_zero(path)
        return number

    def _ask_for_day(self, when: When, span: Span) -> None:
        """Refuse a time of day that may as well belong to the day before or after."""
        for stamp, edge in ((when.first, span.lo), (when.last, span.hi)):
            far = stamp is not None and edge is not None and abs(edge - self._zero) > _HALF_DAY
            if stamp is not None and far and stamp.day is None:
                raise faulty.needs_day(when.path, clock_face(stamp))

    def _days(self, when: When) -> tuple[int | None, int | None] | None:
        """Return the Day numbers of a time given by the day, else None."""
        ends = (when.first, when.last)
        if any(stamp is not None and stamp.step != DAY_STEP for stamp in ends):
            return None
        first, last = (
            None if stamp is None or stamp.day is None else self._day_number(stamp.day, when.path)
            for stamp in ends
        )
        return first, last

    # From a reading to seconds on the reference clock

    def _span(self, when: When, clock: str | None, day: int, seen: tuple[str, ...] = ()) -> Span:
        source = self._list.source(when, clock, when.path)
        if source.starts is not None and not when.elapsed and not self._list.has_offset(source):
            when = self._into(source, when, seen)
        if when.elapsed:
            return self._elapsed(source, when, seen)
        return self._shift(source).apply(widened(when, self._read(when, day)))

    def _read(self, when: When, day: int) -> Span:
        """Bounds as the clock showed them."""
        lo = None if when.first is None else self._absolute(when.first, day, when.path)
        hi = None if when.last is None else self._absolute(when.last, day, when.path)
        if lo is not None and hi is not None and hi < lo and when.last is not None and when.last.day is None:
            hi += DAY_STEP
        # A day as such is all of it; before it means before it begins, after it when it is over.
        if hi is not None and lo is not None and when.last is not None and when.last.step == DAY_STEP:
            hi += DAY_STEP - 1
        if lo is not None and hi is None and when.first is not None and when.first.step == DAY_STEP:
            lo += DAY_STEP
        return Span(lo, hi, step_of(when))

    def _absolute(self, stamp: Stamp, day: int, path: Path) -> int:
        number = day if stamp.day is None else self._day_number(stamp.day, path)
        return number * DAY_STEP + stamp.seconds

    def _elapsed(self, source: Clock, when: When, seen: tuple[str, ...]) -> Span:
        for stamp in (when.first, when.last):
            if stamp is not None and source.runs is not None and stamp.seconds > source.runs.seconds:
                raise faulty.past_the_end(when.path, counter(stamp.seconds), counter(source.runs.seconds))
        start = self._start(source, seen)
        first, last = (None if stamp is None else stamp.seconds for stamp in (when.first, when.last))
        into = widened(when, Span(first, last, step_of(when)))
        lo = None if into.lo is None or start.lo is None else start.lo + into.lo
        hi = None if into.hi is None or start.hi is None else start.hi + into.hi
        own = source.precision.seconds if source.precision else 1
        return Span(lo, hi, max(into.step, start.step, own), into.loose or start.loose)

    def _start(self, source: Clock, seen: tuple[str, ...]) -> Span:
        """When a recording starts, by its own line or by an anchor that reads time into it."""
        if source.name in seen:
            raise faulty.cycle(self._list.path(source, "starts"))
        if source.starts is not None:
            return self._span(source.starts, source.on, self._index_day, (*seen, source.name))
        if source.anchor is not None and source.anchor.reads.elapsed:
            reads, reference = self._exact(source.anchor, self._list.path(source, "anchor"))
            at = self._absolute(reference, self._index_day, source.anchor.reference.path) - reads.seconds
            return Span(at, at, max(reads.step, reference.step))
        raise faulty.no_start(self._list.path(source))

    def _into(self, source: Clock, when: When, seen: tuple[str, ...]) -> When:
        """Read a time on a recording's own clock as time into it: 06:15 is 6 min 15 s.

        Raises:
            ClockFault: it may as well be a time of day while the recording ran.
        """
        start = self._start(source, seen)
        ends = [stamp for stamp in (when.first, when.last) if stamp is not None]
        for stamp in ends:
            if stamp.day is not None or self._while_running(source, start, stamp):
                raise faulty.elapsed_or_time(when.path, clock_face(stamp))
        first, last = (stamp and as_counter(stamp) for stamp in (when.first, when.last))
        return replace(when, first=first, last=last, elapsed=True)

    def _while_running(self, source: Clock, start: Span, stamp: Stamp) -> bool:
        length = source.runs.seconds if source.runs else _HALF_DAY
        return start.lo is not None and 0 <= stamp.seconds - start.lo % DAY_STEP <= length

    # Which clock, and how far off

    def _shift(self, clock: Clock) -> Shift:
        own = clock.precision.seconds if clock.precision else 1
        if clock is self._list.reference:
            return Shift(step=own)
        if clock.offset is not None:
            return Shift(clock.offset.seconds, own)
        if clock.anchor is None or clock.anchor.reads.elapsed:
            return Shift(step=own, known=False)
        return self._anchored(clock, clock.anchor, own)

    def _anchored(self, clock: Clock, anchor: Anchor, own: int) -> Shift:
        seconds, since, step = self._compared(anchor, self._list.path(clock, "anchor"))
        if clock.second_anchor is None:
            return Shift(seconds, max(own, step))
        later, at, later_step = self._compared(clock.second_anchor, self._list.path(clock, "second anchor"))
        return Shift(seconds, max(own, step, later_step), later - seconds, min(since, at))

    def _compared(self, anchor: Anchor, path: Path) -> tuple[int, int, int]:
        """Return (offset, this clock's reading, step), in seconds."""
        reads, reference = self._exact(anchor, path)
        if (reads.day is None) is not (reference.day is None):
            raise faulty.anchor_half_dated(path)
        since = self._absolute(reads, self._index_day, anchor.reads.path)
        offset = self._absolute(reference, self._index_day, anchor.reference.path) - since
        if reads.day is None:
            # Without days, two clocks are taken to be less than half a day apart.
            offset = (offset + _HALF_DAY) % DAY_STEP - _HALF_DAY
        return offset, since, max(reads.step, reference.step)

    def _exact(self, anchor: Anchor, path: Path) -> tuple[Stamp, Stamp]:
        reads, reference = anchor.reads, anchor.reference
        if reads.known is not Known.EXACT or reference.known is not Known.EXACT or reference.elapsed:
            raise faulty.anchor_not_exact(path)
        assert reads.first is not None
        assert reference.first is not None
        if DAY_STEP in (reads.first.step, reference.first.step):
            raise faulty.anchor_not_exact(path)
        return reads.first, reference.first

    def _offset(self, clock: Clock) -> ClockOffset:
        shift = self._shift(clock)
        told = shift.known and not (records(clock) and not self._list.has_offset(clock))
        offset = _elapsed(shift.seconds, shift.step) if told else None
        drift = None if shift.drift is None else _elapsed(shift.drift, shift.step)
        reference = clock is self._list.reference
        return ClockOffset(
            clock.name, reference, offset, drift, records(clock) and not self._list.has_offset(clock)
        )

    # Faults of the clocks themselves

    def _reference_faults(self) -> Iterator[ClockFault]:
        try:
            _ = self._list.reference
        except ClockFault as fault:
            yield fault

    def _clock_faults(self, clock: Clock) -> Iterator[ClockFault]:
        try:
            yield from self._told_twice(clock)
            if clock.on is not None and not self._list.has(clock.on):
                yield faulty.not_listed(self._list.path(clock, "on"))
                return
            if records(clock):
                self._start(clock, ())
            elif not self._list.has_offset(clock):
                yield faulty.offset_unknown(self._list.path(clock))
            yield from self._drift_faults(clock)
        except ClockFault as fault:
            yield fault

    def _told_twice(self, clock: Clock) -> Iterator[ClockFault]:
        if clock.second_anchor is not None and clock.anchor is None:
            yield faulty.first_anchor_missing(self._list.path(clock, "second anchor"))
        ties = (clock is self._list.reference) + (clock.offset is not None) + (clock.anchor is not None)
        if ties > 1:
            yield faulty.offset_twice(
                self._list.path(clock, "offset" if clock.offset is not None else "anchor")
            )

    def _drift_faults(self, clock: Clock) -> Iterator[ClockFault]:
        shift = self._shift(clock)
        if shift.drift is not None and abs(shift.drift) > shift.step:
            yield faulty.drifts(self._list.path(clock, "second anchor"), shift.drift)


def _elapsed(seconds: int, step: int) -> Elapsed:
    return Elapsed(seconds / 60, seconds / 60, step / 60)
