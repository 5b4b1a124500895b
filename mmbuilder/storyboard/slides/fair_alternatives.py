"""Each decision with the alternatives that were fair then, and the one that was taken."""

from __future__ import annotations

from mmbuilder.safe.case import Decision
from mmbuilder.safe.text import SafeText, fill, join, sentence, wording
from mmbuilder.storyboard.beats import beats
from mmbuilder.storyboard.blocks import Cell, Slide, Table
from mmbuilder.storyboard.context import Context

MISSING = wording("fair alternatives: the case lists no further decisions")


def make(context: Context) -> tuple[Slide, ...]:
    """One slide with a row a decision, of those that the deck does not stop at."""
    stopped = [beat for beat in beats(context) if isinstance(beat, Decision)]
    decisions = [decision for decision in context.weighed if decision not in stopped]
    if not decisions:
        return ()
    table = Table(
        header=(wording("Question then"), wording("Taken, and why"), wording("Fair alternatives")),
        rows=tuple(map(_row, decisions)),
        shares=(3, 4, 4),
        caption=wording("Each decision with what was taken and what else would have been fair"),
    )
    headline = wording("Other ways were fair too.")
    return (Slide("fair_alternatives", headline, (table,), (), context.seconds),)


def _row(decision: Decision) -> tuple[Cell, ...]:
    others = [option for place, option in enumerate(decision.options) if place != decision.chosen]
    taken = decision.options[decision.chosen]
    return (
        Cell(decision.question, strong=True),
        Cell(_with(taken.what, decision.because)),
        Cell(join(" ", (_with(option.what, option.reason) for option in others))),
    )


def _with(what: SafeText, reason: SafeText) -> SafeText:
    return sentence(fill("{what}: {reason}", what=what, reason=reason) if reason else what)
