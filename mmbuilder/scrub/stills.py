"""What is to be covered in the stills of a case: the author's boxes and what the finders add.

Only the part that a crop leaves is looked at: it is all that will be shown. Boxes are told in
pixels of the upright original.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from math import ceil, floor
from pathlib import Path
from typing import TYPE_CHECKING

from mmbuilder import cache
from mmbuilder.case.model import Box, Frame
from mmbuilder.casefile.files import inside
from mmbuilder.casefile.folder import CaseFolder
from mmbuilder.errors import FileRefused
from mmbuilder.scrub.images import regions
from mmbuilder.scrub.plan import Decision, PixelBox

if TYPE_CHECKING:
    from PIL.Image import Image

COVERED = PixelBox(0, 0, 0, 0)
KEPT = PixelBox(0, 0, 0, 0, "kept by the author", decision=Decision.KEEP, reason="kept by the author")
UNCHECKED = (
    "tattoos, scars, jewellery and other marks of one person",
    "reflections in instruments, eyes and glass",
)
"""What no finder can look for in a picture."""


@dataclass(frozen=True)
class Still:
    """A still to be looked at, as plain values: they can be sent to another process.

    Attributes:
        number: in the case, from 1.
        root, file: the case folder, and the picture as the case names it.
        crop: what is left of it.
        covers, keeps: what the author drew on it.
    """

    number: int
    root: Path = field(repr=False)
    file: str = field(repr=False)
    crop: Box | None
    covers: tuple[Box, ...]
    keeps: tuple[Box, ...]


def stills(folder: CaseFolder) -> tuple[Still, ...]:
    """Return the stills of a case."""
    return tuple(
        Still(
            number,
            folder.root,
            frame.file.value,
            frame.crop,
            tuple(cover.box for cover in frame.cover),
            tuple(keep.box for keep in frame.keep),
        )
        for number, frame in enumerate(folder.case.frames, 1)
    )


def boxes(folder: CaseFolder) -> Mapping[int, tuple[PixelBox, ...]]:
    """Return the boxes of every still that has any, by its number from 1. Raises as `look`."""
    found = {still.number: look(still) for still in stills(folder)}
    return {number: of_one for number, of_one in found.items() if of_one}


def finders(folder: CaseFolder) -> tuple[str, ...]:
    """Return the names of the finders that looked."""
    return tuple(one.NAME for one in regions.finders() if one.LOOKS_FOR) if folder.case.frames else ()


def unchecked(folder: CaseFolder) -> tuple[str, ...]:
    """Return what nothing looked for in the stills, in words for the report."""
    if not folder.case.frames:
        return ()
    missing = (f"{line}; the part of the tool that does is not installed" for line in regions.unchecked())
    return (*missing, *UNCHECKED)


def look(still: Still) -> tuple[PixelBox, ...]:
    """Return the boxes of one still.

    It is looked at as the deck will hold it, shrunk and encoded: what is seen there is what anybody can see.

    Raises:
        FileRefused: the picture cannot be read, or something is found in it however it is covered.
    """
    from mmbuilder.scrub.images.again import finders_code, kept_boxes
    from mmbuilder.scrub.images.decode import read

    drawn = {*(_box(box, COVERED) for box in still.covers), *(_box(box, KEPT) for box in still.keeps)}
    try:
        content = read(inside(still.root, still.file))
        said = repr((still.crop, still.covers, still.keeps))
        name = cache.key("still", *finders_code(), said, content)
        return tuple(sorted({*drawn, *kept_boxes(name, lambda: _found(content, still.crop, drawn))}))
    except FileRefused as fault:
        raise FileRefused(f"still {still.number}: {fault}") from None


def _found(content: bytes, crop: Box | None, drawn: Collection[PixelBox]) -> tuple[PixelBox, ...]:
    """Return what the finders add to the boxes drawn on a picture."""
    from mmbuilder.scrub.images.again import propose_boxes
    from mmbuilder.scrub.images.cover import cut
    from mmbuilder.scrub.images.decode import decode

    seen, (left, top) = cut(decode(content).image, crop), corner(crop)
    shown = _as_shown(seen)
    said = [*scaled(_moved(drawn, -left, -top, seen), (0, 0, *seen.size), shown.size)]
    covers, keeps = ([box for box in said if box.kind == like.kind] for like in (COVERED, KEPT))
    found = propose_boxes(
        shown, covers, keeps, covered=lambda boxes: _as_shown(seen, _back(boxes, shown, seen))
    )
    whole = _to_the_end(seen, shown, _back(found, shown, seen))
    return tuple(box for box in _moved(whole, left, top) if box.kind not in _DRAWN)


def _back(boxes: Iterable[PixelBox], shown: Image, seen: Image) -> tuple[PixelBox, ...]:
    """Return boxes of the picture shown, in pixels of what was seen."""
    return scaled(boxes, (0, 0, *shown.size), seen.size)


def _as_shown(seen: Image, boxes: Sequence[PixelBox] = ()) -> Image:
    """Return a picture as the deck will hold it, with these boxes covered."""
    from mmbuilder.safe.jpeg import jpeg
    from mmbuilder.scrub.images.cover import cover
    from mmbuilder.scrub.images.decode import decode
    from mmbuilder.scrub.images.scrub import LONGEST, mint

    return decode(jpeg(mint(cover(seen, boxes), LONGEST))).image


def _to_the_end(seen: Image, shown: Image, boxes: tuple[PixelBox, ...]) -> tuple[PixelBox, ...]:
    """Return the boxes, and more for what is only found once they are covered and the picture is encoded anew.

    Raises:
        FileRefused: something is still found after as many looks as there may be.
    """
    from mmbuilder.scrub.images.again import ROUNDS, looked_through, still_found

    for _ in range(ROUNDS):
        now = scaled(boxes, (0, 0, *seen.size), shown.size)
        looked_through(shown, now)
        left_over = still_found(_as_shown(seen, boxes), now)
        if not left_over:
            return boxes
        boxes = (*boxes, *_back(left_over, shown, seen))
    raise FileRefused(
        "this picture was covered and looked at three times, and something is still found in it; draw a "
        "`cover` box over it, or a `keep` box round it if it is to stay"
    )


def scaled(
    boxes: Iterable[PixelBox], view: tuple[int, int, int, int], size: tuple[int, int]
) -> tuple[PixelBox, ...]:
    """Return boxes in pixels of a picture that shows a view of another, widened to whole pixels.

    Args:
        boxes: in pixels of the other.
        view: left, top, width and height of what is shown of it.
        size: width and height of the picture that shows it.
    """
    left, top, width, height = view
    across, down = size[0] / width, size[1] / height
    return tuple(
        replace(
            box,
            left=floor((box.left - left) * across),
            top=floor((box.top - top) * down),
            right=ceil((box.right - left) * across),
            bottom=ceil((box.bottom - top) * down),
        )
        for box in boxes
    )


_DRAWN = frozenset({COVERED.kind, KEPT.kind})


def corner(crop: Box | None) -> tuple[int, int]:
    """Return left and top of what a crop leaves; a pixel that is partly outside goes."""
    return (max(0, ceil(crop[0])), max(0, ceil(crop[1]))) if crop else (0, 0)


def visible(folder: CaseFolder, frame: Frame) -> tuple[int, int, int, int]:
    """Return left, top, width and height of the part of a still that a crop leaves."""
    from mmbuilder.scrub.images.decode import upright_size

    width, height = upright_size(inside(folder.root, frame.file.value))
    left, top = corner(frame.crop)
    if frame.crop:
        width = min(width, floor(frame.crop[0] + frame.crop[2]))
        height = min(height, floor(frame.crop[1] + frame.crop[3]))
    return left, top, width - left, height - top


def _box(box: Box, like: PixelBox) -> PixelBox:
    """Return a drawn box, widened to whole pixels."""
    left, top, width, height = box
    return replace(
        like, left=floor(left), top=floor(top), right=ceil(left + width), bottom=ceil(top + height)
    )


def _moved(
    boxes: Iterable[PixelBox], right: int, down: int, within: Image | None = None
) -> Iterator[PixelBox]:
    """Yield boxes moved; those that then lie beside the picture are left out."""
    for box in boxes:
        moved = replace(
            box,
            left=box.left + right,
            right=box.right + right,
            top=box.top + down,
            bottom=box.bottom + down,
        )
        if within is None or (
            moved.left < within.width and moved.top < within.height and moved.right > 0 and moved.bottom > 0
        ):
            yield moved
