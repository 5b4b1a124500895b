"""What was looked at before it was covered, and stands in the finished picture sample by sample.

JPEG is written in blocks of 8 x 8, each by itself (ISO/IEC 10918-1, A.2.4; colour is not thinned out here). A picture
that is covered and encoded differs from the same picture encoded without covers in the blocks that a cover touches,
and in no other. So one look at the picture as it will be shown, but uncovered, holds for all the rest of it.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from mmbuilder import cache
from mmbuilder.scrub.plan import Decision, PixelBox

if TYPE_CHECKING:
    from PIL.Image import Image

BLOCK = 8
SHRUNK = 4
"""Pixels round a cover that it changes where the picture is made smaller (Lanczos reaches three, and one to round)."""


def remember(image: Image, boxes: Sequence[PixelBox], code: Sequence[bytes]) -> None:
    """Keep that a picture was looked at, all of it, but for what lies under covers.

    Args:
        image: as it will be shown, encoded and decoded, uncovered.
        boxes: what will be covered, in its pixels; what is to stay is left alone.
        code: what looked.
    """
    cache.put(_name(image, boxes, code), b"looked at")


def looked_at(image: Image, boxes: Sequence[PixelBox], code: Sequence[bytes]) -> bool:
    """Whether all of a finished picture that no cover reaches was looked at; arguments as for `remember`."""
    return cache.get(_name(image, boxes, code)) is not None


def _name(image: Image, boxes: Sequence[PixelBox], code: Sequence[bytes]) -> str:
    rest = image.convert("RGB")
    for box in boxes:
        if box.decision is Decision.REPLACE:
            rest.paste(0, _blocks(box))
    return cache.key("looked at", *code, f"{rest.width}x{rest.height}", rest.tobytes())


def _blocks(box: PixelBox) -> tuple[int, int, int, int]:
    """The blocks that a cover reaches."""
    left, top = ((side - SHRUNK) // BLOCK * BLOCK for side in (box.left, box.top))
    right, bottom = (-(-(side + SHRUNK) // BLOCK) * BLOCK for side in (box.right, box.bottom))
    return left, top, right, bottom
