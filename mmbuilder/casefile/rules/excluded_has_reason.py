"""What was considered and excluded was excluded for a reason."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.safe.terms import FactorRole

CODE = "excluded-without-reason"
WHY = "without its reason the room will raise it again"
GOOD = "factors: [{row: task, role: considered and excluded, what: Stapler fault, reason: Tested and sound}]"
BAD = "factors: [{row: task, role: considered and excluded, what: Stapler fault}]"


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each excluded factor without a reason."""
    for place, factor in enumerate(ctx.case.factors):
        if factor.role is FactorRole.EXCLUDED and factor.reason is None:
            yield Finding(
                ("factors", place),
                f"factor {place + 1} is excluded without a reason",
                expected="why it was excluded",
                example="reason: The device was tested and found sound",
            )
