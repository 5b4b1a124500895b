"""A figure of a follow-up visit that is measured in more than one unit says in which."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder import packs
from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.casefile.rules._bare import BARE
from mmbuilder.clinic.possible import possible
from mmbuilder.problem import Severity

CODE = "measure-no-unit"
WHY = "a unit is never guessed: the same figure in another unit is another result"
GOOD = "outcome: {visits: [{when: Day 3, measures: [{name: CRP, value: 168 mg/L}]}]}"
BAD = "outcome: {visits: [{when: Day 3, measures: [{name: CRP, value: 168}]}]}"

_ONE_UNIT = ("/min", "%", "10⁹/L")
"""What is measured in these has no other unit in use."""


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each figure without a unit of a measure that a pack knows by one."""
    bare = [
        (at, place, one)
        for at, visit in enumerate(ctx.case.outcome.visits)
        for place, one in enumerate(visit.measures)
        if BARE.fullmatch(one.value.value)
    ]
    if not bare:
        return
    known = {
        name.casefold(): one.unit
        for pack in packs.every()
        for one in pack.references
        for name in one.names
        if one.unit not in _ONE_UNIT
    }
    for at, place, one in bare:
        unit = known.get(one.name.plain) or _known_by_kind(one.name.value)
        if unit:
            yield Finding(
                ("outcome", "visits", at, "measures", place, "value"),
                "this figure has no unit",
                found="a figure alone",
                expected=f"the figure with its unit, such as {unit}",
                example=f"value: 12 {unit}",
                severity=Severity.WARN,
            )


def _known_by_kind(name: str) -> str | None:
    """The unit of what a patient can have, whichever side it is of; None where there is but one in use."""
    kind = possible(name)
    return None if kind is None or kind.bare else kind.unit
