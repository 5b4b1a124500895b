"""What lies behind the text: drawn tissue, an eye under the microscope, a scan, a screen, steel, cloth."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from PIL import Image, ImageDraw, ImageFilter

Random = np.random.Generator


def _noise(rng: Random, size: tuple[int, int], cell: int) -> np.ndarray:
    """Smooth noise from 0 to 1; `cell` is the width of a blob in pixels."""
    small = rng.random((max(2, size[1] // cell), max(2, size[0] // cell)))
    picture = Image.fromarray((255 * small).astype(np.uint8)).resize(size, Image.Resampling.BICUBIC)
    return np.asarray(picture, dtype=float) / 255


def _coloured(mix: np.ndarray, dark: tuple[int, ...], light: tuple[int, ...], rng: Random) -> Image.Image:
    colours = np.array(dark) + mix[..., None] * (np.array(light) - np.array(dark))
    grain = rng.normal(0, 4, mix.shape)[..., None]
    return Image.fromarray(np.clip(colours + grain, 0, 255).astype(np.uint8))


def tissue(rng: Random, size: tuple[int, int]) -> Image.Image:
    """Wet red tissue with vessels and glints."""
    mix = 0.5 * _noise(rng, size, 120) + 0.3 * _noise(rng, size, 30) + 0.2 * _noise(rng, size, 6)
    picture = _coloured(mix, (70, 12, 14), (226, 130, 110), rng)
    draw = ImageDraw.Draw(picture)
    for _ in range(14):
        points = np.cumsum(rng.normal(0, 40, (12, 2)), 0) + rng.random(2) * size
        draw.line([tuple(p) for p in points], fill=(120, 10, 20), width=int(rng.integers(1, 6)))
    for x, y in rng.random((30, 2)) * size:
        draw.ellipse((x, y, x + rng.integers(2, 14), y + rng.integers(2, 8)), fill=(255, 246, 240))
    return picture.filter(ImageFilter.GaussianBlur(1))


def eye(rng: Random, size: tuple[int, int]) -> Image.Image:
    """A draped eye from above: sclera with vessels, iris with rays, pupil with its red reflex."""
    picture = _coloured(_noise(rng, size, 60), (150, 140, 150), (236, 224, 220), rng)
    draw = ImageDraw.Draw(picture)
    for _ in range(40):
        points = np.cumsum(rng.normal(0, 12, (10, 2)), 0) + rng.random(2) * size
        draw.line([tuple(p) for p in points], fill=(190, 70, 70), width=1)
    middle = np.array(size) / 2 + rng.normal(0, 30, 2)
    iris = size[1] * 0.3
    draw.ellipse((*(middle - iris), *(middle + iris)), fill=(94, 120, 132))
    for angle in np.linspace(0, 2 * np.pi, 140):
        ray = np.array((np.cos(angle), np.sin(angle)))
        shade = int(rng.integers(60, 150))
        draw.line(
            (*(middle + ray * iris * 0.45), *(middle + ray * iris * 0.98)),
            fill=(shade, shade + 20, shade + 26),
        )
    draw.ellipse((*(middle - iris * 0.45), *(middle + iris * 0.45)), fill=(150, 50, 30))
    x, y = middle + iris * 0.2
    draw.ellipse((x, y, x + 16, y + 16), fill=(255, 255, 255))
    return picture.filter(ImageFilter.GaussianBlur(1.2))


def scan(rng: Random, size: tuple[int, int]) -> Image.Image:
    """A speckled fan on black."""
    mix = _noise(rng, size, 40) * rng.rayleigh(0.5, size[::-1])
    rows, columns = np.mgrid[: size[1], : size[0]]
    angle = np.arctan2(columns - size[0] / 2, rows + 40)
    far = np.hypot(columns - size[0] / 2, rows + 40)
    inside = (np.abs(angle) < 0.7) & (far < size[1]) & (far > 90)
    return _coloured(np.where(inside, mix, 0), (4, 4, 6), (230, 230, 230), rng)


def steel(rng: Random, size: tuple[int, int]) -> Image.Image:
    """Brushed metal with a row of instruments and their glints."""
    rows = _noise(rng, (size[0], size[1]), 4)[:, :1].repeat(size[0], 1)
    picture = _coloured(0.6 * rows + 0.4 * _noise(rng, size, 90), (90, 96, 104), (206, 210, 214), rng)
    draw = ImageDraw.Draw(picture)
    for start in range(80, size[0] - 80, 130):
        lean = rng.normal(0, 60)
        draw.line((start, size[1] * 0.2, start + lean, size[1] * 0.85), fill=(60, 64, 70), width=14)
        draw.line((start + 4, size[1] * 0.2, start + lean + 4, size[1] * 0.85), fill=(236, 238, 240), width=3)
    return picture


def cloth(rng: Random, size: tuple[int, int]) -> Image.Image:
    """A woven green drape with folds."""
    rows, columns = np.mgrid[: size[1], : size[0]]
    weave = 0.06 * ((rows // 3 + columns // 3) % 2)
    return _coloured(0.8 * _noise(rng, size, 150) + weave, (10, 70, 60), (90, 170, 150), rng)


def screen(rng: Random, size: tuple[int, int]) -> Image.Image:
    """A dark monitor with traces and a grid, without a word on it."""
    picture = _coloured(np.zeros(size[::-1]), (8, 12, 18), (8, 12, 18), rng)
    draw = ImageDraw.Draw(picture)
    for x in range(0, size[0], 64):
        draw.line((x, 0, x, size[1]), fill=(24, 32, 40))
    across = np.arange(0, size[0], 3)
    for number, colour in enumerate([(60, 220, 90), (240, 210, 60), (80, 200, 240)]):
        heights = size[1] * (0.25 + 0.25 * number) - 40 * np.abs(np.sin(across / (18 + 8 * number))) ** 9
        draw.line([*zip(across.tolist(), heights.tolist(), strict=True)], fill=colour, width=2)
    return picture


def mixed(rng: Random, size: tuple[int, int]) -> Image.Image:
    """Fine speckle at every scale: nothing to read, much that looks like it."""
    mix = sum(_noise(rng, size, cell) for cell in (4, 9, 20, 60)) / 4
    return _coloured(np.clip(2.2 * mix - 0.6, 0, 1), (30, 20, 16), (240, 226, 200), rng)


GROUNDS: tuple[Callable[[Random, tuple[int, int]], Image.Image], ...] = (
    tissue, eye, scan, steel, cloth, screen, mixed,
)  # fmt: skip
