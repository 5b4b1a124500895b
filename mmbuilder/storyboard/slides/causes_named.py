"""The causes in a line each, for a paper that has no room for the grid."""

from __future__ import annotations

from mmbuilder.safe.case import Factor
from mmbuilder.safe.terms import FactorRole, term
from mmbuilder.safe.text import SafeText, capital, fill, sentence
from mmbuilder.storyboard.blocks import Facts, Slide
from mmbuilder.storyboard.context import Context
from mmbuilder.storyboard.slides.cause_diagram import MISSING, headline

__all__ = ["MISSING", "make"]


def make(context: Context) -> tuple[Slide, ...]:
    """A line a factor that played a part, from the patient outwards; a root cause is called so."""
    acting = tuple(factor for row in context.grid.rows for factor in row.factors)
    if not acting:
        return ()
    rows = tuple((capital(term(factor.row)), _told(factor)) for factor in acting)
    return (Slide("causes_named", headline(acting), (Facts(rows),)),)


def _told(factor: Factor) -> SafeText:
    if factor.role is not FactorRole.ROOT:
        return sentence(factor.what)
    return sentence(fill("{what} ({role})", what=factor.what, role=term(factor.role)))
