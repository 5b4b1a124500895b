"""The full root-cause grid for paper: seven factor rows, empty ones too, six columns."""

from __future__ import annotations

from mmbuilder.safe.case import Factor
from mmbuilder.safe.terms import CauseKind, FactorRow, term
from mmbuilder.safe.text import EMPTY, SafeText, capital, fill, inline, join, sentence, wording
from mmbuilder.storyboard.blocks import Cell, Slide, Table
from mmbuilder.storyboard.context import Context
from mmbuilder.storyboard.slides.cause_grid import NO_EVIDENCE, acted, barred, differed

MISSING = wording("full root-cause grid: the case lists no factors")


def make(context: Context) -> tuple[Slide, ...]:
    """One page part; an empty row says so and is not padded."""
    if not context.case.factors:
        return ()
    rows = tuple(line for row in context.grid.rows for line in (_lines(row.factors) or (_empty(row.row),)))
    table = Table(
        header=(
            wording("What"),
            wording("Evidence"),
            wording("How it contributed"),
            wording("If it had differed"),
            wording("Barrier"),
            wording("Action"),
        ),
        rows=rows,
        shares=(3, 2.6, 3, 3, 2.4, 1.2),
        caption=wording("Full root-cause grid by the seven factor types"),
    )
    return (
        Slide("cause_grid_full", wording("The full root-cause grid, from the patient outwards."), (table,)),
    )


def _lines(factors: tuple[Factor, ...]) -> tuple[tuple[Cell, ...], ...]:
    return tuple(_line(factor) for factor in factors)


def _line(factor: Factor) -> tuple[Cell, ...]:
    role = fill(
        "{row} ({role}): {what}", row=capital(term(factor.row)), role=term(factor.role), what=factor.what
    )
    return (
        Cell(role, strong=True),
        Cell(join("; ", factor.evidence) or NO_EVIDENCE),
        Cell(_contributed(factor)),
        Cell(differed(factor) or wording("not stated")),
        Cell(barred(factor) or wording("none named")),
        Cell(acted(factor) or join(": ", (wording("none"), factor.reason))),
    )


def _contributed(factor: Factor) -> SafeText:
    """`Nobody came. Failure to act; the duty: observations every 4 h.`, or what was written and no more."""
    kind = _kind(factor)
    return join(" ", (sentence(factor.contributed), kind)) if kind else factor.contributed


def _kind(factor: Factor) -> SafeText:
    """What kind of cause it is, what came before an act or a departure, and the duty to do what was not.

    Without the last two a human act reads as blame (RCA2, the five rules of causation).
    """
    before = wording("the reason") if factor.cause is CauseKind.DEPARTURE else wording("before it")
    parts = (
        capital(term(factor.cause)) if factor.cause else EMPTY,
        fill("{when}: {text}", when=before, text=inline(factor.preceded_by)) if factor.preceded_by else EMPTY,
        fill("the duty: {text}", text=inline(factor.duty)) if factor.duty else EMPTY,
    )
    return sentence(join("; ", parts))


def _empty(row: FactorRow) -> tuple[Cell, ...]:
    nothing = wording("nothing recorded")
    return (Cell(capital(term(row)), strong=True), Cell(nothing), *(Cell(EMPTY) for _ in range(4)))
