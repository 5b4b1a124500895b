"""Why it happened, at one sight: every factor on the rib of its row, root causes the strongest."""

from __future__ import annotations

from mmbuilder.analysis.causes import Cause, CauseRow, Causes
from mmbuilder.safe.case import Factor
from mmbuilder.safe.terms import FactorRole, FactorRow, term
from mmbuilder.safe.text import SafeText, fill, join, sentence, wording
from mmbuilder.storyboard.blocks import Diagram, Slide
from mmbuilder.storyboard.context import Context, counted

MISSING = wording("cause diagram: the case lists no factor that played a part")

_BEGIN_WITH_ROOTS = wording("Causes, not culprits. Begin with the squares: they are the root causes.")
_NO_ROOTS = wording("Causes, not culprits.")
"""Without a root cause no square is drawn."""

_SOURCE = wording(
    "Rows: the seven types of contributing factor (Vincent C, Taylor-Adams S, Stanhope N. "
    "BMJ 1998;316:1154-1157)."
)


def make(context: Context) -> tuple[Slide, ...]:
    """One slide; the head of the diagram is the case's neutral title."""
    acting = tuple(factor for row in context.grid.rows for factor in row.factors)
    if not acting:
        return ()
    causes = Causes(context.case.title, tuple(_row(row, context) for row in FactorRow))
    notes = (_BEGIN_WITH_ROOTS if any(one.role is FactorRole.ROOT for one in acting) else _NO_ROOTS,)
    diagram = Diagram(causes, notes=(_SOURCE,))
    return (Slide("cause_diagram", headline(acting), (diagram,), notes, context.seconds),)


def _row(row: FactorRow, context: Context) -> CauseRow:
    """Factors that played a part first, as in the grid, then what was incidental or set aside."""
    grid = context.grid
    acting = next(line.factors for line in grid.rows if line.row is row)
    others = (factor for factor in (*grid.incidental, *grid.excluded) if factor.row is row)
    return CauseRow(term(row), tuple(Cause(factor.what, factor.role) for factor in (*acting, *others)))


def headline(acting: tuple[Factor, ...]) -> SafeText:
    """`One root cause and five contributory factors, on four levels`, as a sentence."""
    roots = sum(factor.role is FactorRole.ROOT for factor in acting)
    others = len(acting) - roots
    told = (
        counted(roots, wording("root cause"), wording("root causes")) if roots else wording(""),
        counted(others, wording("contributory factor"), wording("contributory factors"))
        if others
        else wording(""),
    )
    levels = counted(len({factor.row for factor in acting}), wording("level"), wording("levels"))
    return sentence(fill("{told}, on {levels}", told=join(" and ", told), levels=levels))
