"""Drawings of blocks: the timeline as SVG, with a PNG for programs that cannot show one."""

from __future__ import annotations

import functools
from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path

from mmbuilder import cache
from mmbuilder.analysis.timeline import Chart

POINTS = 72 / 2.54
"""Points in a centimetre."""


@dataclass(frozen=True)
class Drawing:
    """One picture in two forms, of the same size."""

    svg: bytes
    png: bytes


def draw(chart: Chart, width_cm: float, height_cm: float) -> Drawing:
    """Draw a timeline at the size it has on the slide; the same chart gives the same bytes."""
    parts = (_edition(), repr(chart), f"{width_cm:.3f}x{height_cm:.3f}")
    kept = _kept(parts)
    if kept is not None:
        return kept
    from mmbuilder.figures.paint import png, svg
    from mmbuilder.figures.timeline import compose

    sheet = compose(chart, width_cm * POINTS, height_cm * POINTS)
    drawing = Drawing(svg(sheet), png(sheet))
    cache.put(cache.key("svg", *parts), drawing.svg)
    cache.put(cache.key("png", *parts), drawing.png)
    return drawing


def _kept(parts: tuple[str, ...]) -> Drawing | None:
    svg = cache.get(cache.key("svg", *parts))
    png = cache.get(cache.key("png", *parts))
    return None if svg is None or png is None else Drawing(svg, png)


@functools.cache
def _edition() -> str:
    """Hash of the code that draws, so that no drawing of an older one is taken for a new one."""
    package = Path(__file__).parent.parent
    sources = [*package.glob("figures/*.py"), *package.glob("analysis/*.py"), *package.glob("safe/*.py")]
    return cache.key(version("matplotlib"), *(path.read_bytes() for path in sorted(sources)))
