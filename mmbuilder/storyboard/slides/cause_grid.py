"""The strongest lines of the root-cause grid as a native table; the handout has them all."""

from __future__ import annotations

from mmbuilder.safe.case import Factor
from mmbuilder.safe.terms import term
from mmbuilder.safe.text import EMPTY, SafeText, capital, fill, join, number, sentence, wording
from mmbuilder.storyboard.blocks import Cell, Paragraph, Slide, Table, Tone
from mmbuilder.storyboard.context import Context, counted

MISSING = wording("root-cause grid: the case lists no factors")

NO_EVIDENCE = wording("no evidence recorded")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide; rows by factor type (Vincent 1998), from the patient outwards."""
    strongest = context.grid.strongest(context.planned.strongest)
    if not strongest:
        return ()
    blocks = (table(strongest, context), Paragraph(_rest(context, strongest), Tone.QUIET))
    notes = (wording("Causes, not culprits. Ask which cell the room would fill differently."),)
    return (Slide("cause_grid", _headline(context, strongest), blocks, notes, context.seconds),)


def table(factors: tuple[Factor, ...], context: Context) -> Table:
    """Return the grid for these factors, with evidence visible in its own cell."""
    return Table(
        header=(
            wording("What"),
            wording("Evidence"),
            wording("How it contributed"),
            wording("Barrier; action"),
        ),
        rows=tuple(_row(factor) for factor in factors),
        shares=(2.6, 2.3, 3.8, 2.2),
        caption=wording(
            "Root-cause grid: factor, evidence, contribution, counterfactual, barrier and action"
        ),
    )


def _row(factor: Factor) -> tuple[Cell, ...]:
    what = fill("{row}: {what}", row=capital(term(factor.row)), what=factor.what)
    return (
        Cell(what, strong=True),
        Cell(join("; ", factor.evidence) or NO_EVIDENCE),
        Cell(_contributed(factor)),
        Cell(join(" → ", (barred(factor), acted(factor))) or wording("no action yet")),
    )


def _contributed(factor: Factor) -> SafeText:
    """How it contributed, and what would have been otherwise without it."""
    otherwise = join(" ", (wording("Without it"), _how_sure(factor)))
    told = join(": ", (otherwise, factor.counterfactual))
    said = factor.counterfactual or factor.changed
    return join(" ", (sentence(factor.contributed), sentence(told) if said else EMPTY))


def _how_sure(factor: Factor) -> SafeText:
    """`(probably, recognition moved by about 5 min)`."""
    parts = join(", ", (term(factor.changed) if factor.changed else EMPTY, _moved(factor)))
    return fill("({parts})", parts=parts) if parts else EMPTY


def differed(factor: Factor) -> SafeText:
    """`Probably: recognition about 5 min earlier`; empty where nobody said."""
    changed = capital(term(factor.changed)) if factor.changed else EMPTY
    return join(": ", (join(", ", (changed, _moved(factor))), factor.counterfactual))


def _moved(factor: Factor) -> SafeText:
    moved = join(" ", (term(factor.would_move), wording("moved"))) if factor.would_move else EMPTY
    by = fill("by about {length}", length=factor.by_about) if factor.by_about else EMPTY
    return join(" ", (moved, by))


def barred(factor: Factor) -> SafeText:
    """`Count at closure (failed)`."""
    if not factor.barrier or not factor.barrier_state:
        return factor.barrier
    return fill("{barrier} ({state})", barrier=factor.barrier, state=term(factor.barrier_state))


def acted(factor: Factor) -> SafeText:
    """`A1, A3`."""
    return join(", ", (fill("A{n}", n=action) for action in factor.actions))


def _headline(context: Context, strongest: tuple[Factor, ...]) -> SafeText:
    rows = {factor.row for factor in strongest}
    levels = counted(len(rows), wording("level"), wording("levels"))
    factors = counted(len(strongest), wording("factor"), wording("factors"))
    return sentence(fill("{factors} on {levels} made this more likely", factors=factors, levels=levels))


def _rest(context: Context, strongest: tuple[Factor, ...]) -> SafeText:
    """Return what this slide leaves to the handout, and the rows that are honestly empty."""
    listed = sum(len(row.factors) for row in context.grid.rows)
    beside = {factor.row for factor in (*context.grid.incidental, *context.grid.excluded)}
    empty = [term(row.row) for row in context.grid.rows if not row.factors and row.row not in beside]
    parts = (
        fill("{n} of {all} shown; the rest is in the handout.", n=number(len(strongest)), all=number(listed))
        if listed > len(strongest)
        else wording(""),
        fill("Nothing recorded under: {rows}.", rows=join(", ", empty)) if empty else wording(""),
    )
    return join(" ", parts)
