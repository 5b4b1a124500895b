"""Boxes, arrows, rings and crops lie on the picture."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.case.freetext import Path
from mmbuilder.case.model import Frame
from mmbuilder.casefile.context import Context
from mmbuilder.casefile.files import FileFault
from mmbuilder.casefile.mark import Finding

CODE = "outside-picture"
WHY = "a box beside the picture covers nothing, and what it was to hide would be shown"
GOOD = "frames: {0: {crop: [0, 0, 640, 480], cover: [{box: [600, 440, 40, 40]}]}}"
BAD = "frames: {0: {cover: [{box: [600, 470, 40, 40]}]}}"


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each mark that reaches past the edge of its picture."""
    for place, frame in enumerate(ctx.case.frames):
        marks = list(_marks(frame))
        if not marks:
            continue
        try:
            probe = ctx.picture(place)
        except FileFault:
            continue  # told by the rule on picture files
        for path, (left, top, right, bottom) in marks:
            if left < 0 or top < 0 or right > probe.width or bottom > probe.height:
                yield Finding(
                    ("frames", place, *path),
                    f"this reaches past the edge of the picture of frame {place + 1}",
                    found=f"from {left:g}, {top:g} to {right:g}, {bottom:g}",
                    expected=f"within 0, 0 and {probe.width}, {probe.height}: pixels of the upright picture",
                )


def _marks(frame: Frame) -> Iterator[tuple[Path, tuple[float, float, float, float]]]:
    """Yield each mark as (place in the frame, edges)."""
    if frame.crop is not None:
        yield ("crop",), _edges(frame.crop)
    for place, cover in enumerate(frame.cover):
        yield ("cover", place, "box"), _edges(cover.box)
    for place, keep in enumerate(frame.keep):
        yield ("keep", place, "box"), _edges(keep.box)
    for place, arrow in enumerate(frame.arrows):
        yield ("arrows", place, "from"), (*arrow.start, *arrow.start)
        yield ("arrows", place, "to"), (*arrow.end, *arrow.end)
    for place, circle in enumerate(frame.circles):
        yield ("circles", place, "at"), (*circle.at, *circle.at)


def _edges(box: tuple[float, float, float, float]) -> tuple[float, float, float, float]:
    left, top, width, height = box
    return left, top, left + width, top + height
