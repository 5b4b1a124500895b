"""A chart in words, for a reader who cannot see it; it tells no more than the cut shows."""

from __future__ import annotations

from mmbuilder.analysis.cut import cut
from mmbuilder.analysis.timeline import Chart, Interval, Timeline
from mmbuilder.safe.moment import DAY, Elapsed, Known, Moment, clock, duration
from mmbuilder.safe.terms import term
from mmbuilder.safe.text import EMPTY, SafeText, capital, fill, inline, join, wording


def describe(chart: Chart) -> SafeText:
    """Return alt text: what is counted, the marks with their times, the intervals."""
    shown = cut(chart)
    return join(" ", (_opening(shown, chart.until), _marks(shown), _intervals(shown, chart.brackets)))


def lengths(interval: Interval) -> SafeText:
    """`20 to 60 min`, or with other sources `12 min or 15 min`."""
    told = in_days if interval.by_days else duration
    return join(" or ", dict.fromkeys(map(told, (interval.elapsed, *interval.alternatives))))


def in_days(elapsed: Elapsed) -> SafeText:
    """`2 days 4 h`, `1 day 20 h to 2 days 5 h`, `at least 3 days 1 h`: a long course, to the hour."""
    lo, hi = elapsed.lo, elapsed.hi
    if elapsed.precision >= DAY or (lo is None and hi is None):
        return duration(elapsed)
    if lo is None or hi is None:
        side = wording("at least") if hi is None else wording("at most")
        return fill("{side} {length}", side=side, length=_days(lo if lo is not None else hi or 0.0))
    first, last = _days(lo), _days(hi)
    if first != last:
        return fill("{first} to {last}", first=first, last=last)
    return fill("about {length}", length=first) if elapsed.loose else first


def _days(minutes: float) -> SafeText:
    days, hours = divmod(int(minutes / 60 + 0.5), 24)
    unit = wording("day") if days == 1 else wording("days")
    parts = (
        fill("{n} {unit}", n=days, unit=unit) if days else EMPTY,
        fill("{n} h", n=hours) if hours else EMPTY,
    )
    return join(" ", parts) or wording("under 1 h")


def _opening(shown: Timeline, until: float | None) -> SafeText:
    span = EMPTY if until is None else fill(" up to {end}", end=clock(Moment(until, until, Known.EXACT)))
    parts = (
        _count(len(shown.events), wording("event"), wording("events")),
        _count(len(shown.decisions), wording("decision"), wording("decisions")),
        _count(len(shown.series), wording("line of readings"), wording("lines of readings")),
    )
    told = join(", ", parts) or wording("nothing yet")
    return fill("Timeline{span}: {told}; T+0 is {zero}.", span=span, told=told, zero=inline(shown.zero))


def _count(count: int, one: SafeText, many: SafeText) -> SafeText:
    return fill("{n} {noun}", n=count, noun=one if count == 1 else many) if count else EMPTY


def _marks(shown: Timeline) -> SafeText:
    told = [
        fill("{mark} {when}", mark=capital(term(mark)), when=clock(shown.event(number).at))
        for mark, numbers in shown.marks
        for number in numbers
    ]
    return fill("{marks}.", marks=join("; ", told)) if told else EMPTY


def _intervals(shown: Timeline, brackets: bool) -> SafeText:
    told = [fill("{name}: {length}", name=capital(i.name), length=lengths(i)) for i in shown.intervals]
    return fill("{intervals}.", intervals=join("; ", told)) if told and brackets else EMPTY
