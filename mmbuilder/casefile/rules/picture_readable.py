"""Every frame's file is there, within the folder, and a picture."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.files import FileFault
from mmbuilder.casefile.mark import Finding
from mmbuilder.problem import Severity

CODE = "picture-file"
WHY = "a slide without its picture cannot be shown"
GOOD = "frames: {0: {file: images/view.png}}"
BAD = "frames: {0: {file: images/veiw.png}}"


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each frame whose file is missing, outside the folder, not a picture, damaged or mislabelled."""
    for place, frame in enumerate(ctx.case.frames):
        path = ("frames", place, "file")
        try:
            probe = ctx.picture(place)
        except FileFault as fault:
            yield Finding(
                path,
                f"frame {place + 1}: {fault.text}",
                fault.found,
                fault.expected + ctx.near_file(frame.file),
            )
            continue
        if probe.mislabelled:
            yield Finding(
                path,
                f"frame {place + 1}: the name of this file ends as if it were another kind",
                found=f"a {probe.kind} picture",
                expected="nothing to do: it is read as what it is",
                severity=Severity.WARN,
            )
