"""The line that says which clock the chart follows, and how far the others were shifted."""

from __future__ import annotations

from mmbuilder.safe.case import Clock
from mmbuilder.safe.moment import Elapsed, duration
from mmbuilder.safe.text import EMPTY, SafeText, fill, join, wording


def clock_line(clocks: tuple[Clock, ...]) -> SafeText:
    """Such as `Times by the wall clock; recorder −2 min 15 s; record: offset not stated`."""
    if not clocks:
        return EMPTY
    named = [fill("Times by the {name}", name=clock.name) for clock in clocks if clock.reference]
    others = [_shift(clock) for clock in clocks if not clock.reference]
    return join("; ", (*named, *others))


def _shift(clock: Clock) -> SafeText:
    if clock.offset is None or not clock.offset.known:
        return fill("{name}: offset not stated", name=clock.name)
    shift = fill("{name} {shift}", name=clock.name, shift=signed(clock.offset))
    if clock.drift is None or not (clock.drift.lo or clock.drift.hi):
        return shift
    return fill("{shift}, drift {drift}", shift=shift, drift=signed(clock.drift))


def signed(elapsed: Elapsed) -> SafeText:
    """Return a shift with its sign: `+3 min`, `−2 min 15 s`, `no shift`."""
    if elapsed.lo == elapsed.hi == 0:
        return wording("no shift")
    plus = wording("+") if elapsed.lo is not None and elapsed.lo > 0 else EMPTY
    return fill("{plus}{length}", plus=plus, length=duration(elapsed))
