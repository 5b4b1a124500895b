"""Draw the axis: ticks, what their steps are, and what parts two panels; past a cut it is a bare line."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from mmbuilder.figures.axis import Scale, clamped
from mmbuilder.figures.bands import Band
from mmbuilder.figures.pen import Pen
from mmbuilder.figures.sheet import Point, Stroke, Words, stroke
from mmbuilder.figures.style import TEXT, Ink, fit, width
from mmbuilder.figures.ticks import Ticks, ticks
from mmbuilder.safe.text import SafeText, fill, join, wording

_LONG, _SHORT = 6.0, 3.0
_THICK, _THIN = 2.6, 1.4


def draw_axis(pen: Pen) -> None:
    """Draw the scale of every panel, up to the cut, and the seams between them."""
    band, scales = pen.band("axis"), pen.plan.axis.scales
    ends = [*(scale.panel.start for scale in scales[1:]), None]
    found = [_shown(pen, ticks(scale, next_)) for scale, next_ in zip(scales, ends, strict=True)]
    pen.lines.append(Stroke(pen.rules(band.top), width=_THIN))
    for scale, made in zip(scales, found, strict=True):
        _scale(pen, scale, made, band)
    _steps(pen, scales, found)
    for left, right, skip in pen.plan.axis.breaks:
        _seam(pen, (left + right) / 2, skip, band)


def _shown(pen: Pen, made: Ticks) -> Ticks:
    """Leave out the ticks behind a cut: what is still blank has no hours yet."""
    end = pen.plan.axis.x(pen.until)
    labels = tuple(label for label in made.labels if label[0] <= end)
    return replace(made, fine=tuple(x for x in made.fine if x <= end), labels=labels)


def _scale(pen: Pen, scale: Scale, made: Ticks, band: Band) -> None:
    if scale.panel.heart:
        end = min(scale.right, pen.plan.axis.x(pen.until))
        pen.lines.append(stroke((scale.left, band.top), (end, band.top), width=_THICK))
    fine = tuple(((x, band.top), (x, band.top + _SHORT)) for x in made.fine)
    long = tuple(((x, band.top), (x, band.top + _LONG)) for x, _, _ in made.labels)
    pen.lines += [Stroke(fine, Ink.GREY, 0.9), Stroke(long, Ink.BLACK, 1.4)]
    for _, left, text in made.labels:
        pen.write(left, _baseline(band), text, plate=None)


def _baseline(band: Band) -> float:
    return band.top + _LONG + TEXT * 0.82


def _steps(pen: Pen, scales: tuple[Scale, ...], found: list[Ticks]) -> None:
    """Write what the fine ticks of each panel count, under it or all of them at the left."""
    if not pen.plan.mode.units:
        words = fit(_in_short(found), pen.plan.axis.left - 8)
        pen.write(0, _baseline(pen.band("axis")), words, plate=None, ink=Ink.GREY)
        return
    baseline = pen.band("units").middle + TEXT * 0.33
    for whole, made in zip(scales, found, strict=True):
        scale = replace(whole, right=min(whole.right, pen.plan.axis.x(pen.until)))
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
