"""How wide the columns of a table stand: as asked for, unless other widths save lines."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import permutations

_STEP = 0.02
_KEPT = 0.6
"""A column keeps so much of the width it was asked to have."""
_FULL = 0.9
"""A line is seldom filled to its end, as words are not torn."""


def settle(
    asked: Sequence[float], texts: Sequence[Sequence[float]], words: Sequence[float], inset: float
) -> list[float]:
    """Move width from column to column for as long as that makes the table shorter.

    No word is broken while other columns have width to give.

    Args:
        asked: width of each column.
        texts: length of each text if it stood on one line, by row.
        words: length of the longest word of each column; no column is made narrower than its own.
        inset: what a cell keeps free; all in points.
    """
    asked = _worded(asked, [word + inset for word in words])
    wide, step = list(asked), _STEP * sum(asked)
    least = [max(_KEPT * own, word + inset) for own, word in zip(asked, words, strict=True)]
    best = _length(wide, texts, inset)
    while True:
        tried = [
            (_length(moved, texts, inset), moved)
            for giver, taker in permutations(range(len(wide)), 2)
            if wide[giver] - step >= least[giver]
            for moved in [_moved(wide, giver, taker, step)]
        ]
        length, moved = min(tried, default=(best, wide))
        if length >= best:
            return wide if _lines(wide, texts, inset) < _lines(asked, texts, inset) else list(asked)
        best, wide = length, moved


def _worded(asked: Sequence[float], words: Sequence[float]) -> list[float]:
    """Widen each column to its longest word, at the cost of those that are wider than theirs."""
    spare = [own - word for own, word in zip(asked, words, strict=True)]
    free, short = sum(max(one, 0) for one in spare), sum(max(-one, 0) for one in spare)
    if free < short:
        return list(asked)
    return [own - one * (short / free if one > 0 else 1) for own, one in zip(asked, spare, strict=True)]


def _moved(wide: Sequence[float], giver: int, taker: int, step: float) -> list[float]:
    moved = list(wide)
    moved[giver] -= step
    moved[taker] += step
    return moved


def _length(wide: Sequence[float], texts: Sequence[Sequence[float]], inset: float) -> float:
    """How long the table is; a part of a line counts a little, so that small steps lead somewhere."""
    return _lines(wide, texts, inset) + 0.2 * sum(_rows(wide, texts, inset))


def _lines(wide: Sequence[float], texts: Sequence[Sequence[float]], inset: float) -> int:
    return sum(map(math.ceil, _rows(wide, texts, inset)))


def _rows(wide: Sequence[float], texts: Sequence[Sequence[float]], inset: float) -> list[float]:
    """How many lines each row takes, with parts."""
    room = [max(1.0, (width - inset) * _FULL) for width in wide]
    return [max(length / own for length, own in zip(row, room, strict=True)) for row in texts]
