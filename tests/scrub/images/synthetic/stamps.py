"""What several of the sets draw alike: names of their pictures, letters as a stamp, a free place, clouds.

The sets rest on the order in which they ask their dice; nothing here asks in another.
"""

from __future__ import annotations

from collections.abc import Iterable

import cv2
import numpy as np
from PIL import Image, ImageDraw, ImageFont

from tests.scrub.images.synthetic.items import Item

Random = np.random.Generator


def numbered(kinds: Iterable[tuple[str, int]]) -> list[str]:
    return [f"{kind}-{number:02d}" for kind, count in kinds for number in range(count)]


def is_held_out(name: str) -> bool:
    """Whether a picture has an odd number: the even ones are for tuning."""
    return int(name[-2:]) % 2 == 1


def cloud(rng: Random, size: tuple[int, int], cells: int) -> np.ndarray:
    return cv2.resize(rng.random((cells, cells)).astype(np.float32), size, interpolation=cv2.INTER_CUBIC)


def grid(size: tuple[int, int]) -> tuple[np.ndarray, np.ndarray]:
    """Return rows and columns, in heights of the picture."""
    rows, columns = np.mgrid[: size[1], : size[0]].astype(np.float32)
    return rows / size[1], columns / size[1]


def lettered(text: str, font: ImageFont.FreeTypeFont, margin: int) -> Image.Image:
    """Return a text as a stamp of its letters, with a margin round them."""
    left, top, right, bottom = font.getbbox(text)
    stamp = Image.new("L", (int(right - left) + 2 * margin, int(bottom - top) + 2 * margin))
    ImageDraw.Draw(stamp).text((margin - left, margin - top), text, fill=255, font=font)
    return stamp


def free_place(
    picture: Image.Image,
    stamp: Image.Image,
    rng: Random,
    taken: np.ndarray,
    *,
    edge: int,
    least: int,
    apart: int,
) -> tuple[int, int] | None:
    """Return where a stamp goes, and take the place; None where nothing is free after fifty tries.

    Args:
        taken: which pixels something stands on.
        edge: pixels to the edge of the picture.
        least: pixels that have to be left beside and below the stamp.
        apart: pixels to what stands there already.
    """
    wide, high = picture.width - stamp.width, picture.height - stamp.height
    if wide < least or high < least:
        return None
    for _ in range(50):
        left, top = int(rng.integers(edge, wide - edge)), int(rng.integers(edge, high - edge))
        around = (
            slice(max(0, top - apart), top + stamp.height + apart),
            slice(max(0, left - apart), left + stamp.width + apart),
        )
        if not taken[around].any():
            taken[around] = True
            return left, top
    return None


def item(picture: Image.Image, stamp: Image.Image, at: tuple[int, int], way: str) -> Item:
    """Return what was written: the pixels of its ink."""
    whole = np.zeros((picture.height, picture.width), bool)
    whole[at[1] : at[1] + stamp.height, at[0] : at[0] + stamp.width] = np.asarray(stamp) > 100
    return Item(way, whole)
