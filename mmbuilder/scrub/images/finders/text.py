"""Text burned into a picture: found by its look, covered whether or not it can be read.

Reading decides only what may stay (`_allow`). Weights: `_weights/NOTICE.md`.
"""

from __future__ import annotations

from dataclasses import replace
from math import ceil, floor
from typing import TYPE_CHECKING

from mmbuilder.scrub.images.finders import _allow, _rows
from mmbuilder.scrub.images.finders._pixels import bgr
from mmbuilder.scrub.images.finders._rows import Row
from mmbuilder.scrub.plan import Decision, Layer, PixelBox

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray
    from PIL.Image import Image

NAME = "text in pictures"
LOOKS_FOR = ("text in the picture",)
EXTRA, NEEDS = "ocr", ("onnxruntime", "cv2")
KIND = "text in the picture"
READ_ALONG = 1.6
"""A rectangle higher than this many times its width holds turned text, which is covered unread."""
RETRIED = 8.0
"""Heights; a longer line is read once: a tight margin spoils the first letter of a short label, not a line."""
BESIDE = 3.0
"""Heights a device's number may stand from its label or unit."""


def find(image: Image) -> tuple[PixelBox, ...]:
    """Return what looks like text: to be covered, or to stay with the reason why."""
    pixels = bgr(image)
    rows = [row.padded() for row in _labelled(_read_all(_found(pixels), pixels))]
    covered = [row for row in rows if not row.reason]
    filled = _rows.strips([row for row in covered if not row.leaning], image.width, image.height)
    boxes = (_box(row, image.width, image.height) for row in (*rows, *filled))
    return tuple(sorted({box for box in boxes if box.left < box.right and box.top < box.bottom}))


def _found(pixels: NDArray[np.uint8]) -> list[Row]:
    from mmbuilder.scrub.images.finders._detect import lines

    upright, leaning = list[Row](), list[Row]()
    for line in lines(pixels):
        where = upright if line.upright else leaning
        # A leaning line is padded along its own slope; an upright one after it was read, unpadded.
        for left, top, right, bottom in (line if line.upright else line.padded()).rectangles():
            where.append(Row(left, top, right, bottom, line.score, leaning=not line.upright))
    return [*_rows.single(upright), *leaning]


def _read_all(rows: list[Row], pixels: NDArray[np.uint8]) -> list[tuple[Row, str]]:
    return [(row, _words(row, pixels)) for row in rows]


def _words(row: Row, pixels: NDArray[np.uint8]) -> str:
    """Read a row as it was found, a short one again with its margin; nothing if it cannot be read."""
    from mmbuilder.scrub.images.finders._read import read

    if row.leaning or row.height > READ_ALONG * (row.right - row.left):
        return ""
    short = row.right - row.left < RETRIED * row.height
    for each in (row, row.padded()) if short else (row,):
        left, top, right, bottom = (max(0, round(side)) for side in each.place)
        strip = pixels[top:bottom, left:right]
        if strip.size and (text := read(strip)):
            return text
    return ""


def _labelled(read: list[tuple[Row, str]]) -> list[Row]:
    """Give each row that may stay its reason; the words go no further."""
    first = [(_reasoned(row, _allow.allowed(text)), text) for row, text in read]
    labels = [row for row, _ in first if row.reason.startswith(_allow.SETTING.kind)]
    return [
        _reasoned(row, _allow.VALUE)
        if not row.reason and _allow.bare_number(text) and any(_beside(row, label) for label in labels)
        else row
        for row, text in first
    ]


def _reasoned(row: Row, allowance: _allow.Allowance | None) -> Row:
    return replace(row, reason=f"{allowance.kind}: {allowance.reason}") if allowance else row


def _beside(row: Row, label: Row) -> bool:
    reach = BESIDE * min(row.height, label.height)
    across = max(row.left, label.left) - min(row.right, label.right)
    down = max(row.top, label.top) - min(row.bottom, label.bottom)
    return across <= reach and down <= reach / BESIDE


def _box(row: Row, width: int, height: int) -> PixelBox:
    return PixelBox(
        max(0, floor(row.left)),
        max(0, floor(row.top)),
        min(width, ceil(row.right)),
        min(height, ceil(row.bottom)),
        KIND,
        Layer.MODEL,
        Decision.KEEP if row.reason else Decision.REPLACE,
        row.reason or f"looks like text; confidence {row.score:.2f}",
    )
