"""The root-cause grid: factors by row, and which of them to show.

Rows: Vincent C, Taylor-Adams S, Stanhope N. BMJ 1998;316:1154-1157 (seven types).
An empty row is honest and stays; a factor without evidence is never among the strongest, unless it is a root:
a room that is shown the others alone is misled. The one that the take-away rests on always is.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from mmbuilder.safe.case import Factor, ScrubbedCase
from mmbuilder.safe.terms import FactorRole, FactorRow, Likelihood
from mmbuilder.safe.text import EMPTY, SafeText, join


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
    """All seven rows, and what was looked at and set aside.

    Attributes:
        message: what the room should remember, which rests on one of them.
    """

    rows: tuple[GridRow, ...]
    excluded: tuple[Factor, ...]
    incidental: tuple[Factor, ...]
    message: SafeText = EMPTY

    def strongest(self, n: int) -> tuple[Factor, ...]:
        """Return up to `n` factors, strongest first chosen, told in the order of the rows.

        They have evidence or are a root beside such; none where no factor has evidence.
        """
        each = [factor for row in self.rows for factor in row.factors]
        known = any(factor.evidence for factor in each)
        return self._chosen(
            [one for one in each if known and (one.evidence or one.role is FactorRole.ROOT)], n
        )

    def named(self, n: int) -> tuple[Factor, ...]:
        """Return up to `n` factors, with evidence or without, chosen and told as the strongest are."""
        return self._chosen([factor for row in self.rows for factor in row.factors], n)

    def _chosen(self, factors: Sequence[Factor], n: int) -> tuple[Factor, ...]:
        """The one that the message rests on, which the room would miss, and the strongest."""
        kept = _rested_on(self.message, factors)
        order = sorted(range(len(factors)), key=lambda at: (factors[at] is not kept, _weight(factors[at])))
        return tuple(factors[place] for place in sorted(order[: max(n, 0)]))


_LEAST = 2
"""Words that a message and a cause share where it rests on it; one may be there by chance."""


def _rested_on(message: SafeText, factors: Sequence[Factor]) -> Factor | None:
    """Return the factor that shares most words with the message; None where two do, or none shares enough."""
    shares = [len(message.shared(join(" ", (one.what, one.contributed)))) for one in factors]
    most = max(shares, default=0)
    alone = most >= _LEAST and shares.count(most) == 1
    return factors[shares.index(most)] if alone else None


_CHANGED = {Likelihood.YES: 0, Likelihood.PROBABLY: 1, Likelihood.UNKNOWN: 2, None: 2, Likelihood.UNLIKELY: 3}


def cause_grid(case: ScrubbedCase) -> CauseGrid:
    """Sort the factors of a case into the seven rows."""
    acting = [factor for factor in case.factors if factor.role in (FactorRole.ROOT, FactorRole.CONTRIBUTORY)]
    rows = tuple(
        GridRow(row, tuple(sorted((f for f in acting if f.row is row), key=_weight))) for row in FactorRow
    )
    excluded, incidental = (_with_role(case, role) for role in (FactorRole.EXCLUDED, FactorRole.INCIDENTAL))
    return CauseGrid(rows, excluded, incidental, case.take_away)


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
