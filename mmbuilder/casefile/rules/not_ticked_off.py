"""A grid that was filled to be full is asked about."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.casefile.context import Context
from mmbuilder.casefile.mark import Finding
from mmbuilder.problem import Severity
from mmbuilder.safe.terms import FactorRole

CODE = "box-ticking"
WHY = "a grid that says something everywhere says nothing; empty rows are honest"
GOOD = "held: [{what: The second surgeon came within 5 min}]"
BAD = """
factors:
  - {row: team, what: Communication}
  - {row: task, what: Communication}
  - {row: organisation, what: Communication}
"""

_GRID = 3
"""Fewer factors are no grid yet, and nothing in them is filled for its own sake."""


def check(ctx: Context) -> Iterator[Finding]:
    """Yield each sign of it, at the first factor."""
    from mmbuilder.review.ticking import Row, signs

    counted = [one for one in ctx.case.factors if one.role is not FactorRole.EXCLUDED]
    if len(counted) < _GRID:
        return
    rows = [Row(one.row.value, one.what.value, bool(one.counterfactual or one.changed)) for one in counted]
    for said in signs(rows, [one.what.value for one in ctx.case.actions], went_well=len(ctx.case.held)):
        yield Finding(("factors",), said, severity=Severity.WARN, at_key=True)
