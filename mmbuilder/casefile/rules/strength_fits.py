"""The stated strength of an action is what its words say by the action hierarchy."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.problem import Severity

CODE = "strength-against-words"
WHY = "an action that is called stronger than it is changes nothing, and nobody looks again"
GOOD = """
actions: [{what: Connectors that only fit the right port, strength: stronger,
  strength reason: A forcing function, owner: Theatre lead, due: 30 June 2026,
  measure: 20 lists of 20 each month, baseline: 0 of 20, review: in 4 months}]
"""
BAD = """
actions: [{what: An e-mail to remind all staff, strength: stronger, strength reason: Everybody reads it,
  owner: Theatre lead, due: 30 June 2026, measure: 20 lists of 20 each month, baseline: 0 of 20,
  review: in 4 months}]
"""


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each action whose strength its words do not bear out."""
    from mmbuilder.review.strength import challenge

    for place, action in enumerate(ctx.case.actions):
        said = action.strength and challenge(action.strength.value, action.what.value)
        if said:
            yield Finding(
                ("actions", place, "strength"),
                said,
                expected="the strength that the hierarchy gives, or words that say what makes it stronger",
                severity=Severity.WARN,
            )
