"""Look again after covering: a second look at the result must find nothing that the first could.

What an author or a rule keeps is not found again. For the look, and only for it, covers are given
the colour of what lies round them: a hard grey rectangle itself looks like a line of text, and
covering its edges would go on for ever. What stands beside a cover is seen as well as before.
"""

from __future__ import annotations

import functools
import json
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from mmbuilder.cache import get, key, put
from mmbuilder.errors import FileRefused
from mmbuilder.scrub.images import regions
from mmbuilder.scrub.images.cover import COVER
from mmbuilder.scrub.plan import Decision, Layer, PixelBox

if TYPE_CHECKING:
    from PIL.Image import Image

Look = Callable[["Image"], tuple[PixelBox, ...]]

ROUNDS = 5
"""Looks after the first. Texture may need three before nothing more is found."""
RING = 6
"""Pixels round a cover that lend it their colour for the look."""
MOSTLY = 0.6
"""Share of a box inside another from which it says nothing new."""
HIDDEN_FIRST, HIDDEN_AGAIN = 0.95, 0.5
"""Share of a box under covers from which it is taken as covered. At the first look nearly all of it;
later the fill itself is seen as a line, and a box round it with its margin is half fill and more."""
BY_AUTHOR = "kept by the author"


def propose_boxes(
    image: Image, covers: Sequence[PixelBox], keeps: Sequence[PixelBox], *, look: Look | None = None
) -> tuple[PixelBox, ...]:
    """Return every box of a picture: the author's, and what the finders add, kept or to be covered.

    The author's keep boxes win over finders; the author's cover boxes win over everything.

    Args:
        image: the upright picture, before any covering.
        covers: what the author drew to be covered, in its pixels.
        keeps: what the author drew to stay.
        look: what looks; every finder installed if not given.

    Raises:
        FileRefused: something is still found after as many looks as there may be.
    """
    drawn = tuple(replace(box, decision=Decision.REPLACE) for box in covers)
    kept = tuple(replace(box, decision=Decision.KEEP) for box in keeps)
    if look is None and not regions.finders():
        return tuple(sorted({*drawn, *kept}))
    return tuple(sorted({*kept, *settled(image, drawn, kept, look or _remembered)}))


def settled(
    image: Image, drawn: Sequence[PixelBox], kept: Sequence[PixelBox], look: Look
) -> tuple[PixelBox, ...]:
    """Cover and look until nothing new is found.

    Raises:
        FileRefused: it is, after as many looks as there may be.
    """
    boxes = [*drawn, *_new(look(image), drawn, kept, HIDDEN_FIRST)]
    for _ in range(ROUNDS):
        if not any(box.decision is Decision.REPLACE for box in boxes):
            return tuple(boxes)  # nothing is covered: it would be the same picture again
        more = [
            box
            for box in _new(look(melted(image, boxes)), boxes, kept, HIDDEN_AGAIN)
            if box.decision is Decision.REPLACE
        ]
        if not more:
            return tuple(boxes)
        boxes += more
    raise FileRefused(
        f"this picture was covered and looked at {ROUNDS} times, and something is still found in it; draw a "
        "cover box over the part with writing, or cut it away with `crop`"
    )


def still_found(image: Image, boxes: Sequence[PixelBox], *, look: Look | None = None) -> tuple[PixelBox, ...]:
    """Return what is found in a finished picture and is for the most part neither covered nor kept.

    Args:
        image: the picture as it will be shown.
        boxes: what was covered in it and what was kept, in its pixels.
        look: what looks; every finder installed if not given.
    """
    if look is None and not regions.finders():
        return ()
    found = (look or _remembered)(melted(image, boxes))
    return tuple(
        box for box in found if box.decision is Decision.REPLACE and covered_share(box, boxes) <= HIDDEN_AGAIN
    )


def melted(image: Image, boxes: Sequence[PixelBox]) -> Image:
    """Return the picture with every cover in the median colour of what can be seen round it."""
    import numpy as np
    from PIL import Image as Pictures

    pixels = np.array(image.convert("RGB"))
    covers = [box for box in boxes if box.decision is Decision.REPLACE]
    hidden = np.zeros(pixels.shape[:2], bool)
    for box in covers:
        hidden[max(0, box.top) : max(0, box.bottom), max(0, box.left) : max(0, box.right)] = True
    seen = np.where(hidden[..., None], np.nan, pixels.astype(float))
    for box in covers:
        inside = (slice(max(0, box.top), max(0, box.bottom)), slice(max(0, box.left), max(0, box.right)))
        rows = slice(max(0, box.top - RING), max(0, box.bottom + RING))
        ring = seen[rows, max(0, box.left - RING) : max(0, box.right + RING)]
        lent = ring[~np.isnan(ring[..., 0])]
        pixels[inside] = np.median(lent, 0) if lent.size else COVER
    return Pictures.fromarray(pixels)


def _new(
    found: Iterable[PixelBox], known: Sequence[PixelBox], kept: Sequence[PixelBox], enough: float
) -> list[PixelBox]:
    """Return what is not yet covered, without what the author keeps."""
    hidden = [box for box in known if box.decision is Decision.REPLACE]
    stays = [box for box in known if box.decision is Decision.KEEP]
    out = []
    for box in found:
        if covered_share(box, hidden) > enough or (box.decision is Decision.KEEP and _mostly_in(box, hidden)):
            continue
        if box.decision is Decision.REPLACE and _mostly_in(box, [*kept, *stays]):
            # A keep drawn a little tight still holds the line it was drawn round.
            box = replace(box, decision=Decision.KEEP, reason=BY_AUTHOR)
        out += _around(box, kept) if box.decision is Decision.REPLACE else [box]
    return [box for box in out if box not in known]


def covered_share(box: PixelBox, others: Sequence[PixelBox]) -> float:
    """Return the share of a box's area that lies in the others together."""
    rest, whole = [box], _area(box)
    for other in others:
        rest = [piece for part in rest for piece in _without(part, other)]
    return 1 - sum(_area(part) for part in rest) / whole if whole else 1.0


def _mostly_in(box: PixelBox, others: Sequence[PixelBox]) -> bool:
    return any(covered_share(box, [other]) >= MOSTLY for other in others)


def _around(box: PixelBox, kept: Sequence[PixelBox]) -> list[PixelBox]:
    parts = [box]
    for keep in kept:
        parts = [piece for part in parts for piece in _without(part, keep)]
    return parts


def _without(box: PixelBox, hole: PixelBox) -> list[PixelBox]:
    """Return up to four boxes that hold what of a box lies outside a hole."""
    left, right = max(box.left, hole.left), min(box.right, hole.right)
    top, bottom = max(box.top, hole.top), min(box.bottom, hole.bottom)
    if left >= right or top >= bottom:
        return [box]
    parts = (
        replace(box, bottom=top),
        replace(box, top=bottom),
        replace(box, top=top, bottom=bottom, right=left),
        replace(box, top=top, bottom=bottom, left=right),
    )
    return [part for part in parts if _area(part) > 0]


def _area(box: PixelBox) -> int:
    return max(0, box.right - box.left) * max(0, box.bottom - box.top)


def _remembered(image: Image) -> tuple[PixelBox, ...]:
    """Look with every finder, once for each picture: places, kinds and fixed reasons hold no text."""
    plain = image.convert("RGB")
    names = ",".join(finder.NAME for finder in regions.finders())
    name = key("boxes", *_code(), names, f"{plain.width}x{plain.height}", plain.tobytes())
    kept = get(name)
    if kept is not None:
        return tuple(_loaded(row) for row in json.loads(kept))
    found = regions.find_regions(plain)
    put(name, json.dumps([_stored(box) for box in found]).encode())
    return found


@functools.cache
def _code() -> tuple[bytes, ...]:
    """Return the finders' own source: what an older one found is not taken for what this one would."""
    folder = Path(regions.__file__).parent / "finders"
    return tuple(path.read_bytes() for path in sorted(folder.glob("*.py")))


def _stored(box: PixelBox) -> list[int | str]:
    return [box.left, box.top, box.right, box.bottom, box.kind, box.decision.value, box.reason]


def _loaded(row: list[int | str]) -> PixelBox:
    left, top, right, bottom = (int(value) for value in row[:4])
    return PixelBox(left, top, right, bottom, str(row[4]), Layer.MODEL, Decision(str(row[5])), str(row[6]))
