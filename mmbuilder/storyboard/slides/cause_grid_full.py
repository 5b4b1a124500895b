"""The full root-cause grid for paper: seven factor rows, empty ones too, six columns."""

from __future__ import annotations

from itertools import chain

from mmbuilder.safe.case import Factor
from mmbuilder.safe.terms import CauseKind, FactorRow, term
from mmbuilder.safe.text import EMPTY, SafeText, capital, fill, inline, join, sentence, wording
from mmbuilder.storyboard.blocks import Cell, Slide
from mmbuilder.storyboard.columns import filled_table
from mmbuilder.storyboard.context import Context
from mmbuilder.storyboard.slides.cause_grid import NO_EVIDENCE, acted, barred, differed

MISSING = wording("full root-cause grid: the case lists no factors")

_HEADLINE = wording("The full root-cause grid, from the patient outwards.")

_NONE_YET = wording("The full root-cause grid, from the patient outwards; no factor has evidence yet.")
"""Said once, where it would stand in every row."""


def make(context: Context) -> tuple[Slide, ...]:
    """One page part; an empty row says so and is not padded."""
    if not context.case.factors:
        return ()
    acting = [factor for row in context.grid.rows for factor in row.factors]
    known = any(factor.evidence for factor in acting)
    unknown = NO_EVIDENCE if known else EMPTY
    lines = (_lines(row.factors, unknown) or (_empty(row.row),) for row in context.grid.rows)
    table = filled_table(
        header=(
            wording("What"),
            wording("Evidence"),
            wording("How it contributed"),
            wording("If it had differed"),
            wording("Barrier"),
            wording("Action"),
        ),
        rows=tuple(chain.from_iterable(lines)),
        shares=(3, 2.6, 3, 3, 2.4, 1.2),
        caption=wording("Full root-cause grid by the seven factor types"),
    )
    return (Slide("cause_grid_full", _HEADLINE if known or not acting else _NONE_YET, (table,)),)


def _lines(factors: tuple[Factor, ...], unknown: SafeText) -> tuple[tuple[Cell, ...], ...]:
    return tuple(_line(factor, unknown) for factor in factors)


def _line(factor: Factor, unknown: SafeText) -> tuple[Cell, ...]:
    role = fill(
        "{row} ({role}): {what}", row=capital(term(factor.row)), role=term(factor.role), what=factor.what
    )
    return (
        Cell(role, strong=True),
        Cell(join("; ", factor.evidence) or unknown),
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
    nothing = fill("{row}: nothing recorded", row=capital(term(row)))
    return (Cell(nothing), *(Cell(EMPTY) for _ in range(5)))
