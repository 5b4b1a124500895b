"""Draw the events without a time: hatched, with no place on the axis, in the order they were told."""

from __future__ import annotations

from mmbuilder.figures.gutter import UNTIMED, untimed_width
from mmbuilder.figures.hatch import Hatch, hatched
from mmbuilder.figures.labels import NEAR
from mmbuilder.figures.pen import Pen
from mmbuilder.figures.sheet import Box, Dots, Shape
from mmbuilder.figures.style import LINE, TEXT, Ink, width
from mmbuilder.safe.text import wording


def draw_untimed(pen: Pen) -> None:
    """Draw a box left of the axis, beside the first lane; the notes name them."""
    hidden = [entry for entry in pen.entries if not entry.at.placed]
    if not hidden:
        return
    if not pen.plan.axis.scales:
        _story(pen)
        return
    lane = next(iter(pen.plan.lanes), None)
    if lane is None:
        return
    band, wide = pen.band(lane.value), untimed_width()
    foot = band.bottom - pen.plan.lanes[lane].foot
    box = Box(0, foot - 2 * LINE - 4, wide, foot - LINE - 3)
    pen.ground.extend(hatched(box, Hatch.TIME_UNKNOWN))
    pen.marks.append(Dots(((8.0, (box.top + box.bottom) / 2),), Shape.RING, 9.0, Ink.BLACK, hollow=True))
    pen.write(wide - width(UNTIMED) - 2, box.bottom - 4.5, UNTIMED)


def _story(pen: Pen) -> None:
    """List the whole story, where nothing in it has a time."""
    band = pen.band("body")
    pen.write(6, band.top + TEXT + 2, wording("order known, time unknown"), ink=Ink.GREY)
    baseline = band.top + TEXT + 2 + LINE
    for entry in pen.entries:
        if baseline > band.bottom - 4:
            break
        pen.marks.append(Dots(((14, baseline - TEXT * 0.33),), entry.shape, 9.0, Ink.BLUE, hollow=True))
        pen.write(24 + NEAR, baseline, entry.captions[-1])
        baseline += LINE
    pen.ground.extend(hatched(Box(0, band.top, 5, min(baseline - LINE + 4, band.bottom)), Hatch.TIME_UNKNOWN))
