"""The linear chain over a sentence: how sure each token's label is, given the scores of all of them.

Forward and backward sums of a first-order chain (Lafferty, McCallum and Pereira 2001, Conditional random fields,
section 3); three labels, so plain arithmetic is as quick as any library.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

LABELS = ("O", "A", "B")
"""Nobody, a person, a place: in the letters of the identifier classes."""

Row = tuple[float, float, float]


def marginals(scores: Sequence[Row], follows: Sequence[Row]) -> list[Row]:
    """Chance of each label at each token.

    Args:
        scores: for each token, the score of each label.
        follows: for each label, the score of each label right after it.
    """
    (oo, oa, ob), (ao, aa, ab), (bo, ba, bb) = (
        [math.exp(score) for score in row] for row in follows
    )  # what follows nobody, a person, a place
    seen = [_exponents(row) for row in scores]
    ahead: list[Row] = []
    for o, a, b in seen:
        if ahead:
            x, y, z = ahead[-1]
            o, a, b = (
                o * (x * oo + y * ao + z * bo),
                a * (x * oa + y * aa + z * ba),
                b * (x * ob + y * ab + z * bb),
            )
        ahead.append(_shared(o, a, b))
    x = y = z = 1.0
    found = list[Row]()
    for (o, a, b), before in zip(reversed(seen), reversed(ahead), strict=True):
        found.append(_shared(before[0] * x, before[1] * y, before[2] * z))
        o, a, b = o * x, a * y, b * z
        x, y, z = _shared(oo * o + oa * a + ob * b, ao * o + aa * a + ab * b, bo * o + ba * a + bb * b)
    return found[::-1]


def _exponents(row: Row) -> Row:
    highest = max(row)
    return math.exp(row[0] - highest), math.exp(row[1] - highest), math.exp(row[2] - highest)


def _shared(o: float, a: float, b: float) -> Row:
    whole = o + a + b
    return o / whole, a / whole, b / whole
