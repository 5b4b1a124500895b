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


_MORE = {
    "human act": "preceded by: Two syringes of one size lay side by side",
    "departure from procedure": "preceded by: The count sheet was kept in the next theatre",
    "failure to act": "duty: The unit asks for a blood gas at 30 min",
}
"""What has to stand beside a kind of cause, by rules 3, 4 and 5."""


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each rule that a cause breaks, and each cause that reads as an act and does not say its kind."""
    for place, factor in enumerate(ctx.case.factors):
        if factor.role not in (FactorRole.ROOT, FactorRole.CONTRIBUTORY):
            continue
        if factor.cause is None:
            yield from _unsaid(place, factor)
        if factor.cause is not None or factor.role is FactorRole.ROOT:
            yield from _broken(place, factor)


def _unsaid(place: int, factor: Factor) -> Iterator[Finding]:
    """Ask for the kind of a cause whose words are those of an act, or of something not done."""
    from mmbuilder.review import causal

    seen = causal.seems(factor.what.value)
    if seen is not None:
        kind = str(seen)
        yield Finding(
            ("factors", place, "what"),
            f"this reads as a {kind}, and the kind of cause is not said",
            expected="the kind under `cause`, with what came before it or the duty; or `cause: condition`",
            example=f"cause: {kind}\n{_MORE[kind]}",
            severity=Severity.WARN,
        )


def _broken(place: int, factor: Factor) -> Iterator[Finding]:
    from mmbuilder.review import causal

    kind = causal.Kind(factor.cause.value) if factor.cause else causal.Kind.CONDITION
    key = "contributed" if factor.contributed else "what"
    for breach in causal.check(
        _told(factor), kind, preceding=bool(factor.preceded_by), duty=bool(factor.duty)
    ):
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
