"""Time past the line: minutes from the index event, with what is not known kept.

No date and no time of day has a place here. Interval arithmetic keeps the uncertainty of
both ends: from a in [a_lo, a_hi] to b in [b_lo, b_hi] is [b_lo - a_hi, b_hi - a_lo].
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from mmbuilder.safe.text import SafeText, fill, number, wording

DAY = 1440.0
"""Minutes in a day."""

SECOND = 1 / 60
"""A second, in minutes."""


class Known(StrEnum):
    """How well a time is known."""

    EXACT = "exact"
    ABOUT = "about"
    BETWEEN = "between"
    BEFORE = "before"
    AFTER = "after"
    UNKNOWN = "unknown"
    ORDER_ONLY = "order only"


@dataclass(frozen=True)
class Moment:
    """When something happened.

    Attributes:
        lo, hi: bounds in minutes from the index event; None where there is no bound.
        known: the form in which the time was given.
        precision: the step of its source in minutes (1 for a log to the minute,
            1/60 for one to the second, 1440 for a note by the day).
        loose: "about" was said without how much; intervals from it are printed as about.
        sequence: its place in the order of the story, for times that are not known.
        days: Day numbers of its bounds, where it was given by the day; they cannot be had from
            minutes, because the index event need not be at midnight.
    """

    lo: float | None
    hi: float | None
    known: Known
    precision: float = 1.0
    loose: bool = False
    sequence: int = 0
    days: tuple[int | None, int | None] | None = None

    @property
    def placed(self) -> bool:
        """Whether it has a place on an axis of its own (at least one bound)."""
        return self.lo is not None or self.hi is not None

    @property
    def bounded(self) -> bool:
        """Whether both bounds are known."""
        return self.lo is not None and self.hi is not None

    @property
    def centre(self) -> float | None:
        """Where to put its mark: the middle, or the one bound there is. Minutes."""
        if self.lo is None:
            return self.hi
        return self.lo if self.hi is None else (self.lo + self.hi) / 2

    def certainly_before(self, other: Moment) -> bool:
        """Whether every reading of both times puts this one strictly first."""
        return self.hi is not None and other.lo is not None and self.hi < other.lo


UNKNOWN = Moment(None, None, Known.UNKNOWN)


@dataclass(frozen=True)
class Elapsed:
    """An interval in minutes, as a range; None where it has no bound."""

    lo: float | None
    hi: float | None
    precision: float = 1.0
    loose: bool = False

    @property
    def known(self) -> bool:
        """Whether anything at all can be said."""
        return self.lo is not None or self.hi is not None


def between(start: Moment, end: Moment, *, ordered: bool) -> Elapsed:
    """Interval from `start` to `end`.

    Args:
        start: the earlier moment; an unknown one gives an unknown interval, never zero.
        end: the later moment, likewise.
        ordered: the order is known by other means (a recognition follows its sign), so
            the lower bound is floored at zero.

    Source: interval subtraction; worked example in tests (20:10-20:40 to 21:05 +/- 5: 20 to 60 min).
    """
    lo = None if end.lo is None or start.hi is None else end.lo - start.hi
    hi = None if end.hi is None or start.lo is None else end.hi - start.lo
    if ordered and (lo is not None or hi is not None):
        # With no upper bound, 'at least nothing' says nothing: it stays unknown and never becomes zero.
        lo = None if hi is None and (lo is None or lo <= 0) else max(lo or 0.0, 0.0)
    return Elapsed(lo, hi, max(start.precision, end.precision), start.loose or end.loose)


def clock(moment: Moment) -> SafeText:
    """Short label: `T+0:12`, `T−1:05`, `T+36 h 48`, `T+0:10 to T+0:40`, `Day 3`, `after T+0:12`."""
    if moment.lo is None and moment.hi is None:
        return (
            wording("order known, time unknown")
            if moment.known is Known.ORDER_ONLY
            else wording("time unknown")
        )
    if moment.days is not None:
        return _day_label(moment, *moment.days)
    if moment.lo is None:
        assert moment.hi is not None
        return fill("before {end}", end=_point(moment.hi, moment.precision))
    if moment.hi is None:
        return fill("after {start}", start=_point(moment.lo, moment.precision))
    if moment.lo == moment.hi:
        point = _point(moment.lo, moment.precision)
        return fill("about {point}", point=point) if moment.loose or moment.known is Known.ABOUT else point
    if moment.precision >= DAY and moment.hi - moment.lo < DAY:
        return _point(moment.lo, moment.precision)
    if moment.known is Known.ABOUT:
        # A stated tolerance: the one use of the sign for 'approximately'.
        half = (moment.hi - moment.lo) / 2
        middle = (moment.hi + moment.lo) / 2
        return fill(
            "{point} ± {half}", point=_point(middle, moment.precision), half=_span(half, moment.precision)
        )
    return fill(
        "{start} to {end}", start=_point(moment.lo, moment.precision), end=_point(moment.hi, moment.precision)
    )


def _day_label(moment: Moment, first: int | None, last: int | None) -> SafeText:
    if first is None or last is None:
        side = wording("after") if last is None else wording("before")
        return fill("{side} Day {day}", side=side, day=number((last if first is None else first) or 0))
    if first != last:
        return fill("Day {first} to Day {last}", first=number(first), last=number(last))
    about = wording("about ") if moment.loose or moment.known is Known.ABOUT else wording("")
    return fill("{about}Day {day}", about=about, day=number(first))


def duration(elapsed: Elapsed) -> SafeText:
    """`12 min`, `20 to 60 min`, `at least 5 min`, `1 h 50 min`, `3 days`, `unknown`."""
    lo, hi, step = elapsed.lo, elapsed.hi, elapsed.precision
    if lo is None and hi is None:
        return wording("unknown")
    if hi is None:
        assert lo is not None
        return fill("at least {lo}", lo=_span(lo, step)) if lo > 0 else wording("unknown")
    if lo is None:
        return fill("at most {hi}", hi=_span(hi, step))
    if _whole_steps(lo, step) == _whole_steps(hi, step) == 0:
        return _under(step)
    if step >= DAY:
        return _days(lo, hi)
    if _span(lo, step) == _span(hi, step):
        single = _span(lo, step)
        return fill("about {single}", single=single) if elapsed.loose else single
    if max(abs(lo), abs(hi)) < 120 and step >= 1:
        return fill("{lo} to {hi} min", lo=number(_whole(lo)), hi=number(_whole(hi)))
    return fill("{lo} to {hi}", lo=_span(lo, step), hi=_span(hi, step))


def _whole_steps(minutes: float, step: float) -> int:
    return _whole(minutes / (DAY if step >= DAY else 1.0 if step >= 1 else SECOND))


def _under(step: float) -> SafeText:
    """Return a length that its source cannot tell from nothing; it is not nothing."""
    if step >= DAY:
        return wording("under 1 day")
    return wording("under 1 min") if step >= 1 else wording("under 1 s")


def _days(lo: float, hi: float) -> SafeText:
    first, last = _whole(lo / DAY), _whole(hi / DAY)
    unit = wording("day") if last == 1 else wording("days")
    if first == last:
        return fill("{n} {unit}", n=number(last), unit=unit)
    return fill("{first} to {last} {unit}", first=number(first), last=number(last), unit=unit)


def _whole(minutes: float) -> int:
    return int(minutes + 0.5) if minutes >= 0 else -int(-minutes + 0.5)


def _point(minutes: float, precision: float) -> SafeText:
    if precision >= DAY:
        return fill("Day {day}", day=int(minutes // DAY))
    sign = wording("T−") if minutes < -1e-9 else wording("T+")
    if precision < 1:
        seconds = _whole(abs(minutes) * 60)
        hours, rest = divmod(seconds, 3600)
        return fill(
            "{sign}{h}:{m}:{s}", sign=sign, h=hours, m=number(rest // 60, "02d"), s=number(rest % 60, "02d")
        )
    hours, rest = divmod(_whole(abs(minutes)), 60)
    if hours < 24:
        return fill("{sign}{h}:{m}", sign=sign, h=hours, m=number(rest, "02d"))
    # From a day on `36:48` would be read as minutes and seconds.
    whole = fill("{sign}{h} h", sign=sign, h=hours)
    return fill("{whole} {m}", whole=whole, m=number(rest, "02d")) if rest else whole


def _span(minutes: float, precision: float) -> SafeText:
    """Return a length of time at the precision of its source: a log to the minute yields no seconds."""
    sign = wording("−") if minutes < -1e-9 else wording("")
    size = abs(minutes)
    if precision >= DAY or size >= 3 * DAY:
        days = _whole(size / DAY)
        return fill(
            "{sign}{n} {unit}", sign=sign, n=days, unit=wording("day") if days == 1 else wording("days")
        )
    if precision < 1 and size < 60:
        whole = _whole(size * 60)
        if whole < 60:
            return fill("{sign}{s} s", sign=sign, s=whole)
        if whole % 60:
            return fill("{sign}{m} min {s} s", sign=sign, m=whole // 60, s=whole % 60)
        return fill("{sign}{m} min", sign=sign, m=whole // 60)
    hours, rest = divmod(_whole(size), 60)
    if hours < 2:
        return fill("{sign}{m} min", sign=sign, m=hours * 60 + rest)
    return (
        fill("{sign}{h} h {m} min", sign=sign, h=hours, m=rest)
        if rest
        else fill("{sign}{h} h", sign=sign, h=hours)
    )
