"""A causal statement keeps the five rules of causation."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.problem import Severity
from mmbuilder.safe.terms import FactorRole

CODE = "causal-statement"
WHY = "a cause that only names a person or a lack cannot be changed; cause, effect and event can"
GOOD = """
factors:
  - row: task
    what: Two ports alike
    cause: condition
    contributed: Two ports of one size lay side by side, which led to the other one being used
"""
BAD = "factors: [{row: task, what: Poor ports, cause: condition, contributed: Poor ports}]"


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each rule that a factor with a stated kind of cause breaks."""
    from mmbuilder.review import causal

    for place, factor in enumerate(ctx.case.factors):
        if factor.cause is None or factor.role in (FactorRole.EXCLUDED, FactorRole.INCIDENTAL):
            continue
        told = factor.contributed or factor.what
        kind = causal.Kind(factor.cause.value)
        broken = causal.check(told.value, kind, preceding=bool(factor.preceded_by), duty=bool(factor.duty))
        key = "contributed" if factor.contributed else "what"
        for breach in broken:
            yield Finding(
                ("factors", place, key),
                f"rule {breach.rule} of causation: {breach.why}",
                expected=f"such as: {breach.example}",
                severity=Severity.WARN,
            )
