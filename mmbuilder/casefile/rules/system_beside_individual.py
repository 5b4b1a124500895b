"""Beside what a person did stands what the system allowed."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.problem import Severity
from mmbuilder.safe.terms import FactorRole, FactorRow

CODE = "individual-alone"
WHY = "an individual factor alone ends as blame and changes nothing; people work in conditions"
GOOD = "factors: [{row: individual, what: Registrar in the second week}, {row: team, what: No briefing}]"
BAD = "factors: [{row: individual, what: Registrar in the second week}]"

_NOT_SYSTEM = frozenset({FactorRow.INDIVIDUAL, FactorRow.PATIENT})


def check(ctx: Context) -> Iterator[Finding]:
    """Yield the first individual factor of a grid that has no system row."""
    counted = [
        (place, factor)
        for place, factor in enumerate(ctx.case.factors)
        if factor.role is not FactorRole.EXCLUDED
    ]
    if any(factor.row not in _NOT_SYSTEM for _, factor in counted):
        return
    for place, factor in counted:
        if factor.row is FactorRow.INDIVIDUAL:
            yield Finding(
                ("factors", place, "row"),
                "an individual factor stands without any factor of the system",
                expected="also a row of: task, team, work environment, organisation, institution",
                example="- row: team\n  what: No briefing before the list",
                severity=Severity.WARN,
            )
            return
