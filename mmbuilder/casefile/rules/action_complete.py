"""An action says who, by when, and how it will be known to work."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.case.model import Action
from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.problem import Severity
from mmbuilder.review.counted import counted, timed

CODE = "action-incomplete"
WHY = (
    "without owner, due or measure its slide is stamped INCOMPLETE: it will not be done; "
    "the rest is told quietly, for the meeting to settle"
)
GOOD = """
actions: [{what: Keep a second retrieval bag in theatre, owner: Theatre lead, due: 30 June 2026,
  strength: intermediate, strength reason: It lies where it is needed, measure: lists with a bag,
  out of: lists checked,
  target: 19 of 20, period: 3 months, baseline: 4 of 20, review: at the meeting in 4 months}]
"""
BAD = "actions: [{what: Keep a second retrieval bag in theatre, owner: Theatre lead, strength: weaker}]"

_EXAMPLES = {
    "owner": "owner: Theatre lead",
    "due": "due: 30 June 2026",
    "measure": "measure: lists with a bag\nout of: lists checked\ntarget: 19 of 20",
    "period": "period: 3 months",
    "baseline": "baseline: 4 of 20 in the quarter before",
    "review": "review: at the meeting in 4 months",
    "strength": "strength: intermediate",
    "strength reason": "strength reason: a checklist at the place of work",
}


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each action that lacks a part of what makes it one that is done and looked at again."""
    for place, action in enumerate(ctx.case.actions):
        lacking = [key for key in _EXAMPLES if _lacks(action, key)]
        if lacking:
            yield Finding(
                ("actions", place),
                f"action {place + 1} has no {', no '.join(lacking)}",
                expected="owner (a role), due, what is measured and for how long, its baseline, when it is "
                "looked at again, and the strength with its reason",
                example="\n".join(_EXAMPLES[key] for key in lacking),
                severity=Severity.WARN,
            )
        if action.measure and not (action.out_of or action.target or counted(action.measure.value)):
            yield Finding(
                ("actions", place, "measure"),
                f"the measure of action {place + 1} says what is looked at and not how it is counted",
                expected="what is counted, out of what, the target and for how long",
                example="measure: lists with a second bag\nout of: lists checked\ntarget: 19 of 20",
                severity=Severity.WARN,
            )


def _lacks(action: Action, key: str) -> bool:
    """Whether a part is not there; a period may stand in the measure. All is asked at once."""
    given = getattr(action, key.replace(" ", "_")) is not None
    if key == "period":
        return not given and (action.measure is None or not timed(action.measure.value))
    return not given
