"""Limits of a line of readings: the lower below the upper, those of the alarm where readings are drawn."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.case.freetext import Path
from mmbuilder.case.model import ReadingLine
from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding

CODE = "alarm-limits"
WHY = "a limit on the chart says when the alarm should have sounded"
GOOD = """
readings: [{file: readings/vitals.csv, lines: [{column: MAP, name: Mean pressure, unit: mmHg,
  low: 10, high: 200, alarm below: 55, alarm above: 110}]}]
"""
BAD = """
readings: [{file: readings/vitals.csv, lines: [{column: MAP, name: Mean pressure, unit: mmHg,
  low: 10, high: 200, alarm below: 110, alarm above: 55}]}]
"""

_EXAMPLE = "alarm below: 55\nalarm above: 110"


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each limit that cannot have been set."""
    for place, readings in enumerate(ctx.case.readings):
        for at, line in enumerate(readings.lines):
            yield from _of_line(("readings", place, "lines", at), line)


def _of_line(path: Path, line: ReadingLine) -> Iterator[Finding]:
    if line.low is not None and line.high is not None and line.low >= line.high:
        yield Finding(
            (*path, "low"),
            "no reading can lie between these limits",
            found="`low` is not below `high`",
            expected="the lowest figure that can be at `low`, the highest at `high`",
            example="low: 20\nhigh: 250",
        )
        return
    below, above = line.alarm_below, line.alarm_above
    if below is not None and above is not None and below >= above:
        yield Finding(
            (*path, "alarm below"),
            "the alarm would never be silent",
            found="`alarm below` is not below `alarm above`",
            expected="the lower limit at `alarm below`, the upper one at `alarm above`",
            example=_EXAMPLE,
        )
    for key, limit in (("alarm below", below), ("alarm above", above)):
        if limit is not None and not _drawn(limit, line):
            yield Finding(
                (*path, key),
                f"`{key}` lies where no reading of this line is drawn",
                found="a limit outside `low` and `high`",
                expected="a limit between them, in the unit of the line",
                example=_EXAMPLE,
            )


def _drawn(limit: float, line: ReadingLine) -> bool:
    return (line.low is None or limit >= line.low) and (line.high is None or limit <= line.high)
