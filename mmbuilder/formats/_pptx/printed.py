"""Where letters stand in a picture: side and orientation, a scale bar, what a monitor says.

A label over them would hide what they tell. Letters are many hard edges between light and dark on a small
space; tissue has soft ones. What of other fine detail is taken for letters only moves a label a little.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

import numpy as np

from mmbuilder.formats._pptx.geometry import Box
from mmbuilder.safe.image import SafeImage

_TILE = 16
"""Pixels of the side of a tile that is looked at by itself; chosen on the bundled stills."""

_HARD = 270
"""Steps between neighbours that make an edge, of the 765 that red, green and blue have together."""

_MANY = 0.08 * _TILE**2
"""Pixels of a tile that stand at such an edge, if there are letters in it."""


def printed(image: SafeImage, shown: Box) -> tuple[Box, ...]:
    """Return the places of letters in a picture shown in `shown`, a box for each stretch of a line."""
    letters = _letters(image)
    across, down = _TILE * shown.w / image.width, _TILE * shown.h / image.height
    return tuple(
        Box(shown.x + first * across, shown.y + row * down, count * across, down)
        for row, first, count in _stretches(letters)
    )


def _letters(image: SafeImage) -> np.ndarray:
    """Whether there are letters in each tile, row by row."""
    pixels = np.frombuffer(image.pixels, np.uint8).reshape(image.height, image.width, 3)
    red, green, blue = (pixels[:, :, colour] for colour in range(3))
    bright = np.add(red, green, dtype=np.int16) + blue
    hard = np.abs(np.diff(bright, axis=1)) > _HARD
    rows, columns = image.height // _TILE, (image.width - 1) // _TILE
    tiles = hard[: rows * _TILE, : columns * _TILE].reshape(rows, _TILE, columns, _TILE)
    found: np.ndarray = np.count_nonzero(tiles, axis=(1, 3)) > _MANY
    return found


def _stretches(letters: np.ndarray) -> Iterator[tuple[int, int, int]]:
    """Yield row, first tile and number of tiles of each unbroken stretch."""
    for row, tiles in enumerate(letters.tolist()):
        for told, run in groupby(enumerate(tiles), key=lambda tile: bool(tile[1])):
            places = [place for place, _ in run]
            if told:
                yield row, places[0], len(places)
