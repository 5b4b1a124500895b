"""Drawings of blocks: the timeline as SVG, with a PNG for programs that cannot show one."""

from __future__ import annotations

import functools
from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path
from typing import TYPE_CHECKING

from mmbuilder import cache
from mmbuilder.analysis.timeline import Chart
from mmbuilder.labels import spoken

if TYPE_CHECKING:
    from mmbuilder.figures.sheet import Sheet
    from mmbuilder.safe.text import SafeText

POINTS = 72 / 2.54
"""Points in a centimetre."""


@dataclass(frozen=True)
class Drawing:
    """One picture in two forms, of the same size."""

    svg: bytes
    png: bytes


def draw(chart: Chart, width_cm: float, height_cm: float) -> Drawing:
    """Draw a timeline at the size it has on the slide; the same chart gives the same bytes."""
    name = _name(chart, width_cm, height_cm)
    svg, png = cache.get(cache.key("svg", name)), cache.get(cache.key("png", name))
    if svg is not None and png is not None:
        return Drawing(svg, png)
    from mmbuilder.figures import paint
    from mmbuilder.figures.timeline import largest

    sheet = largest(chart, width_cm * POINTS, height_cm * POINTS)
    drawing = Drawing(paint.svg(sheet), paint.png(sheet))
    cache.put(cache.key("svg", name), drawing.svg)
    cache.put(cache.key("png", name), drawing.png)
    return drawing


def draw_svg(chart: Chart, width_cm: float, height_cm: float, *, noted: bool = True) -> bytes:
    """Draw a timeline for a page that needs no picture beside it; if not `noted`, it tells `notes_of`."""

    def made() -> bytes:
        from mmbuilder.figures import paint

        return paint.svg(_sheet(chart, width_cm, height_cm, noted=noted))

    kind = "svg" if noted else "svg without notes"
    return cache.kept(cache.key(kind, _name(chart, width_cm, height_cm)), made)


def notes_of(chart: Chart, width_cm: float, height_cm: float) -> SafeText:
    """Return the notes of a timeline that is drawn without them, as one text."""
    from mmbuilder.figures.timeline import notes_beside
    from mmbuilder.safe.text import join

    return join("  ·  ", notes_beside(chart, width_cm * POINTS, height_cm * POINTS))


def _sheet(chart: Chart, width_cm: float, height_cm: float, *, noted: bool) -> Sheet:
    from mmbuilder.figures.timeline import compose

    return compose(chart, width_cm * POINTS, height_cm * POINTS, noted=noted)


def _name(chart: Chart, width_cm: float, height_cm: float) -> str:
    return cache.key(_edition(), spoken(), repr(chart), f"{width_cm:.3f}x{height_cm:.3f}")


@functools.cache
def _edition() -> str:
    """Hash of the code that draws, so that no drawing of an older one is taken for a new one."""
    package = Path(__file__).parent.parent
    sources = [*package.glob("figures/*.py"), *package.glob("analysis/*.py"), *package.glob("safe/*.py")]
    sources += package.glob("labels/*.mo")
    return cache.key(version("matplotlib"), *(path.read_bytes() for path in sorted(sources)))
