"""Look again after covering: a second look at the result must find nothing that the first could.

What lies far from a cover is as it was at the first look: only the covers and what lies round them are
looked at again, and so on round what that adds. What an author or a rule keeps is not found again. For the
look, and only for it, covers are filled by what lies at their edges: a hard grey rectangle itself looks like
a line of text, and covering its edges would go on for ever. What stands beside a cover is seen as well as before.
"""

from __future__ import annotations

import functools
import json
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from mmbuilder import cache
from mmbuilder.errors import FileRefused
from mmbuilder.scrub.images import regions
from mmbuilder.scrub.images.areas import Area, apart
from mmbuilder.scrub.images.cover import COVER
from mmbuilder.scrub.images.looked import looked_at, remember
from mmbuilder.scrub.plan import Decision, Layer, PixelBox

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray
    from PIL.Image import Image

    Pixels = NDArray[np.uint8]
    Mask = NDArray[np.bool_]

Look = Callable[["Image"], tuple[PixelBox, ...]]
LookAgain = Callable[["Image", Sequence[PixelBox], Sequence[PixelBox]], tuple[PixelBox, ...]]
"""The picture, what covers it, and the covers that are new since the last look."""
Covered = Callable[[Sequence[PixelBox]], "Image"]

ROUNDS = 5
"""Looks after the first. Texture may need three before nothing more is found."""
REACH = 96
"""Pixels round a cover that are looked at again with it: more than the longest letters are high."""
RING = 6
"""Pixels past each edge of a cover that fill it for the look."""
STEP = 32
"""Rows of a fill that are made at once."""
MOSTLY = 0.6
"""Share of a box inside another from which it says nothing new."""
HIDDEN_FIRST, HIDDEN_AGAIN = 0.95, 0.5
"""Share of a box under covers from which it is taken as covered. At the first look nearly all of it;
later the fill itself is seen as a line, and a box round it with its margin is half fill and more."""
BY_AUTHOR = "kept by the author"


def propose_boxes(
    image: Image,
    covers: Sequence[PixelBox],
    keeps: Sequence[PixelBox],
    *,
    look: Look | None = None,
    covered: Covered | None = None,
) -> tuple[PixelBox, ...]:
    """Return every box of a picture: the author's, and what the finders add, kept or to be covered.

    The author's keep boxes win over finders; the author's cover boxes win over everything.

    Args:
        image: the upright picture, before any covering.
        covers: what the author drew to be covered, in its pixels.
        keeps: what the author drew to stay.
        look: what looks; every finder installed if not given.
        covered: gives the picture with boxes covered as it will be shown, where covering changes more of it.

    Raises:
        FileRefused: something is still found after as many looks as there may be.
    """
    drawn = tuple(replace(box, decision=Decision.REPLACE) for box in covers)
    kept = tuple(replace(box, decision=Decision.KEEP) for box in keeps)
    if look is None and not regions.finders():
        return tuple(sorted({*drawn, *kept}))
    if look is None:
        first: Look = _remembered
        again: LookAgain = _near
    else:
        first, again = look, _whole(look)
    if covered is not None:
        again = _of_covered(again, covered)
    return tuple(sorted({*kept, *settled(image, drawn, kept, first, again)}))


def _whole(look: Look) -> LookAgain:
    """Look at all of the covered picture again."""
    return lambda image, boxes, _: look(melted(image, boxes))


def _of_covered(again: LookAgain, covered: Covered) -> LookAgain:
    """Look again at the picture as it is shown once it is covered."""
    return lambda _, boxes, fresh: again(covered(boxes), boxes, fresh)


def settled(
    image: Image, drawn: Sequence[PixelBox], kept: Sequence[PixelBox], look: Look, again: LookAgain
) -> tuple[PixelBox, ...]:
    """Cover and look until nothing new is found.

    Args:
        image: the picture, before any covering.
        drawn: the author's covers.
        kept: the author's keeps.
        look: what looks first.
        again: what looks at the covered picture.

    Raises:
        FileRefused: it is, after as many looks as there may be.
    """
    boxes = [*drawn, *_new(look(image), drawn, kept, HIDDEN_FIRST)]
    fresh = _covers(boxes)
    for _ in range(ROUNDS):
        if not fresh:
            return tuple(boxes)  # nothing was covered since the last look: it would be the same picture
        found = again(image, boxes, fresh)
        fresh = _covers(_new(found, boxes, kept, HIDDEN_AGAIN))
        boxes += fresh
    if not fresh:
        return tuple(boxes)
    raise FileRefused(
        f"this picture was covered and looked at {ROUNDS} times, and something is still found in it; draw a "
        "cover box over the part with writing, or cut it away with `crop`"
    )


def still_found(image: Image, boxes: Sequence[PixelBox], *, look: Look | None = None) -> tuple[PixelBox, ...]:
    """Return what is found in a finished picture and is for the most part neither covered nor kept.

    What was looked at before it was covered (`looked`) is not looked at again.

    Args:
        image: the picture as it will be shown.
        boxes: what was covered in it and what was kept, in its pixels.
        look: what looks; every finder installed if not given.
    """
    if look is None and not regions.finders():
        return ()
    if look is not None:
        found = look(melted(image, boxes))
    elif looked_at(image, boxes, finders_code()):
        found = _near(image, boxes, _covers(boxes))
    else:
        found = _remembered(image, [(0, 0, *image.size)], boxes)
    return tuple(
        box for box in found if box.decision is Decision.REPLACE and covered_share(box, boxes) <= HIDDEN_AGAIN
    )


def melted(image: Image, boxes: Sequence[PixelBox]) -> Image:
    """Return the picture with every cover filled by what can be seen at its edges, each going on into it.

    What runs under a cover, as the shafts of instruments do, would end at its edge if it had one colour, and what
    ends in a row looks like a line of letters.
    """
    import numpy as np
    from PIL import Image as Pictures
    from PIL.ImageFilter import BoxBlur

    pixels = np.array(image.convert("RGB"))
    covers = sorted({box for box in map(_on(image), _covers(boxes)) if _area(box) > 0})
    shown = np.ones(pixels.shape[:2], bool)
    for box in covers:
        shown[box.top : box.bottom, box.left : box.right] = False
    for box in covers:
        # Noise drawn out into stripes would look like the bars of a code.
        fill = Pictures.fromarray(_from_edges(box, pixels, shown)).filter(BoxBlur(RING))
        pixels[box.top : box.bottom, box.left : box.right] = fill
    return Pictures.fromarray(pixels)


def _on(image: Image) -> Callable[[PixelBox], PixelBox]:
    """Return what cuts a box to the picture."""
    return lambda box: replace(
        box,
        left=max(0, box.left),
        top=max(0, box.top),
        right=min(image.width, box.right),
        bottom=min(image.height, box.bottom),
    )


def _from_edges(box: PixelBox, pixels: Pixels, shown: Mask) -> Pixels:
    """Return what fills a box: the mean of what is seen past its four edges, the nearer the more."""
    import numpy as np

    rows, columns = slice(box.top, box.bottom), slice(box.left, box.right)
    high, wide = box.bottom - box.top, box.right - box.left
    above = _mean((slice(max(0, box.top - RING), box.top), columns), 0, pixels, shown)
    below = _mean((slice(box.bottom, box.bottom + RING), columns), 0, pixels, shown)
    before = _mean((rows, slice(max(0, box.left - RING), box.left)), 1, pixels, shown)
    after = _mean((rows, slice(box.right, box.right + RING)), 1, pixels, shown)
    across, down = np.arange(1, wide + 1), np.arange(1, high + 1)[:, None]
    fill = np.empty((high, wide, 3), np.uint8)
    for first in range(0, high, STEP):  # a few rows at once: a cover may be as large as the picture
        some = slice(first, first + STEP)
        sides = (
            (above, down[some]),
            (below, high + 1 - down[some]),
            ((before[0][some, None], before[1][some, None]), across),
            ((after[0][some, None], after[1][some, None]), wide + 1 - across),
        )
        shares = [(seen / np.square(far, dtype=np.float32))[..., None] for (_, seen), far in sides]
        whole = sum(shares)
        mixed = sum(share * colour for share, ((colour, _), _) in zip(shares, sides, strict=True))
        fill[some] = np.rint(np.where(whole > 0, mixed / np.maximum(whole, 1e-12), COVER))
    return fill


def _mean(
    place: tuple[slice, slice], axis: int, pixels: Pixels, shown: Mask
) -> tuple[NDArray[np.float32], Mask]:
    """Return the mean colour of what is seen across a strip, all along it, and where anything is seen."""
    import numpy as np

    seen = shown[place]
    count = seen.sum(axis)
    total = (pixels[place] * seen[..., None]).sum(axis)
    return (total / np.maximum(count, 1)[..., None]).astype(np.float32), count > 0


def _covers(boxes: Iterable[PixelBox]) -> list[PixelBox]:
    return [box for box in boxes if box.decision is Decision.REPLACE]


def _new(
    found: Iterable[PixelBox], known: Sequence[PixelBox], kept: Sequence[PixelBox], enough: float
) -> list[PixelBox]:
    """Return what is not yet covered, without what the author keeps."""
    hidden = _covers(known)
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


def looked_through(image: Image, boxes: Sequence[PixelBox]) -> None:
    """Keep that `propose_boxes` looked at a picture with every finder installed, before these boxes covered it.

    Args:
        image: as it will be shown, but uncovered.
        boxes: what will be covered in it and what will be kept.
    """
    remember(image, boxes, finders_code())


def _near(image: Image, boxes: Sequence[PixelBox], fresh: Sequence[PixelBox]) -> tuple[PixelBox, ...]:
    """Look at the new covers and round them."""
    return _remembered(image, surroundings(fresh, image.width, image.height), boxes)


def surroundings(boxes: Sequence[PixelBox], width: int, height: int) -> list[Area]:
    """Return the boxes with what lies round them, in areas that do not meet.

    Args:
        boxes: in pixels of the picture.
        width: of the picture.
        height: of the picture.
    """
    return apart(
        (
            max(0, box.left - REACH),
            max(0, box.top - REACH),
            min(width, box.right + REACH),
            min(height, box.bottom + REACH),
        )
        for box in boxes
    )


def _remembered(
    image: Image, parts: Sequence[Area] | None = None, boxes: Sequence[PixelBox] = ()
) -> tuple[PixelBox, ...]:
    """Look with every finder, once for each picture: places, kinds and fixed reasons hold no text.

    Args:
        image: the picture.
        parts: what of it to look at again; none: it is the first look, at all of it.
        boxes: what covers it.
    """
    plain = image.convert("RGB")
    look = "first" if parts is None else repr(list(parts))
    under = repr(sorted({(box.left, box.top, box.right, box.bottom) for box in _covers(boxes)}))
    name = cache.key("boxes", *finders_code(), look, under, f"{plain.width}x{plain.height}", plain.tobytes())
    first = parts is None
    return kept_boxes(
        name,
        lambda: (
            regions.find_regions(plain) if first else regions.find_again(melted(plain, boxes), parts or ())
        ),
    )


def kept_boxes(name: str, find: Callable[[], tuple[PixelBox, ...]]) -> tuple[PixelBox, ...]:
    """Return the boxes kept under a key; where there are none, find them and keep them."""
    stored = cache.kept(name, lambda: json.dumps([_stored(box) for box in find()]).encode())
    return tuple(_loaded(row) for row in json.loads(stored))


def finders_code() -> tuple[bytes, ...]:
    """Return what looks: what an older finder found is not taken for what this one would."""
    return _sources(), *(finder.NAME.encode() for finder in regions.finders())


@functools.cache
def _sources() -> bytes:
    """Return a hash of the source of all that has to do with pictures."""
    paths = sorted(Path(__file__).parent.rglob("*.py"))
    return cache.key(*(path.read_bytes() for path in paths)).encode()


def _stored(box: PixelBox) -> list[int | str]:
    return [box.left, box.top, box.right, box.bottom, box.kind, box.decision.value, box.reason]


def _loaded(row: list[int | str]) -> PixelBox:
    left, top, right, bottom = (int(value) for value in row[:4])
    return PixelBox(left, top, right, bottom, str(row[4]), Layer.MODEL, Decision(str(row[5])), str(row[6]))
