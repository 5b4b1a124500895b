"""The timeline up to the first sign or the first stop, whichever is earlier.

Where a chart stands before each decision and the first stop is one, it goes up to that: two charts in a row,
with nothing asked between them, tell the room less than one.
"""

from __future__ import annotations

from dataclasses import replace

from mmbuilder.analysis.cut import cut
from mmbuilder.analysis.describe import describe
from mmbuilder.analysis.timeline import Chart, Mark
from mmbuilder.safe.case import Decision
from mmbuilder.safe.moment import Moment, clock
from mmbuilder.safe.text import fill, wording
from mmbuilder.storyboard.beats import beats, began, just_before, stops
from mmbuilder.storyboard.blocks import Slide, TimeChart
from mmbuilder.storyboard.context import Context

MISSING = wording("timeline up to the first stop: no time is known before the first sign or question")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide; the cut falls just before what the room is to find or to decide for itself."""
    drawn = chart(context)
    if drawn is None:
        return ()
    shown, end = drawn
    headline = fill("This is the course up to {when}.", when=clock(_begun(end)))
    notes = (wording("Walk along the axis. The empty part comes later."),)
    return (Slide("timeline_before", headline, (TimeChart(shown, describe(shown)),), notes, context.seconds),)


def _begun(end: Moment) -> Moment:
    """The first that a moment may be: what took a while is cut where it began."""
    return replace(end, hi=end.lo) if end.lo is not None and end.days is None else end


def chart(context: Context) -> tuple[Chart, Moment] | None:
    """Return what the slide draws, and up to when; None where no event is known to be earlier than that."""
    end = _end(context)
    if end is None:
        return None
    made = Chart(context.timeline, until=just_before(end))
    return (made, end) if any(event.at.placed for event in cut(made).events) else None


def _end(context: Context) -> Moment | None:
    """Return the first sign, or the first stop where that is earlier or has a chart of its own."""
    sign = context.first(Mark.FIRST_SIGN)
    if sign is None or not sign.at.placed:
        return None
    asked = [beat for beat in beats(context) if stops(beat)]
    times = [began(context, beat) for beat in asked]
    if _sliced(context) and asked and isinstance(asked[0], Decision) and times[0] is not None:
        return times[0]
    return min((sign.at, *(at for at in times if at is not None)), key=just_before)


def _sliced(context: Context) -> bool:
    """Whether a chart stands before each decision."""
    return any(entry.slices for entry in context.spec.slides)
