"""A sheet becomes SVG and PNG, by matplotlib's own renderers, the same bytes on each run.

The renderers are used without a Figure: a sheet knows where everything goes, so axes, ticks
and their layout (and the half of matplotlib that must be loaded for them) are not needed.
"""

from __future__ import annotations

import functools
import io
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

from mmbuilder import fonts
from mmbuilder.figures.sheet import (
    CORNERS,
    DASHES,
    PARTED_MOST,
    Dash,
    Dots,
    Fill,
    Point,
    Shape,
    Sheet,
    Stroke,
    Words,
)
from mmbuilder.figures.style import FAMILIES, Ink

if TYPE_CHECKING:
    from matplotlib.backend_bases import GraphicsContextBase, RendererBase
    from matplotlib.font_manager import FontProperties
    from matplotlib.path import Path

DPI = 150
"""Of the PNG."""


_SETTINGS: Any = {  # matplotlib types the keys of its settings one by one, and versions differ
    "svg.fonttype": "none",
    "svg.hashsalt": "mmbuilder",
    "text.hinting": "none",
    "path.simplify": False,
}
_ALONE = threading.Lock()


@contextmanager
def _set() -> Iterator[None]:
    """Have matplotlib's settings as ours: they are those of all threads, and papers are set in several."""
    from matplotlib import rc_context

    with _ALONE, rc_context(_SETTINGS):
        yield


def svg(sheet: Sheet) -> bytes:
    """Return the sheet as SVG; text stays text."""
    from matplotlib.backends import backend_svg

    out = io.StringIO()
    with _set():
        quiet = dict.fromkeys(("Creator", "Date", "Format", "Type"))
        renderer = _svg_renderer(_untyped(backend_svg).RendererSVG)(
            sheet.width, sheet.height, out, image_dpi=72, metadata=quiet
        )
        _Painter(renderer, sheet, 1.0).paint()
        renderer.finalize()
    return out.getvalue().encode()


def png(sheet: Sheet) -> bytes:
    """Return the sheet as PNG on white, `DPI` dots an inch."""
    from matplotlib.backends import backend_agg
    from PIL import Image

    scale = DPI / 72
    with _set():
        renderer = _untyped(backend_agg).RendererAgg(
            round(sheet.width * scale), round(sheet.height * scale), DPI
        )
        painter = _Painter(renderer, sheet, scale)
        painter.paint()
        size = renderer.width, renderer.height
        picture = Image.frombuffer("RGBA", size, renderer.buffer_rgba(), "raw", "RGBA", 0, 1).convert("RGB")
    out = io.BytesIO()
    picture.save(out, "PNG", dpi=(DPI, DPI))
    return out.getvalue()


@functools.cache
def _svg_renderer(base: Any) -> Any:
    """Matplotlib's renderer, but the look of many like marks is written out once, not once a mark."""

    class Renderer(base):  # type: ignore[misc]
        look = ""

        def draw_markers(self, gc: object, *shape: object) -> None:
            self.look = super()._get_style(gc, shape[-1])
            super().draw_markers(gc, *shape)
            self.look = ""

        def _get_style(self, gc: object, face: object) -> str:
            style: str = self.look or super()._get_style(gc, face)
            return style

    return Renderer


def _untyped(module: object) -> Any:  # the renderers have no annotations
    return module


class _Painter:
    """Paints a sheet on one renderer; `scale` is pixels a point."""

    def __init__(self, renderer: RendererBase, sheet: Sheet, scale: float) -> None:
        self.renderer, self.sheet, self.scale = renderer, sheet, scale
        self.faces = {bold: _face(bold) for bold in (False, True)}

    def paint(self) -> None:
        width, height = self.sheet.width, self.sheet.height
        self._fill(Fill(((0, 0), (width, 0), (width, height), (0, height)), Ink.WHITE))
        for item in self.sheet.items:
            match item:
                case Words():
                    self._words(item)
                case Stroke():
                    self._stroke(item)
                case Fill():
                    self._fill(item)
                case Dots():
                    self._dots(item)

    def _at(self, point: Point) -> tuple[float, float]:
        """Return a point of the sheet in the renderer's pixels, which count upwards."""
        return point[0] * self.scale, (self.sheet.height - point[1]) * self.scale

    def _context(self, ink: Ink, width: float, dash: Dash = Dash.SOLID) -> GraphicsContextBase:
        context = self.renderer.new_gc()
        context.set_foreground(ink.value)
        context.set_linewidth(width)  # in points: a renderer knows its own resolution
        context.set_antialiased(True)
        context.set_capstyle("butt")
        context.set_joinstyle("miter")
        if pattern := DASHES[dash]:
            context.set_dashes(0, [step * width for step in pattern])
        return context

    def _path(self, lines: tuple[tuple[Point, ...], ...], *, closed: bool) -> Path:
        from matplotlib.path import Path

        vertices, codes = [], []
        for line in lines:
            points = [self._at(point) for point in line]
            vertices += points
            codes += [Path.MOVETO, *[Path.LINETO] * (len(points) - 1)]
            if closed:
                vertices.append(points[0])
                codes.append(Path.CLOSEPOLY)
        return Path(vertices, codes)

    def _stroke(self, item: Stroke) -> None:
        from matplotlib.transforms import IdentityTransform

        if item.lines:
            path = self._path(item.lines, closed=False)
            self.renderer.draw_path(self._context(item.ink, item.width, item.dash), path, IdentityTransform())

    def _fill(self, item: Fill) -> None:
        from matplotlib.transforms import IdentityTransform

        context = self._context(item.edge or item.ink, item.width if item.edge else 0.0)
        self.renderer.draw_path(
            context, self._path((item.points,), closed=True), IdentityTransform(), _rgb(item.ink)
        )

    def _dots(self, item: Dots) -> None:
        from matplotlib.transforms import Affine2D, IdentityTransform

        if not item.points:
            return
        from matplotlib.path import Path

        open_shape = item.shape is Shape.CROSS
        edge = 1.8 if item.hollow or open_shape else 0.8
        # A white edge parts neighbours; where there are too many to part it would wipe them out.
        parted = not (item.hollow or open_shape) and len(item.points) <= PARTED_MOST
        context = self._context(Ink.WHITE if parted else item.ink, edge)
        size = item.size * self.scale
        mark = _shape(item.shape)
        face = None if open_shape else _rgb(Ink.WHITE if item.hollow else item.ink)
        high, scale = self.sheet.height, self.scale
        places = Path([(x * scale, (high - y) * scale) for x, y in item.points])
        self.renderer.draw_markers(
            context, mark, Affine2D().scale(size, size), places, IdentityTransform(), face
        )

    def _words(self, item: Words) -> None:
        text = item.text.reveal()
        face = self.faces[item.bold].copy()
        face.set_file(str(fonts.path(text, bold=item.bold)))
        face.set_size(item.size)
        context = self._context(item.ink, 1.0)
        # Text alone is placed from the top, in both renderers.
        x, y = item.x * self.scale, item.y * self.scale
        self.renderer.draw_text(context, x, y, text, face, 0.0)


def _face(bold: bool) -> FontProperties:
    # The file is named, so no font has to be looked for; the families are what an SVG asks for.
    from matplotlib.font_manager import FontProperties

    weight = "bold" if bold else "normal"
    return FontProperties(family=list(FAMILIES), weight=weight, fname=str(fonts.path(bold=bold)))


def _rgb(ink: Ink) -> tuple[float, float, float]:
    from matplotlib.colors import to_rgb

    return to_rgb(ink.value)


def _shape(shape: Shape) -> Path:
    """Return a mark one unit across, about its middle."""
    from matplotlib.path import Path

    if shape in (Shape.DOT, Shape.RING):
        return Path.circle((0, 0), 0.5)
    if shape is Shape.CROSS:
        return Path([(-0.5, -0.5), (0.5, 0.5), (-0.5, 0.5), (0.5, -0.5)], [1, 2, 1, 2])
    corners = CORNERS[shape]
    return Path([*corners, corners[0]], closed=True)
