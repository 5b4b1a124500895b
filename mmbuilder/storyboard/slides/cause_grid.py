"""The strongest lines of the root-cause grid as a native table; the handout has all of them whole."""

from __future__ import annotations

from collections.abc import Iterator

from mmbuilder.safe.case import Factor
from mmbuilder.safe.terms import term
from mmbuilder.safe.text import EMPTY, SafeText, capital, fill, join, sentence, unbroken, wording
from mmbuilder.storyboard.blocks import Cell, Slide, Table
from mmbuilder.storyboard.columns import filled_table
from mmbuilder.storyboard.context import Context, counted, spelled

MISSING = wording("root-cause grid: the case lists no factors")

NO_EVIDENCE = wording("no evidence recorded")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide; rows by factor type (Vincent 1998), from the patient outwards.

    Where no factor has evidence yet, the room still sees what was named, and that none of it has any.
    """
    most = context.planned.strongest
    strongest = context.grid.strongest(most) or context.grid.named(most)
    if not strongest:
        return ()
    notes = (
        wording("Causes, not culprits. Ask which cell the room would fill differently."),
        *(_otherwise(factor) for factor in strongest if factor.counterfactual),
        *_empty(context),
    )
    return (Slide("cause_grid", _headline(context, strongest), (_table(strongest),), notes, context.seconds),)


def _table(factors: tuple[Factor, ...]) -> Table:
    """Return the grid for these factors, with evidence in its own cell; the headline says if none has any."""
    known = any(factor.evidence for factor in factors)
    return filled_table(
        header=(
            wording("What"),
            wording("Evidence"),
            wording("How it contributed"),
            wording("Barrier; action"),
        ),
        rows=tuple(_row(factor, NO_EVIDENCE if known else EMPTY) for factor in factors),
        shares=(2.6, 2.2, 3.8, 2.3),
        caption=wording(
            "Root-cause grid: factor, evidence, contribution, counterfactual, barrier and action"
        ),
    )


def _row(factor: Factor, unknown: SafeText) -> tuple[Cell, ...]:
    what = fill("{row}: {what}", row=capital(term(factor.row)), what=factor.what)
    return (
        Cell(what, strong=True),
        Cell(join("; ", factor.evidence) or unknown),
        Cell(_contributed(factor)),
        Cell(_barrier_and_action(factor) or wording("no action yet")),
    )


def _barrier_and_action(factor: Factor) -> SafeText:
    """`Count at closure (failed) → A1`; the arrow stays with its action."""
    barrier, action = barred(factor), acted(factor)
    if not (barrier and action):
        return barrier or action
    return join(" ", (barrier, unbroken(fill("→ {action}", action=action))))


def _contributed(factor: Factor) -> SafeText:
    """How it contributed, and whether it would have gone differently without it; how, the notes tell."""
    sure = _how_sure(factor)
    different = fill("Different without it: {sure}", sure=sure) if sure else EMPTY
    return join(" ", (sentence(factor.contributed), sentence(different)))


def _how_sure(factor: Factor) -> SafeText:
    """`probably, recognition moved by about 5 min`."""
    return join(", ", (term(factor.changed) if factor.changed else EMPTY, _moved(factor)))


def _otherwise(factor: Factor) -> SafeText:
    """What would have been different without it, for the presenter to say."""
    without = fill("Without it: {otherwise}", otherwise=factor.counterfactual)
    return join(" ", (sentence(factor.what), sentence(without)))


def differed(factor: Factor) -> SafeText:
    """`Probably: recognition about 5 min earlier`; empty where nobody said."""
    changed = capital(term(factor.changed)) if factor.changed else EMPTY
    return join(": ", (join(", ", (changed, _moved(factor))), factor.counterfactual))


def _moved(factor: Factor) -> SafeText:
    moved = join(" ", (term(factor.would_move), wording("moved"))) if factor.would_move else EMPTY
    length = factor.by_about
    if not length:
        return moved
    # Who wrote "about 5 min" has said so already.
    said = _ABOUT.within(length)
    by = fill("by {length}", length=length) if said else fill("by about {length}", length=length)
    return join(" ", (moved, by))


_ABOUT = wording("about")


def barred(factor: Factor) -> SafeText:
    """`Count at closure (failed)`."""
    if not factor.barrier or not factor.barrier_state:
        return factor.barrier
    return fill("{barrier} ({state})", barrier=factor.barrier, state=term(factor.barrier_state))


def acted(factor: Factor) -> SafeText:
    """`A1, A3`."""
    return join(", ", (fill("A{n}", n=action) for action in factor.actions))


def _headline(context: Context, strongest: tuple[Factor, ...]) -> SafeText:
    """Say how many are shown, and of how many: what has no evidence is not counted where all here have it."""
    levels = counted(len({factor.row for factor in strongest}), wording("level"), wording("levels"))
    known = sum(bool(factor.evidence) for factor in strongest)
    if known < len(strongest):
        return _without_evidence(context, len(strongest), known)
    counts = sum(row.count for row in context.grid.rows)
    factors = counted(counts, wording("factor"), wording("factors"))
    if counts > len(strongest):
        shown = spelled(len(strongest))
        return sentence(
            fill("The strongest {n} of {factors}, on {levels}", n=shown, factors=factors, levels=levels)
        )
    return sentence(fill("{factors} on {levels} made this more likely", factors=factors, levels=levels))


def _without_evidence(context: Context, shown: int, known: int) -> SafeText:
    """`Six factors are named, four of them here, none with evidence yet`, as a sentence."""
    named = sum(len(row.factors) for row in context.grid.rows)
    factors = counted(named, wording("factor is named"), wording("factors are named"))
    here = fill("{n} of them here", n=spelled(shown)) if shown < named else EMPTY
    told = fill("{n} with evidence", n=spelled(known)) if known else wording("none with evidence yet")
    return sentence(join(", ", (factors, here, told)))


def _empty(context: Context) -> Iterator[SafeText]:
    """Say which rows are honestly empty, if any are."""
    beside = {factor.row for factor in (*context.grid.incidental, *context.grid.excluded)}
    empty = [term(row.row) for row in context.grid.rows if not row.factors and row.row not in beside]
    if empty:
        yield fill("Nothing recorded under: {rows}.", rows=join(", ", empty))
