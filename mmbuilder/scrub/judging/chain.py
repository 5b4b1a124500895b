"""The linear chain over a sentence: how sure each token's label is, given the scores of all of them.

Forward and backward sums of a first-order chain (Lafferty, McCallum and Pereira 2001, Conditional random fields,
section 3); four labels, so plain arithmetic is as quick as any library.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

LABELS = ("O", "A", "B", "R")
"""Nothing, a person, a place, any other identifier: in the letters of the identifier classes."""

Row = tuple[float, float, float, float]


def marginals(scores: Sequence[Row], follows: Sequence[Row]) -> list[Row]:
    """Chance of each label at each token.

    Args:
        scores: for each token, the score of each label.
        follows: for each label, the score of each label right after it.
    """
    after = [four(*map(math.exp, row)) for row in follows]
    before = [four(*column) for column in zip(*after, strict=True)]
    seen = [_exponents(row) for row in scores]
    ahead: list[Row] = []
    for own in seen:
        ahead.append(_shared(_times(own, _through(ahead[-1], before)) if ahead else own))
    behind: Row = (1.0, 1.0, 1.0, 1.0)
    found = list[Row]()
    for own, reached in zip(reversed(seen), reversed(ahead), strict=True):
        found.append(_shared(_times(reached, behind)))
        behind = _shared(_through(_times(own, behind), after))
    return found[::-1]


def four(o: float, a: float, b: float, r: float) -> Row:
    """The four scores of one token, or of one label after another."""
    return o, a, b, r


def _exponents(row: Row) -> Row:
    o, a, b, r = row
    highest = max(row)
    return math.exp(o - highest), math.exp(a - highest), math.exp(b - highest), math.exp(r - highest)


def _times(one: Row, other: Row) -> Row:
    o, a, b, r = one
    x, y, z, w = other
    return o * x, a * y, b * z, r * w


def _through(one: Row, follows: Sequence[Row]) -> Row:
    """The sums of a row with each row of pairs."""
    o, a, b, r = one
    (oo, oa, ob, on), (ao, aa, ab, an), (bo, ba, bb, bn), (ro, ra, rb, rr) = follows
    return (
        o * oo + a * oa + b * ob + r * on,
        o * ao + a * aa + b * ab + r * an,
        o * bo + a * ba + b * bb + r * bn,
        o * ro + a * ra + b * rb + r * rr,
    )


def _shared(row: Row) -> Row:
    o, a, b, r = row
    whole = o + a + b + r
    return o / whole, a / whole, b / whole, r / whole
