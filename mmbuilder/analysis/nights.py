"""Where days begin on the axis, and where it is night; in minutes from the index event."""

from __future__ import annotations

import math
from collections.abc import Iterator

from mmbuilder.safe.case import DayAndNight
from mmbuilder.safe.moment import DAY
from mmbuilder.safe.text import EMPTY, SafeText, fill, join, number, wording


def midnights(known: DayAndNight, start: float, end: float) -> Iterator[tuple[float, int]]:
    """Yield each midnight of a stretch, and how many days after that of the index event it begins."""
    first = math.ceil((start - known.midnight) / DAY)
    last = math.floor((end - known.midnight) / DAY)
    for place in range(first, last + 1):
        yield known.midnight + place * DAY, place + 1


def nights(known: DayAndNight, start: float, end: float) -> Iterator[tuple[float, float]]:
    """Yield what of each night lies in a stretch; nothing where night is not shown."""
    if known.dusk is None or known.dawn is None:
        return
    length = (known.dawn - known.dusk) % DAY
    first = math.floor((start - known.midnight - known.dusk) / DAY) - 1
    last = math.ceil((end - known.midnight - known.dusk) / DAY)
    for place in range(first, last + 1):
        dusk = known.midnight + known.dusk + place * DAY
        lo, hi = max(dusk, start), min(dusk + length, end)
        if lo < hi:
            yield lo, hi


def said(known: DayAndNight) -> SafeText:
    """`shaded: night, 20:00 to 08:00 (common practice, no source)`; empty where night is not shown."""
    if known.dusk is None or known.dawn is None:
        return EMPTY
    hours = fill("shaded: night, {dusk} to {dawn}", dusk=_time(known.dusk), dawn=_time(known.dawn))
    return join(" ", (hours, wording("(common practice, no source)") if known.usual else EMPTY))


def later(days: int) -> SafeText:
    """`+1 day`, `+2 days`, `day of T+0`, `−1 day`: how many days after that of the index event."""
    if not days:
        return wording("day of T+0")
    noun = wording("day") if abs(days) == 1 else wording("days")
    return fill("{sign}{n} {noun}", sign=wording("+") if days > 0 else wording("−"), n=abs(days), noun=noun)


def _time(minutes: float) -> SafeText:
    hours, rest = divmod(round(minutes) % round(DAY), 60)
    return fill("{h}:{m}", h=number(hours, "02d"), m=number(rest, "02d"))
