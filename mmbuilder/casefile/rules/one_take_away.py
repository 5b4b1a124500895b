"""One sentence to take away."""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.problem import Severity

CODE = "take-away-too-long"
WHY = "a room remembers one sentence"
GOOD = "take away: Below 0.5 mL/kg call early, e.g. the second surgeon."
BAD = "take away: Call early. Count the bags twice."

# A full stop after a single letter, a figure or a common abbreviation ends no sentence.
_END = re.compile(r"(?<![\s.]\w)(?<!\be\.g)(?<!\bi\.e)(?<!\bvs)(?<!\bDr)(?<!\bmin)[.!?](?=\s+[A-Z])")


def check(ctx: Context) -> Iterator[Finding]:
    """Yield a take-away of more than one sentence."""
    count = 1 + len(_END.findall(ctx.case.take_away.value))
    if count > 1:
        yield Finding(
            ("take away",),
            f"the take-away has {count} sentences",
            expected="one; the others belong under learning",
            severity=Severity.WARN,
        )
