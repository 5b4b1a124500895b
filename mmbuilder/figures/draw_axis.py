"""Draw the axis: ticks, what their steps are, and what parts two panels."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.figures.axis import Scale, clamped
from mmbuilder.figures.bands import Band
from mmbuilder.figures.pen import Pen
from mmbuilder.figures.sheet import Point, Stroke, Words, stroke
from mmbuilder.figures.style import TEXT, Ink, fit, width
from mmbuilder.figures.ticks import Ticks, ticks
from mmbuilder.safe.text import SafeText, fill, join, wording

_LONG, _SHORT = 6.0, 3.0


def draw_axis(pen: Pen) -> None:
    """Draw every panel's scale, and the seams."""
    band, scales = pen.band("axis"), pen.plan.axis.scales
    following = [scale.panel.start for scale in scales[1:]]
    found = [ticks(scale, next_) for scale, next_ in zip(scales, [*following, None], strict=True)]
    for scale, made in zip(scales, found, strict=True):
        _scale(pen, scale, made, band)
    _steps(pen, found)
    for left, right, skip in pen.plan.axis.breaks:
        _seam(pen, (left + right) / 2, skip, band)


def _scale(pen: Pen, scale: Scale, made: Ticks, band: Band) -> None:
    thick = 2.6 if scale.panel.heart else 1.4
    pen.lines.append(stroke((scale.left, band.top), (scale.right, band.top), width=thick))
    fine = tuple(((x, band.top), (x, band.top + _SHORT)) for x in made.fine)
    long = tuple(((x, band.top), (x, band.top + _LONG)) for x, _, _ in made.labels)
    pen.lines += [Stroke(fine, Ink.GREY, 0.9), Stroke(long, Ink.BLACK, 1.4)]
    for _, left, text in made.labels:
        pen.write(left, _baseline(band), text, plate=None)


def _baseline(band: Band) -> float:
    return band.top + _LONG + TEXT * 0.82


def _steps(pen: Pen, found: list[Ticks]) -> None:
    """Write what the fine ticks of each panel count, under it or all of them at the left."""
    scales = pen.plan.axis.scales
    if not pen.plan.mode.units:
        words = fit(_in_short(found), pen.plan.axis.left - 8)
        pen.write(0, _baseline(pen.band("axis")), words, plate=None, ink=Ink.GREY)
        return
    baseline = pen.band("units").middle + TEXT * 0.33
    for scale, made in zip(scales, found, strict=True):
        middle = clamped((scale.left + scale.right) / 2, made.step, scale)
        ends = (clamped(scale.left, made.step, scale), clamped(scale.right, made.step, scale))
        pen.free(Words(left, baseline, made.step, TEXT, False, Ink.GREY) for left in (middle, *ends))


def _in_short(found: list[Ticks]) -> SafeText:
    """`ticks 10, 1, 5 min` if all count the same unit, else `hours:min`."""
    parts = [made.step.split() for made in found]
    if len({part[-1] for part in parts}) == 1 and all(len(part) == 3 for part in parts):
        return fill("ticks {n} {unit}", n=join(", ", (part[1] for part in parts)), unit=parts[0][2])
    return wording("T+ h:min")


def _seam(pen: Pen, x: float, skip: SafeText, band: Band) -> None:
    top = min(b.top for name, b in pen.plan.bands.items() if name not in ("flags", "brackets"))
    for side in (x - 2, x + 2):
        points = _zigzag(side, top, band.top + 4) if skip else ((side, top), (side, band.top + 4))
        pen.ground.append(stroke(*points, ink=Ink.GREY, width=1.0))
    if skip:
        pen.write(x - width(skip) / 2, _baseline(band), skip, plate=None)


def _zigzag(x: float, top: float, bottom: float) -> Iterator[Point]:
    steps = max(int((bottom - top) / 7), 2)
    for step in range(steps + 1):
        yield x + (2.5 if step % 2 else -2.5), top + (bottom - top) * step / steps
