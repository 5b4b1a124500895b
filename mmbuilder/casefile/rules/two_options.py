"""A choice needs something to choose from."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding

CODE = "one-option"
WHY = "the room cannot weigh a choice without an alternative; waiting and calling for help are options too"
GOOD = """
decisions: [{at: sign, question: "What now?", chosen: 1, because: Quickest,
  options: [{option: Pack and wait, reason: It often stops}, {option: Convert, reason: A better view}]}]
"""
BAD = """
decisions: [{at: sign, question: "What now?", chosen: 1, because: Quickest,
  options: [{option: Pack and wait, reason: It often stops}]}]
"""


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each decision with fewer than two options."""
    for place, decision in enumerate(ctx.case.decisions):
        if len(decision.options) < 2:
            yield Finding(
                ("decisions", place, "options"),
                f"decision {place + 1} has one option",
                found="1 option",
                expected="at least 2, each with a fair reason",
                example="- option: Call for a second surgeon\n  reason: Two more hands, five minutes away",
            )
