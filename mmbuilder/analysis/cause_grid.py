"""The root-cause grid: factors by row, and which of them to show.

Rows: Vincent C, Taylor-Adams S, Stanhope N. BMJ 1998;316:1154-1157 (seven types).
An empty row is honest and stays; a factor without evidence is never among the strongest.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from mmbuilder.safe.case import Factor, ScrubbedCase
from mmbuilder.safe.terms import FactorRole, FactorRow, Likelihood


@dataclass(frozen=True)
class GridRow:
    """One factor type and what was found under it, root causes first."""

    row: FactorRow
    factors: tuple[Factor, ...]

    @property
    def count(self) -> int:
        """How many factors have evidence; the others are listed and not counted."""
        return sum(bool(factor.evidence) for factor in self.factors)


@dataclass(frozen=True)
class CauseGrid:
    """All seven rows, and what was looked at and set aside."""

    rows: tuple[GridRow, ...]
    excluded: tuple[Factor, ...]
    incidental: tuple[Factor, ...]

    def strongest(self, n: int) -> tuple[Factor, ...]:
        """Return up to `n` factors with evidence, strongest first chosen, told in the order of the rows."""
        return _chosen([factor for row in self.rows for factor in row.factors if factor.evidence], n)

    def named(self, n: int) -> tuple[Factor, ...]:
        """Return up to `n` factors, with evidence or without, chosen and told as the strongest are."""
        return _chosen([factor for row in self.rows for factor in row.factors], n)


def _chosen(factors: Sequence[Factor], n: int) -> tuple[Factor, ...]:
    chosen = sorted(range(len(factors)), key=lambda place: _weight(factors[place]))[: max(n, 0)]
    return tuple(factors[place] for place in sorted(chosen))


_CHANGED = {Likelihood.YES: 0, Likelihood.PROBABLY: 1, Likelihood.UNKNOWN: 2, None: 2, Likelihood.UNLIKELY: 3}


def cause_grid(case: ScrubbedCase) -> CauseGrid:
    """Sort the factors of a case into the seven rows."""
    acting = [factor for factor in case.factors if factor.role in (FactorRole.ROOT, FactorRole.CONTRIBUTORY)]
    rows = tuple(
        GridRow(row, tuple(sorted((f for f in acting if f.row is row), key=_weight))) for row in FactorRow
    )
    return CauseGrid(rows, _with_role(case, FactorRole.EXCLUDED), _with_role(case, FactorRole.INCIDENTAL))


def _with_role(case: ScrubbedCase, role: FactorRole) -> tuple[Factor, ...]:
    return tuple(factor for factor in case.factors if factor.role is role)


def _weight(factor: Factor) -> tuple[bool, bool, int, bool]:
    """Sort key: root first, then evidence, then whether it would have changed the course, then an action."""
    return (
        factor.role is not FactorRole.ROOT,
        not factor.evidence,
        _CHANGED[factor.changed],
        not factor.actions,
    )
