"""The timeline up to the first sign, the rest of its axis blank."""

from __future__ import annotations

from mmbuilder.analysis.describe import describe
from mmbuilder.analysis.timeline import Chart, Mark
from mmbuilder.safe.moment import SECOND, clock
from mmbuilder.safe.text import fill, wording
from mmbuilder.storyboard.blocks import Slide, TimeChart
from mmbuilder.storyboard.context import Context

MISSING = wording("timeline up to the first sign: no first sign has a time")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide; the cut falls just before the sign, which the room is to find for itself."""
    sign = context.first(Mark.FIRST_SIGN)
    if sign is None or not sign.at.placed:
        return ()
    start = sign.at.lo if sign.at.lo is not None else sign.at.hi
    assert start is not None
    chart = Chart(context.timeline, until=start - SECOND)
    headline = fill("This is the course up to {when}.", when=clock(sign.at))
    notes = (wording("Walk along the axis. The empty part comes later."),)
    return (Slide("timeline_before", headline, (TimeChart(chart, describe(chart)),), notes, context.seconds),)
