"""A root cause leads to an action, or to the reason why not."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.problem import Severity
from mmbuilder.safe.terms import FactorRole

CODE = "root-without-action"
WHY = "a cause that is left as it is will cause the next one"
GOOD = """
factors: [{row: task, role: root, what: No checklist, contributed: The second count was left out,
  reason: It is being replaced next month}]
"""
BAD = "factors: [{row: task, role: root, what: No checklist}]"


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each root factor with neither an action nor a reason."""
    for place, factor in enumerate(ctx.case.factors):
        if factor.role is FactorRole.ROOT and not factor.actions and factor.reason is None:
            yield Finding(
                ("factors", place),
                f"factor {place + 1} is a root cause without an action",
                expected="the id of an action, or the reason why there is none",
                example="actions: second bag\nor\nreason: It is being replaced next month",
                severity=Severity.WARN,
            )
