"""A case report for outside tells no calendar year in its sentences."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.problem import Severity

CODE = "year-told"
WHY = "outside the department only elapsed times are told; years of earlier operations date the case"
GOOD = """{use: case report, governance: {publication consent: given},
  background: A detachment was mended six years before}"""
BAD = "{use: case report, background: A detachment was mended in 2019}"


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each text that tells a year, with what will stand in its place."""
    if not ctx.told_outside:
        return
    from mmbuilder.case import told_year

    years = told_year.Years(ctx.case)
    for key, text in ctx.told_outside:
        told = [instead for _, instead in years.find(text.value)]
        if told:
            counted = [instead for instead in told if instead != told_year.LOST]
            yield Finding(
                text.path,
                f"`{key}` tells a calendar year; the report will say '{told[0]}'",
                found="a year",
                expected="how long before or after the operation it was",
                example=counted[0] if counted else "six years before",
                severity=Severity.WARN,
            )
