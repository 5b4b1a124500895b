"""A case report for outside tells no exact age in its sentences."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.problem import Severity

CODE = "age-told"
WHY = "outside the department the decade is enough; an exact age beside a rare event can single somebody out"
GOOD = """{use: case report, governance: {publication consent: given},
  background: A woman in her 70s with a scarred eye}"""
BAD = "{use: case report, background: A woman of 71 with a scarred eye}"


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each text that tells an age in years, with what will stand in its place."""
    if not ctx.told_outside:
        return
    from mmbuilder.case import told_age

    for key, text in ctx.told_outside:
        told = [one.instead.strip() for one in told_age.find(text.value)]
        if told:
            yield Finding(
                text.path,
                f"`{key}` tells an exact age; the report will say '{told[0]}'",
                found="an age that is more exact than its decade",
                expected="the decade, or no age: the patient's own stands under `patient` already",
                example="a man in his 70s",
                severity=Severity.WARN,
            )
