"""Every readings file is there, within the folder."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.files import FileFault, inside
from mmbuilder.casefile.mark import Finding

CODE = "readings-file"
WHY = "the curve it holds would be missing from the timeline"
GOOD = "readings: [{file: readings/vitals.csv, lines: [{column: MAP, name: Mean pressure, unit: mmHg}]}]"
BAD = "readings: [{file: readings/vitls.csv, lines: [{column: MAP, name: Mean pressure, unit: mmHg}]}]"


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each readings file that cannot be opened. What it holds is read apart."""
    for place, readings in enumerate(ctx.case.readings):
        try:
            inside(ctx.root, readings.file.value)
        except FileFault as fault:
            yield Finding(
                ("readings", place, "file"),
                f"readings file {place + 1}: {fault.text}",
                fault.found,
                fault.expected + ctx.near_file(readings.file),
            )
