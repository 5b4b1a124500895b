"""A clock's offset says which way it goes."""

from __future__ import annotations

import re
from collections.abc import Iterator

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding

CODE = "offset-without-direction"
WHY = "the wrong sign moves every time of this clock twice as far from the truth"
GOOD = "clocks: [{name: theatre clock, reference: yes}, {name: recorder, offset: 7 min fast}]"
BAD = "clocks: [{name: theatre clock, reference: yes}, {name: recorder, offset: 7 min}]"

_SAID = re.compile(
    r"^\s*(?:[-+\u2212\u2013]|plus|minus|0+\b)|(?:fast|slow|ahead|behind|late|early)\s*$", re.IGNORECASE
)


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each offset that has neither a sign nor a word."""
    for place, clock in enumerate(ctx.case.clocks):
        text = ctx.source.text(("clocks", place, "offset"))
        if clock.offset is not None and clock.offset.seconds and text is not None and not _SAID.search(text):
            yield Finding(
                ("clocks", place, "offset"),
                "this offset does not say which way the clock is wrong",
                found="a length of time without a direction",
                expected="fast or slow behind it; or the sign of what is added to its readings",
                example="offset: 7 min fast    (it reads 17:32 when it is 17:25: the same as -7 min)",
            )
