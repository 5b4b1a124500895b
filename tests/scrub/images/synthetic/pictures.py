"""The set: 40 pictures with text, 20 without, each named, made from its name alone, and split by its hash."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass
from io import BytesIO

import numpy as np
from PIL import Image

from tests.scrub.images.synthetic import items
from tests.scrub.images.synthetic.grounds import GROUNDS
from tests.scrub.images.synthetic.items import Item

WRITTEN, CLEAN = 40, 20
SIZES = ((1280, 720), (1920, 1080))


@dataclass(frozen=True)
class Drawn:
    """A picture, as it comes out of a JPEG file, and what is written on it."""

    name: str
    image: Image.Image
    items: tuple[Item, ...]


def names() -> tuple[str, ...]:
    return (
        *(f"written-{number:02d}" for number in range(WRITTEN)),
        *(f"clean-{number:02d}" for number in range(CLEAN)),
    )


def is_held_out(name: str) -> bool:
    """Whether figures are reported on it; nothing may be tuned on it."""
    return hashlib.sha256(f"split:{name}".encode()).digest()[0] % 2 == 1


def dev() -> Iterator[Drawn]:
    return (draw(name) for name in names() if not is_held_out(name))


def held_out() -> Iterator[Drawn]:
    return (draw(name) for name in names() if is_held_out(name))


def draw(name: str) -> Drawn:
    """Make a picture from its name; the same name gives the same picture."""
    rng = np.random.default_rng(int.from_bytes(hashlib.sha256(name.encode()).digest()[:8]))
    size = SIZES[int(rng.integers(len(SIZES)))]
    picture = GROUNDS[int(rng.integers(len(GROUNDS)))](rng, size)
    if name.startswith("clean"):
        return Drawn(name, _saved(picture), ())
    taken = np.zeros(size[::-1], bool)
    styles = rng.choice(np.array(items.usable(), dtype=object), int(rng.integers(3, 9)))
    placed = [items.place(picture, style, rng, taken) for style in styles]
    return Drawn(name, _saved(items.softened(picture, rng)), tuple(item for item in placed if item))


def _saved(picture: Image.Image) -> Image.Image:
    out = BytesIO()
    picture.save(out, "JPEG", quality=88)
    return Image.open(BytesIO(out.getvalue())).convert("RGB")
