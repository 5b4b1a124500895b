"""Whether two drawings look alike: small copies in two inks, compared place by place.

Letters depend on the font engine, shapes do not; so shapes and words are painted apart, reduced to a
quarter and kept in one picture (shapes are green in it, words red), each with a limit of its own.
What is compared is how dark each place is, with its surroundings under a triangular window: letters
that moved by a hair are as dark as before, what is no longer drawn is not. The limits were set by
trial, no source; `test_golden` shows from both sides that they fit.
"""

from __future__ import annotations

import io
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
import numpy.typing as npt
from PIL import Image, ImageChops

from mmbuilder.figures import paint
from mmbuilder.figures.sheet import Item, Sheet, Words

Grey = npt.NDArray[np.float64]

REDUCED = 4
"""How many pixels of the painting, each way, make one of the copy."""

MOST_BYTES = 45_000


@dataclass(frozen=True)
class Layer:
    """One ink of a copy.

    Attributes:
        window: half of the triangular window; pixels of the copy.
        limit: how much darker or lighter a place may be; levels of grey out of 255.
    """

    name: str
    window: int
    limit: float


LAYERS = (Layer("shapes", 4, 8.0), Layer("words", 8, 18.0))

WHOLE = 4.0
"""Largest mean difference of all pixels of both; levels of grey."""


def small(sheet: Sheet) -> Image.Image:
    """Return the reduced copy of a painted sheet."""
    shapes, words = _painted(sheet, words=False), _painted(sheet, words=True)
    return Image.merge("RGB", (shapes, words, ImageChops.darker(shapes, words)))


def _painted(sheet: Sheet, *, words: bool) -> Image.Image:
    items: tuple[Item, ...] = tuple(item for item in sheet.items if isinstance(item, Words) is words)
    with Image.open(io.BytesIO(paint.png(replace(sheet, items=items)))) as picture:
        return picture.convert("L").reduce(REDUCED)


@dataclass(frozen=True)
class Difference:
    """How far two copies are apart.

    Attributes:
        whole: mean over all pixels of the ink that differs most.
        local: for each layer, the largest difference under its window.
        first: layer, column and row of the middle of the first place over a limit, in reading order.
    """

    whole: float
    local: tuple[float, ...]
    first: tuple[str, int, int] | None

    @property
    def same(self) -> bool:
        """Whether all limits are kept."""
        return self.whole <= WHOLE and self.first is None


def difference(one: Image.Image, two: Image.Image) -> Difference:
    """Compare two copies of one size."""
    assert one.size == two.size, f"found {two.size}, expected {one.size} pixels"
    apart = np.asarray(one, dtype=np.float64) - np.asarray(two, dtype=np.float64)
    local = [np.abs(_windowed(apart[:, :, place], layer.window)) for place, layer in enumerate(LAYERS)]
    firsts = (_first(found, layer) for found, layer in zip(local, LAYERS, strict=True))
    return Difference(
        float(np.abs(apart[:, :, : len(LAYERS)]).mean(axis=(0, 1)).max()),
        tuple(float(found.max()) for found in local),
        next((first for first in firsts if first), None),
    )


def _first(found: Grey, layer: Layer) -> tuple[str, int, int] | None:
    """Return the darkest place in the first row of windows that has one over the limit."""
    over = np.argwhere(found > layer.limit)
    if not len(over):
        return None
    top = int(over[0][0])
    row, column = np.unravel_index(
        found[top : top + layer.window].argmax(), found[top : top + layer.window].shape
    )
    return layer.name, int(column), top + int(row)


def _windowed(apart: Grey, half: int) -> Grey:
    """Weigh every place with its surroundings; the weights of a row fall evenly to nothing and sum to 1."""
    weights = np.convolve(np.ones(half) / half, np.ones(half) / half)
    for axis in (0, 1):
        padding = [(half - 1, half - 1) if axis == each else (0, 0) for each in (0, 1)]
        apart = np.apply_along_axis(np.convolve, axis, np.pad(apart, padding, mode="edge"), weights, "valid")
    return apart


def hold(found: Image.Image, kept: Path, at: Path, *, regenerate: bool) -> None:
    """Hold a picture against the kept one; where they differ, both are saved at `at`."""
    if regenerate or not kept.exists():
        kept.parent.mkdir(exist_ok=True)
        found.save(kept, optimize=True)
        message = (
            f"{kept.name} was {'written anew' if regenerate else 'not there, and was written'}: look at it"
        )
        raise AssertionError(message)
    with Image.open(kept) as picture:
        expected = picture.convert("RGB")
    if expected.size == found.size and difference(expected, found).same:
        return
    names = at / f"{kept.stem}-expected.png", at / f"{kept.stem}-found.png"
    expected.save(names[0])
    found.save(names[1])
    raise AssertionError(_told(expected, found, names))


def _told(expected: Image.Image, found: Image.Image, names: tuple[Path, Path]) -> str:
    saved = f"see {names[0]} and {names[1]}; `--force-regen` keeps the new one"
    if expected.size != found.size:
        return f"size: found {found.size}, expected {expected.size}; {saved}"
    apart = difference(expected, found)
    where = "in no single place"
    if apart.first is not None:
        layer, across, down = apart.first
        where = f"in the {layer}, {across} pixels across and {down} down"
    most = ", ".join(
        f"{layer.name} {local:.1f} (at most {layer.limit:g})"
        for layer, local in zip(LAYERS, apart.local, strict=True)
    )
    return f"first difference {where}; {most}; mean {apart.whole:.2f} (at most {WHOLE:g}); {saved}"
