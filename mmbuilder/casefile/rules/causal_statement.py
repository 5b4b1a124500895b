"""A causal statement keeps the five rules of causation."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.case.model import Factor
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
    """Yield each rule that a factor with a stated kind of cause breaks, or a root cause without one."""
    from mmbuilder.review import causal

    for place, factor in enumerate(ctx.case.factors):
        acting = factor.role in (FactorRole.ROOT, FactorRole.CONTRIBUTORY)
        if not acting or (factor.cause is None and factor.role is not FactorRole.ROOT):
            continue
        kind = causal.Kind(factor.cause.value) if factor.cause else causal.Kind.CONDITION
        broken = causal.check(_told(factor), kind, preceding=bool(factor.preceded_by), duty=bool(factor.duty))
        key = "contributed" if factor.contributed else "what"
        for breach in broken:
            yield Finding(
                ("factors", place, key),
                f"rule {breach.rule} of causation: {breach.why}",
                expected=f"such as: {breach.example}",
                severity=Severity.WARN,
            )


def _told(factor: Factor) -> str:
    """The statement as it was written; of a root cause whose kind is not said, its two columns as one."""
    if factor.contributed is None:
        return factor.what.value
    effect = factor.contributed.value
    return effect if factor.cause else " led to ".join((factor.what.value, effect))
