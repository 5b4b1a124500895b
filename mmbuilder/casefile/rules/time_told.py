"""A case report for outside tells no time of day in its sentences."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.problem import Severity

CODE = "time-told"
WHY = (
    "outside the department only elapsed times are told; a time of day can be found again in a log or a rota"
)
GOOD = """{use: case report, governance: {publication consent: given},
  background: The plan was made two hours before}"""
BAD = "{use: case report, background: The plan was made at 07:30}"


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each text that tells a time of day, with what will stand in its place."""
    if not ctx.told_outside:
        return
    from mmbuilder.case.counted_time import LOST, Counting

    counting = Counting(ctx.case)
    for key, text in ctx.told_outside:
        told = [time.instead for time in counting.find(text.value, text.path) if not (time.bare and time.why)]
        if told:
            counted = [instead for instead in told if instead != LOST]
            yield Finding(
                text.path,
                f"`{key}` tells a time of day; the report will say '{told[0]}'",
                found="a time of day",
                expected="the time from the index event, or from what came before",
                example=f"at {counted[0]}" if counted else "40 min later",
                severity=Severity.WARN,
            )
