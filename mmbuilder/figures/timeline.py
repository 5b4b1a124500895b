"""The timeline as a sheet: what the cut may show, drawn into the places of the plan."""

from __future__ import annotations

from functools import lru_cache

from mmbuilder import labels
from mmbuilder.analysis.cut import cut
from mmbuilder.analysis.timeline import Chart, Timeline
from mmbuilder.figures.draw_axis import draw_axis
from mmbuilder.figures.draw_bars import draw_bars
from mmbuilder.figures.draw_lanes import draw_lanes
from mmbuilder.figures.draw_listing import draw_listing
from mmbuilder.figures.draw_marks import arranged, draw_brackets, draw_flags
from mmbuilder.figures.draw_nights import draw_midnights, draw_nights
from mmbuilder.figures.draw_untimed import draw_untimed
from mmbuilder.figures.notes import notes, paragraph
from mmbuilder.figures.pen import Pen
from mmbuilder.figures.plan import Plan, full_plan, make_plan
from mmbuilder.figures.readings import draw_readings
from mmbuilder.figures.sheet import Dash, Sheet, Words, stroke
from mmbuilder.figures.style import LINE, TEXT, Ink, width
from mmbuilder.safe.text import SafeText, wording

_LARGER = (1.5, 1.25)
"""How much larger a chart is drawn that has little to tell, for the back row; the largest first."""


def largest(chart: Chart, wide: float, high: float) -> Sheet:
    """Lay a chart out for a slide: with larger letters than usual, where all of it can be told in them."""
    shown = cut(chart)
    for by in _LARGER:
        plan = full_plan(shown, wide / by, high / by)
        if plan is not None:
            return _laid_out(Pen(plan, shown, _until(chart)), chart, noted=True).grown(by)
    return compose(chart, wide, high)


def compose(chart: Chart, wide: float, high: float, *, noted: bool = True) -> Sheet:
    """Lay a chart out on a sheet of `wide` by `high` points, with its notes or without."""
    return _laid_out(_pen(chart, wide, high, noted=noted), chart, noted=noted)


def _laid_out(pen: Pen, chart: Chart, *, noted: bool) -> Sheet:
    plan = pen.plan
    if plan.axis.scales:
        _drawn(pen, chart)
    draw_untimed(pen)
    draw_listing(pen)
    if noted:
        _notes(pen, chart)
    if plan.axis.scales and chart.until is not None:
        _here(pen, chart.until)
    return pen.sheet()


def notes_beside(chart: Chart, wide: float, high: float) -> tuple[SafeText, ...]:
    """Return every note of a chart that is drawn without them."""
    return _parts(_pen(chart, wide, high, noted=False), chart)


def _pen(chart: Chart, wide: float, high: float, *, noted: bool) -> Pen:
    shown = cut(chart)
    plan = _plan(shown, wide, high, noted, labels.spoken())
    return Pen(plan, shown, _until(chart))


def _until(chart: Chart) -> float:
    return float("inf") if chart.until is None else chart.until


@lru_cache(maxsize=8)
def _plan(timeline: Timeline, wide: float, high: float, noted: bool, _language: str) -> Plan:
    """Return what a drawing and the notes beside it stand on, in a language."""
    return make_plan(timeline, wide, high, noted=noted)


def _drawn(pen: Pen, chart: Chart) -> None:
    draw_midnights(pen)
    draw_axis(pen)
    draw_nights(pen)
    draw_bars(pen, "phases", pen.plan.phases, wording("Phase"))
    draw_bars(pen, "recorder", pen.plan.recorder, wording("Recorder"))
    draw_flags(pen)
    if chart.brackets:
        draw_brackets(pen)
    draw_readings(pen)
    draw_lanes(pen)


def _parts(pen: Pen, chart: Chart) -> tuple[SafeText, ...]:
    """Return the notes; intervals without a bracket are among them if the chart tells intervals at all."""
    intervals = arranged(pen)[1] if chart.brackets else ()
    extra = pen.plan.extra(pen.shown, intervals, pen.until)
    return notes(pen.shown, pen.plan.letters, pen.plan.axis, extra)


def _notes(pen: Pen, chart: Chart) -> None:
    parts = _parts(pen, chart)
    band = pen.band("notes")
    baseline = band.top + TEXT * 0.9
    # No more lines than planned: with fewer notes, one that was left out might fit again. Nor more than the
    # sheet holds, where a story has more lanes than any way of drawing it leaves room for.
    most = max(1, int((min(band.bottom, pen.plan.height) - band.top) // LINE))
    for line in paragraph(parts, pen.plan.width - 4, most):
        pen.write(0, baseline, line, plate=None, ink=Ink.GREY)
        baseline += LINE


def _here(pen: Pen, until: float) -> None:
    """Draw the line at which the story stops, with its word at the first free height."""
    x, bottom = pen.plan.axis.x(until), pen.band("axis").top
    text, top = wording("here"), next(iter(pen.plan.bands.values())).top
    pen.lines.append(stroke((x, top), (x, bottom), ink=Ink.BLUE, width=1.4, dash=Dash.DOTTED))
    wide = width(text)
    lefts = (x + 3, x - wide - 3, min(x - wide / 2, pen.plan.width - wide))
    heights = (top + TEXT * 0.8 + step * LINE for step in range(int((bottom - top) / LINE)))
    pen.free(
        Words(left, height, text, TEXT, False, Ink.BLUE, Ink.WHITE)
        for height in heights
        for left in lefts
        if 0 <= left <= pen.plan.width - wide
    )
