"""The whole timeline with its intervals bracketed."""

from __future__ import annotations

from mmbuilder.analysis.describe import describe
from mmbuilder.analysis.timeline import Chart, Interval
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
    )
    return (
        Slide(
            "timeline_whole", _headline(context), (TimeChart(chart, describe(chart)),), notes, context.seconds
        ),
    )


def _headline(context: Context) -> SafeText:
    told = [_told(interval) for interval in context.timeline.intervals if interval.elapsed.known]
    if not told:
        return wording("The intervals cannot be computed from the times recorded.")
    return sentence(join("; ", told[:2]))


def _told(interval: Interval) -> SafeText:
    """`first sign to recognition: 12 min`, with the other reading where sources disagree."""
    lengths = (interval.elapsed, *interval.alternatives)
    return fill(
        "{name}: {length}",
        name=interval.name,
        length=join(" or ", (unbroken(duration(length)) for length in lengths)),
    )
