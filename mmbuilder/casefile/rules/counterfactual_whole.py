"""What would have changed is told whole: which point, by about how much, how sure."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.problem import Severity
from mmbuilder.review.measured import beside

CODE = "counterfactual-part"
WHY = "half a counterfactual reads as a verdict: what would have moved, by how much, and how sure that is"
GOOD = """
factors: [{row: task, what: Two ports alike, evidence: photograph,
  counterfactual: Ports that differ are kept apart,
  would move: recognition, by about: 10 min, changed: probably}]
"""
BAD = "factors: [{row: task, what: Two ports alike, evidence: photograph, by about: soon}]"


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each part of a counterfactual that is not there, or says nothing."""
    for place, factor in enumerate(ctx.case.factors):
        here = ("factors", place)
        if factor.by_about is not None and not beside(factor.by_about.value, 0, 0):
            yield _told(
                (*here, "by about"), "this is not a length of time", "a length or a range", "by about: 10 min"
            )
        if factor.by_about is not None and factor.would_move is None:
            expected = "which point would have come earlier: first sign, recognition or response"
            yield _told(
                (*here, "by about"), "nothing says what would have moved", expected, "would move: recognition"
            )
        claimed = factor.counterfactual or factor.would_move or factor.by_about
        if claimed and factor.changed is None:
            expected = "yes, probably, unlikely or unknown"
            yield _told(
                here,
                f"factor {place + 1} does not say how sure its counterfactual is",
                expected,
                "changed: probably",
            )


def _told(path: tuple[str | int, ...], text: str, expected: str, example: str) -> Finding:
    return Finding(path, text, expected=expected, example=example, severity=Severity.WARN)
