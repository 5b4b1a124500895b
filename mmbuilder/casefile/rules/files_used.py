"""What lies in the folder is shown, or is known to be left out."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.files import FileFault, describe, inside, listed
from mmbuilder.casefile.mark import Finding
from mmbuilder.problem import Severity

CODE = "file-not-used"
WHY = "it may have been forgotten; what is not in the case is not scrubbed and not shown"
GOOD = "frames: {0: {file: images/view.png}}"
BAD = "frames: null"
MOST_TOLD = 10


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each file of images/ and readings/ that nothing in the case names."""
    used = set()
    named = [frame.file for frame in ctx.case.frames] + [readings.file for readings in ctx.case.readings]
    named += [ctx.case.previous_actions] if ctx.case.previous_actions else []
    for name in named:
        try:
            used.add(inside(ctx.root, name.value))
        except FileFault:
            continue
    spare = [
        path for folder in ("images", "readings") for path in listed(ctx.root, folder) if path not in used
    ]
    for path in spare[:MOST_TOLD]:
        yield Finding(
            (),
            f"{describe(ctx.root, path)} is not used",
            expected="a frame or readings entry that names it, or nothing to do",
            severity=Severity.WARN,
        )
    if len(spare) > MOST_TOLD:
        more = len(spare) - MOST_TOLD
        yield Finding((), f"{more} more files are not used", severity=Severity.WARN)
