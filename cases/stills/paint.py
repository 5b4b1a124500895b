"""Brushes for the drawn stills: a canvas of light, organic surfaces, metal, and the text devices burn in.

Everything is seeded, so a still is the same each time it is drawn. Colours are (red, green,
blue) from 0 to 1; lengths are pixels; y grows downwards.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFilter, ImageFont

Field = NDArray[np.float32]
Colour = tuple[float, float, float]
Point = tuple[float, float]
Box = tuple[int, int, int, int]
"""left, top, width, height."""

FONTS = Path(__file__).resolve().parents[2] / "templates" / "fonts"
LIGHT = np.array([-0.35, -0.55, 0.76], dtype=np.float32)
"""Where the light comes from: upper left, towards the viewer."""


@dataclass
class Still:
    """A drawn picture with what a test needs to know of it.

    Attributes:
        strips: rectangles of burned-in text that names somebody or something; to be covered.
        keeps: rectangles of marks that have to stay readable.
        marks: where the thing an arrow is to point at really is.
    """

    image: Image.Image
    strips: dict[str, Box] = field(default_factory=dict)
    keeps: dict[str, Box] = field(default_factory=dict)
    marks: dict[str, Point] = field(default_factory=dict)


class Canvas:
    """Light on a plane, painted layer over layer."""

    def __init__(self, width: int, height: int, seed: int, colour: Colour) -> None:
        self.width, self.height = width, height
        self.rng = np.random.default_rng(seed)
        self.y, self.x = np.mgrid[0:height, 0:width].astype(np.float32)
        self.rgb = np.ones((height, width, 3), dtype=np.float32) * np.array(colour, dtype=np.float32)

    def lay(self, colour: Colour | Field, alpha: Field | float) -> None:
        """Paint a colour (flat, or one a pixel) over what is there."""
        cover = np.clip(np.asarray(alpha, dtype=np.float32), 0, 1)
        cover = np.broadcast_to(cover, (self.height, self.width))[..., None]
        self.rgb = self.rgb * (1 - cover) + np.asarray(colour, dtype=np.float32) * cover

    def shine(self, amount: Field | float, colour: Colour = (1, 1, 1)) -> None:
        """Add light."""
        glow = np.broadcast_to(np.asarray(amount, dtype=np.float32), (self.height, self.width))
        self.rgb = self.rgb + glow[..., None] * np.asarray(colour, dtype=np.float32)

    def dim(self, factor: Field | float) -> None:
        """Multiply the light."""
        self.rgb = (
            self.rgb
            * np.broadcast_to(np.asarray(factor, dtype=np.float32), (self.height, self.width))[..., None]
        )

    def noise(self, cell: float, octaves: int = 4) -> Field:
        """Cloudy noise from 0 to 1; `cell` is the size of its largest feature."""
        return noise(self.rng, self.width, self.height, cell, octaves)

    def ellipse(self, centre: Point, across: float, down: float, turn: float = 0.0) -> Field:
        """Distance in pixels from an ellipse's edge, about; below 0 inside."""
        u, v = turned(self.x - centre[0], self.y - centre[1], turn)
        return (np.hypot(u / across, v / down) - 1) * min(across, down)

    def mask(self, draw: Callable[[ImageDraw.ImageDraw], None], soft: float = 0.0) -> Field:
        """Coverage (0 to 1) of shapes drawn in canvas coordinates times two."""
        sheet = Image.new("L", (self.width * 2, self.height * 2), 0)
        draw(ImageDraw.Draw(sheet))
        if soft:
            sheet = sheet.filter(ImageFilter.GaussianBlur(soft * 2))
        small = sheet.resize((self.width, self.height), Image.Resampling.BOX)
        return np.asarray(small, dtype=np.float32) / 255

    def blur(self, radius: float, where: Field | None = None) -> None:
        """Soften the picture, or only where `where` is 1."""
        soft = np.asarray(self.image().filter(ImageFilter.GaussianBlur(radius)), dtype=np.float32) / 255
        self.lay(soft, 1.0 if where is None else where)

    def grain(self, amount: float) -> None:
        """Add sensor noise."""
        speck = self.rng.normal(0, amount, (self.height, self.width, 1)) + self.rng.normal(
            0, amount * 0.4, (self.height, self.width, 3)
        )
        self.rgb = self.rgb + speck.astype(np.float32)

    def image(self) -> Image.Image:
        """Return what has been painted."""
        return Image.fromarray((np.clip(self.rgb, 0, 1) * 255 + 0.5).astype(np.uint8), "RGB")


def noise(rng: np.random.Generator, width: int, height: int, cell: float, octaves: int = 4) -> Field:
    """Cloudy noise from 0 to 1."""
    total = np.zeros((height, width), dtype=np.float32)
    weight = 0.0
    for octave in range(octaves):
        size = max(cell / 2**octave, 1.0)
        columns, rows = int(width / size) + 3, int(height / size) + 3
        coarse = Image.fromarray(rng.random((rows, columns), dtype=np.float32))
        span = (0.5, 0.5, 0.5 + width / size, 0.5 + height / size)
        fine = coarse.resize((width, height), Image.Resampling.BICUBIC, box=span)
        total += np.asarray(fine, dtype=np.float32) / 2**octave
        weight += 1 / 2**octave
    return np.clip(total / weight, 0, 1)


def step(low: float, high: float, value: Field) -> Field:
    """0 at `low`, 1 at `high`, smooth between; `low` may be the larger."""
    t = np.clip((value - low) / (high - low), 0, 1)
    return t * t * (3 - 2 * t)


def shifted(value: Field, across: int, down: int) -> Field:
    """Move a field right and down; what comes in at the edge is its edge."""
    height, width = value.shape
    grown = np.pad(value, ((down, 0), (across, 0)), mode="edge")
    return grown[:height, :width]


def turned(x: Field, y: Field, degrees: float) -> tuple[Field, Field]:
    """Coordinates in a frame turned by `degrees` (clockwise on the screen)."""
    angle = np.deg2rad(degrees)
    return x * np.cos(angle) + y * np.sin(angle), -x * np.sin(angle) + y * np.cos(angle)


def curve(points: Sequence[Point], steps: int = 12) -> NDArray[np.float64]:
    """Return a smooth line through the points (Catmull-Rom)."""
    knots = np.array([points[0], *points, points[-1]], dtype=float)
    t = np.linspace(0, 1, steps, endpoint=False)[:, None]
    parts = [_bend(knots[i : i + 4], t) for i in range(len(points) - 1)]
    return np.vstack([*parts, knots[-1:]])


def _bend(four: NDArray[np.float64], t: NDArray[np.float64]) -> NDArray[np.float64]:
    a, b, c, d = four
    return 0.5 * (2 * b + (c - a) * t + (2 * a - 5 * b + 4 * c - d) * t**2 + (3 * b - a - 3 * c + d) * t**3)


def nearest(canvas: Canvas, line: NDArray[np.float64]) -> tuple[Field, Field]:
    """Distance to a line, and how far along it (0 to 1) the nearest place is."""
    best = np.full((canvas.height, canvas.width), 1e9, dtype=np.float32)
    along = np.zeros_like(best)
    count = len(line) - 1
    for i, ((ax, ay), (bx, by)) in enumerate(pairwise(line)):
        dx, dy = bx - ax, by - ay
        t = np.clip(((canvas.x - ax) * dx + (canvas.y - ay) * dy) / max(dx * dx + dy * dy, 1e-6), 0, 1)
        far = np.hypot(canvas.x - ax - t * dx, canvas.y - ay - t * dy)
        closer = far < best
        best[closer], along[closer] = far[closer], ((i + t) / count)[closer]
    return best, along


def relief(height: Field, depth: float) -> tuple[Field, Field]:
    """Diffuse and glancing light on a surface given by its height."""
    down, across = np.gradient(height * depth)
    normal = np.stack([-across, -down, np.ones_like(height)])
    normal /= np.linalg.norm(normal, axis=0)
    return lit(normal)


def lit(normal: Field) -> tuple[Field, Field]:
    """Diffuse and glancing light for unit normals (3 x height x width)."""
    half = LIGHT + np.array([0, 0, 1], dtype=np.float32)
    half /= np.linalg.norm(half)
    diffuse = np.clip(np.tensordot(LIGHT, normal, 1), 0, 1)
    glance = np.clip(np.tensordot(half, normal, 1), 0, 1)
    return diffuse.astype(np.float32), glance.astype(np.float32)


def tube(
    canvas: Canvas,
    points: Sequence[Point],
    radius: float | Callable[[Field], Field],
    colour: Colour,
    *,
    gloss: float = 0.4,
    tight: float = 40,
    mottle: float = 0.15,
    shadow: float = 0.5,
) -> Field:
    """Paint a round, wet tube along a curve; return its coverage.

    Args:
        radius: in pixels, or a function of the place along the tube.
        gloss, tight: strength and sharpness of its highlight.
        mottle: unevenness of its colour.
        shadow: how dark a shadow it throws.
    """
    far, along = nearest(canvas, curve(points))
    wide = radius(along) if callable(radius) else np.full_like(far, radius)
    rise = far / wide
    if shadow:
        cast = shifted(far, 6, 9) / wide
        canvas.dim(1 - shadow * step(1.35, 0.85, cast))
    down, across = np.gradient(far)
    lean = np.clip(rise, 0, 1)
    normal = np.stack([across * lean, down * lean, np.sqrt(1 - lean**2 * 0.98)])
    normal /= np.maximum(np.linalg.norm(normal, axis=0), 1e-6)
    diffuse, glance = lit(normal)
    patch = 1 + mottle * (canvas.noise(60, 5) - 0.5) * 2
    body = np.asarray(colour, dtype=np.float32) * ((0.30 + 0.80 * diffuse) * patch)[..., None]
    cover = step(1.02, 1.02 - 2.2 / float(np.mean(wide)), rise)
    canvas.lay(body, cover)
    wet = 0.55 + 0.9 * (canvas.noise(16, 3) - 0.3)
    canvas.shine(gloss * glance**tight * np.clip(wet, 0, 1.4) * cover)
    return cover


def rod(canvas: Canvas, start: Point, end: Point, wide: tuple[float, float], tone: float = 0.75) -> Field:
    """Paint a metal rod that may taper; return its coverage."""
    return tube(
        canvas, [start, end], lambda t: wide[0] + (wide[1] - wide[0]) * t, (tone, tone, tone * 1.03),
        gloss=0.8, tight=18, mottle=0.04, shadow=0.35,
    )  # fmt: skip


def branches(
    rng: np.random.Generator, start: Point, heading: float, length: float, width: float, wiggle: float = 0.25
) -> list[tuple[list[Point], float]]:
    """Return a vessel and its branches as (points, width), thinner outwards."""
    x, y = start
    points, grown = [start], []
    steps = max(int(length / 9), 3)
    for i in range(steps):
        heading += rng.normal(0, wiggle)
        x, y = x + 9 * np.cos(heading), y + 9 * np.sin(heading)
        points.append((float(x), float(y)))
        if width > 0.8 and rng.random() < 0.16:
            side = heading + rng.choice([-1, 1]) * rng.uniform(0.4, 0.9)
            grown += branches(rng, (x, y), side, length * 0.55 * (1 - i / steps) + 15, width * 0.62, wiggle)
    return [(points, width), *grown]


def vessels(canvas: Canvas, trees: list[tuple[list[Point], float]], soft: float = 0.6) -> Field:
    """Coverage of vessels, to be laid in any colour."""

    def draw(pen: ImageDraw.ImageDraw) -> None:
        for points, width in trees:
            pen.line(
                [(x * 2, y * 2) for x, y in points], fill=255, width=max(int(width * 2), 1), joint="curve"
            )

    return canvas.mask(draw, soft)


def droplets(
    canvas: Canvas, where: Field, count: int, size: tuple[float, float], colour: Colour, wet: float
) -> None:
    """Paint small wet drops where `where` is high."""
    ys, xs = np.nonzero(where > 0.6)
    for pick in canvas.rng.choice(len(ys), size=min(count, len(ys)), replace=False):
        x, y, r = float(xs[pick]), float(ys[pick]), canvas.rng.uniform(*size)
        edge = canvas.ellipse((x, y), r, r * canvas.rng.uniform(0.8, 1.3))
        canvas.lay(colour, 0.85 * step(1, -1, edge))
        canvas.shine(
            wet * step(1, -1, canvas.ellipse((x - r * 0.3, y - r * 0.35), r * 0.35 + 0.4, r * 0.3 + 0.4))
        )


def scope(canvas: Canvas, radius: float) -> None:
    """Round field of a rigid telescope: light falls off, then black."""
    far = np.hypot(canvas.x - canvas.width / 2, canvas.y - canvas.height / 2)
    canvas.dim(1 - 0.55 * step(radius * 0.35, radius, far))
    canvas.dim(step(radius + 2, radius - 3, far))


def vignette(canvas: Canvas, strength: float, reach: float = 0.62) -> None:
    """Darken the corners."""
    far = np.hypot((canvas.x / canvas.width - 0.5) * 1.25, canvas.y / canvas.height - 0.5)
    canvas.dim(1 - strength * step(reach * 0.55, reach, far))


def face(size: int, *, bold: bool = False) -> ImageFont.FreeTypeFont:
    """Return the lettering that ships with the tool."""
    name = "Carlito-Bold.ttf" if bold else "Carlito-Regular.ttf"
    return ImageFont.truetype(FONTS / name, size, layout_engine=ImageFont.Layout.BASIC)


def write(
    image: Image.Image,
    at: tuple[int, int],
    words: str,
    size: int,
    colour: tuple[int, int, int] = (255, 255, 255),
    *,
    back: tuple[int, int, int] | None = None,
    bold: bool = False,
    turn: int = 0,
    pad: int = 4,
) -> Box:
    """Burn words into a picture; return the rectangle they take, with its background."""
    font = face(size, bold=bold)
    left, top, right, bottom = font.getbbox(words)
    wide, tall = int(right - left) + 2 * pad, int(bottom - top) + 2 * pad
    ink = Image.new("L", (wide, tall), 0)
    ImageDraw.Draw(ink).text((pad - left, pad - top), words, font=font, fill=255)
    ink = ink.rotate(turn, expand=True) if turn else ink
    if back is not None:
        image.paste(back, (at[0], at[1], at[0] + ink.width, at[1] + ink.height))
    image.paste(Image.new("RGB", ink.size, colour), at, ink)
    return at[0], at[1], ink.width, ink.height


def join(*boxes: Box) -> Box:
    """Return the smallest rectangle round all of them."""
    left, top = min(b[0] for b in boxes), min(b[1] for b in boxes)
    return left, top, max(b[0] + b[2] for b in boxes) - left, max(b[1] + b[3] for b in boxes) - top
