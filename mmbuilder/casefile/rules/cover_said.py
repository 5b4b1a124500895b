"""Each still says what to cover, or that somebody looked and there is nothing."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.problem import Severity

CODE = "cover-not-said"
WHY = "the tool does not read pictures at this stage: a name burned into one stays on the slide"
GOOD = "frames: [{file: images/view.png, shows: The field, caption: The clip, cover: none}]"
BAD = "frames: [{file: images/view.png, shows: The field, caption: The clip}]"


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each frame without a word on covering."""
    for place in range(len(ctx.case.frames)):
        if ("frames", place, "cover") not in ctx.source.keys:
            yield Finding(
                ("frames", place),
                f"still {place + 1} does not say what to cover",
                found="no `cover`",
                expected="boxes to fill (left, top, width, height in pixels), or `none` once you have looked",
                example="cover:\n  - {box: [0, 0, 640, 34], why: name strip}\nor\ncover: none",
                severity=Severity.WARN,
            )
