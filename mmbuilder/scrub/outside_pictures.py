"""A clock in a part of a picture that its author keeps: covered for readers elsewhere (see `times_of_day`).

Whatever else looks like writing is covered already, a clock with it; only what is kept is read here.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from mmbuilder import cache, uses
from mmbuilder.casefile.files import inside
from mmbuilder.casefile.folder import CaseFolder
from mmbuilder.scrub.plan import Decision, Layer, PixelBox
from mmbuilder.scrub.times_of_day import KIND

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

UNCHECKED = "a clock in a part of a picture that the author keeps, where it cannot be read"

_CLOCK = re.compile(r"(?<![\d:])(?:[01]?\d|2[0-3]):[0-5]\d(?::[0-5]\d)?(?!\d)")
_STATE = "1"
"""What is kept between builds is read anew when this changes."""
_ROUNDS = 6
"""Halvings of a line's length until a clock's end is found within a letter's width."""

Area = tuple[int, int, int, int]


def clocks(
    folder: CaseFolder, boxes: Mapping[int, tuple[PixelBox, ...]]
) -> Mapping[int, tuple[PixelBox, ...]]:
    """Return the boxes of every still, with a cover over each clock in what its author keeps.

    Args:
        folder: the case.
        boxes: by number of the still, in pixels of the upright original.
    """
    if not uses.load(folder.case.use).outside:
        return boxes
    files = {number: frame.file.value for number, frame in enumerate(folder.case.frames, 1)}
    return {
        number: (*of_one, *in_kept(folder.root, files[number], of_one)) for number, of_one in boxes.items()
    }


def unchecked(folder: CaseFolder) -> tuple[str, ...]:
    """Return what of this nobody looked at, in words for the report."""
    kept = uses.load(folder.case.use).outside and any(frame.keep for frame in folder.case.frames)
    return (UNCHECKED,) if kept else ()


def in_kept(root: Path, file: str, boxes: Iterable[PixelBox]) -> tuple[PixelBox, ...]:
    """Return a cover over each clock in what the author keeps of a picture; none where nothing reads writing.

    Args:
        root: the case folder.
        file: the picture as the case names it.
        boxes: the picture's, in pixels of the upright original.
    """
    kept = [
        (box.left, box.top, box.right, box.bottom)
        for box in boxes
        if box.layer is Layer.AUTHOR and box.decision is Decision.KEEP
    ]
    return tuple(
        PixelBox(*area, KIND, Layer.PATTERN, Decision.REPLACE, "told outside")
        for area in (_remembered(inside(root, file), kept) if kept and _reads() else ())
    )


def _reads() -> bool:
    from mmbuilder.scrub.images import regions
    from mmbuilder.scrub.images.finders import text

    return any(finder.NAME == text.NAME for finder in regions.finders())


def _remembered(picture: Path, kept: list[Area]) -> list[Area]:
    """Look once for each picture and what is kept of it."""
    name = cache.key("clocks", _STATE, hashlib.sha256(picture.read_bytes()).digest(), repr(kept))
    known = cache.kept(name, lambda: json.dumps(list(_found(picture, kept))).encode())
    return [(left, top, right, bottom) for left, top, right, bottom in json.loads(known)]


def _found(picture: Path, kept: list[Area]) -> Iterator[Area]:
    from mmbuilder.scrub.images.decode import decode
    from mmbuilder.scrub.images.finders._detect import lines
    from mmbuilder.scrub.images.finders._pixels import bgr

    pixels = bgr(decode(picture).image)
    high, wide = pixels.shape[:2]
    parts = [
        (max(0, left), max(0, top), min(wide, right), min(high, bottom)) for left, top, right, bottom in kept
    ]
    for line in lines(pixels, [part for part in parts if part[0] < part[2] and part[1] < part[3]]):
        for left, top, right, bottom in line.padded().rectangles():
            area = (
                max(0, round(left)),
                max(0, round(top)),
                min(wide, round(right)),
                min(high, round(bottom)),
            )
            if _shows_clock(pixels, area):
                yield _narrowed(pixels, area)


def _shows_clock(pixels: NDArray[np.uint8], area: Area) -> bool:
    from mmbuilder.scrub.images.finders._read import UNSURE, read

    left, top, right, bottom = area
    strip = pixels[top:bottom, left:right]
    return bool(strip.size) and _CLOCK.search(read(strip, UNSURE)) is not None


def _narrowed(pixels: NDArray[np.uint8], area: Area) -> Area:
    """Return the part of a line that still reads as a clock, with a letter's width beside it."""
    left, top, right, bottom = area
    start, end = left, right  # the clock starts at `start` or later, and ends at `end` or earlier
    step = (right - left) / 2
    for _ in range(_ROUNDS):
        if _shows_clock(pixels, (round(start + step), top, right, bottom)):
            start = round(start + step)
        step /= 2
    step = (right - start) / 2
    for _ in range(_ROUNDS):
        if _shows_clock(pixels, (start, top, round(end - step), bottom)):
            end = round(end - step)
        step /= 2
    letter = (bottom - top) // 2
    return max(left, start - letter), top, min(right, end + letter), bottom
