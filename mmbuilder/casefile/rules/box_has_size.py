"""A box covers something."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.case.freetext import Path
from mmbuilder.case.model import Box
from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding

CODE = "box-without-size"
WHY = "a box without width or height covers nothing, and what it was to hide would be shown"
GOOD = "frames: {0: {cover: [{box: [10, 10, 200, 40]}]}}"
BAD = "frames: {0: {cover: [{box: [10, 10, 200, 0]}]}}"


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each box whose width or height is not above zero."""
    for path, box in _boxes(ctx):
        if box[2] <= 0 or box[3] <= 0:
            yield Finding(
                path,
                "this box has no size",
                found=f"width {box[2]:g}, height {box[3]:g}",
                expected="left, top, width, height, in pixels; not left, top, right, bottom",
                example="box: [10, 10, 200, 40]",
            )


def _boxes(ctx: Context) -> Iterator[tuple[Path, Box]]:
    for place, frame in enumerate(ctx.case.frames):
        here: Path = ("frames", place)
        if frame.crop is not None:
            yield (*here, "crop"), frame.crop
        yield from (((*here, "cover", entry, "box"), cover.box) for entry, cover in enumerate(frame.cover))
        yield from (((*here, "keep", entry, "box"), keep.box) for entry, keep in enumerate(frame.keep))
