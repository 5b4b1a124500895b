"""A chart in words, for a reader who cannot see it; it tells no more than the cut shows."""

from __future__ import annotations

from mmbuilder.analysis.cut import cut
from mmbuilder.analysis.timeline import Chart, Interval, Timeline
from mmbuilder.safe.moment import Known, Moment, clock, duration
from mmbuilder.safe.terms import term
from mmbuilder.safe.text import EMPTY, SafeText, capital, fill, join, wording


def describe(chart: Chart) -> SafeText:
    """Return alt text: what is counted, the marks with their times, the intervals."""
    shown = cut(chart)
    return join(" ", (_opening(shown, chart.until), _marks(shown), _intervals(shown, chart.brackets)))


def lengths(interval: Interval) -> SafeText:
    """`20 to 60 min`, or with other sources `12 min or 15 min`."""
    return join(" or ", map(duration, (interval.elapsed, *interval.alternatives)))


def _opening(shown: Timeline, until: float | None) -> SafeText:
    span = EMPTY if until is None else fill(" up to {end}", end=clock(Moment(until, until, Known.EXACT)))
    parts = (
        _count(len(shown.events), wording("event"), wording("events")),
        _count(len(shown.decisions), wording("decision"), wording("decisions")),
        _count(len(shown.series), wording("line of readings"), wording("lines of readings")),
    )
    told = join(", ", parts) or wording("nothing yet")
    return fill("Timeline{span}: {told}; T+0 is {zero}.", span=span, told=told, zero=shown.zero)


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
