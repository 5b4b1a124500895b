"""The whole timeline with its intervals bracketed."""

from __future__ import annotations

from mmbuilder.analysis.describe import describe
from mmbuilder.analysis.timeline import MOST_LABELS, Chart, Interval
from mmbuilder.safe.case import Event
from mmbuilder.safe.moment import duration
from mmbuilder.safe.text import SafeText, fill, join, sentence, unbroken, wording
from mmbuilder.storyboard.blocks import Slide, TimeChart
from mmbuilder.storyboard.context import Context

MISSING = wording("timeline: no event has a time")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide, the largest marks on it sign, recognition and response."""
    if not any(event.at.placed for event in context.timeline.events):
        return ()
    chart = Chart(context.timeline, brackets=True)
    notes = (
        wording(
            "First sign, recognition, response: point at the three marks, then at the time between them."
        ),
        fill("Clocks: {clock}", clock=context.timeline.clock),
        *_numbers(context.timeline.events),
    )
    return (
        Slide(
            "timeline_whole", _headline(context), (TimeChart(chart, describe(chart)),), notes, context.seconds
        ),
    )


def _numbers(events: tuple[Event, ...]) -> tuple[SafeText, ...]:
    """Say what the numbers on the chart are, where there are more events than it has labels."""
    if len(events) <= MOST_LABELS:
        return ()
    told = (fill("{n} {what}", n=n, what=event.label or event.what) for n, event in enumerate(events, 1))
    return (fill("Numbers on the chart: {told}.", told=join("; ", told)),)


def counted(context: Context) -> tuple[Interval, ...]:
    """Return the intervals that its headline tells: the first two that are known."""
    return tuple(interval for interval in context.timeline.intervals if interval.elapsed.known)[:2]


def _headline(context: Context) -> SafeText:
    """Name each interval; one that goes on from the last is told by its end, to stay on one line."""
    told = counted(context)
    if not told:
        return wording("The intervals cannot be computed from the times recorded.")
    names = [interval.name for interval in told]
    if names == [wording("first sign to recognition"), wording("recognition to response")]:
        names = [wording("first sign to recognition"), wording("then to response")]
    lengths = (_length(interval) for interval in told)
    pairs = (
        fill("{name}: {length}", name=name, length=length)
        for name, length in zip(names, lengths, strict=True)
    )
    return sentence(join("; ", pairs))


def _length(interval: Interval) -> SafeText:
    """`12 min`, with the other reading where sources disagree."""
    lengths = (interval.elapsed, *interval.alternatives)
    return join(" or ", (unbroken(duration(length)) for length in lengths))
