"""An action says who, by when, and how it will be known to work."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.problem import Severity
from mmbuilder.review.counted import counted

CODE = "action-incomplete"
WHY = "its slide will be stamped INCOMPLETE: an action nobody owns, dates or measures is not done"
GOOD = """
actions: [{what: Keep a second retrieval bag in theatre, owner: Theatre lead, due: June,
  measure: 20 lists checked of 20, strength: intermediate}]
"""
BAD = "actions: [{what: Keep a second retrieval bag in theatre, owner: Theatre lead, strength: weaker}]"

_EXAMPLES = {
    "owner": "owner: Theatre lead",
    "due": "due: end of June",
    "measure": "measure: bag present on 20 of 20 lists checked",
    "strength": "strength: intermediate",
}


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each action that lacks its owner, date, measure or strength."""
    for place, action in enumerate(ctx.case.actions):
        lacking = [key for key in _EXAMPLES if getattr(action, key) is None]
        if lacking:
            yield Finding(
                ("actions", place),
                f"action {place + 1} has no {', no '.join(lacking)}",
                expected="owner (a role), due, measure and strength",
                example="\n".join(_EXAMPLES[key] for key in lacking),
                severity=Severity.WARN,
            )
        elif action.measure and not (action.out_of or action.target or counted(action.measure.value)):
            yield Finding(
                ("actions", place, "measure"),
                f"the measure of action {place + 1} says what is looked at and not how it is counted",
                expected="what is counted, out of what, the target and for how long",
                example="measure: lists with a second bag\nout of: lists checked\ntarget: 19 of 20",
                severity=Severity.WARN,
            )
