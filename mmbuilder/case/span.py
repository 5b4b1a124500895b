"""Bounds in seconds, and what shifts and tolerances do to them."""

from __future__ import annotations

from dataclasses import dataclass, replace

from mmbuilder.case.stamp import DAY_STEP, Stamp
from mmbuilder.case.when import When
from mmbuilder.safe.moment import Known


@dataclass(frozen=True)
class Span:
    """Bounds in seconds from midnight of Day 0 on the reference clock."""

    lo: int | None
    hi: int | None
    step: int = 1
    loose: bool = False

    def shifted(self, low: int, high: int, step: int, *, loose: bool = False) -> Span:
        """Return the span with seconds added to each bound, at the coarser step."""
        lo = None if self.lo is None else self.lo + low
        hi = None if self.hi is None else self.hi + high
        return Span(lo, hi, max(self.step, step), self.loose or loose)


@dataclass(frozen=True)
class Shift:
    """Seconds added to a clock; `drift` applies to readings after `since`."""

    seconds: int = 0
    step: int = 1
    drift: int | None = None
    since: int = 0
    known: bool = True

    def apply(self, span: Span) -> Span:
        """Return the span on the reference clock; after the first anchor, as wide as the drift."""
        low, high = self.seconds, self.seconds
        if self.drift is not None and abs(self.drift) > max(span.step, self.step):
            low += min(0, self.drift) if _later(span.lo, self.since) else 0
            high += max(0, self.drift) if _later(span.hi, self.since) else 0
        return span.shifted(low, high, self.step, loose=not self.known)


def _later(edge: int | None, since: int) -> bool:
    return edge is not None and edge > since


def widened(when: When, span: Span) -> Span:
    """Apply a stated tolerance; an "about" without one is loose."""
    if when.known is Known.ABOUT and when.within is not None:
        return span.shifted(-when.within, when.within, span.step)
    return replace(span, loose=when.loose or when.known is Known.ABOUT)


def step_of(when: When) -> int:
    """Return the coarser step of a time's bounds, in seconds; 1 where it has none."""
    return max((stamp.step for stamp in (when.first, when.last) if stamp is not None), default=1)


def known_after(given: Known, span: Span) -> Known:
    """Return how well it is known once clocks have had their say: an exact time may become a range."""
    if span.lo is None or span.hi is None:
        if span.lo is None and span.hi is None:
            return Known.UNKNOWN
        return Known.BEFORE if span.lo is None else Known.AFTER
    exact = given is Known.EXACT and span.lo != span.hi and span.step < DAY_STEP
    return Known.BETWEEN if exact else given


def as_counter(stamp: Stamp) -> Stamp:
    """Hours and minutes of a clock face, read as minutes and seconds of a counter."""
    return Stamp(stamp.seconds // 60, None, 1) if stamp.step == 60 else stamp


def clock_face(stamp: Stamp) -> str:
    """Return the time of day alone, as a clock shows it: the one part of a time that may be repeated."""
    hours, rest = divmod(stamp.seconds, 3600)
    minutes, seconds = divmod(rest, 60)
    return f"{hours:02d}:{minutes:02d}" + (f":{seconds:02d}" if stamp.step == 1 else "")


def counter(seconds: int) -> str:
    """Return time into a recording as its counter shows it."""
    hours, rest = divmod(seconds, 3600)
    return f"{hours}:{rest // 60:02d}:{rest % 60:02d}"
