"""Rulers and depth scales: a straight spine with straight marks at equal distances along one side.

A reviewer needs them, and a network that looks for text sees a row of letters. No script is written so: letters that
hang on a line are neither all straight nor all as far from each other.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Mask = NDArray[np.bool_]

SPINE = 0.9
"""Least share of a row, between the first and the last that is drawn, that a spine fills."""
MARKS = 5
"""Marks from which a line may be a ruler."""
UNEVEN, THICK, STRAIGHT = 0.2, 0.5, 0.7
"""Share of the usual distance by which marks may be off, and that one is wide; least share of its box that it fills."""


def ruler(drawn: Mask) -> bool:
    """Return whether all that is drawn in a line is a spine and marks on one side of it.

    Args:
        drawn: row by row, where something stands out; the line laid level.
    """
    import numpy as np

    columns = np.flatnonzero(drawn.any(0))
    if not columns.size:
        return False
    drawn = drawn[:, columns[0] : columns[-1] + 1]
    spine = np.flatnonzero(drawn.mean(1) >= SPINE)
    if not spine.size:
        return False
    above, below = drawn[: max(0, spine[0] - 1)], drawn[spine[-1] + 2 :]
    marks, other = sorted((above, below), key=lambda side: -int(side.sum()))
    return not other.any() and _even(marks)


def _even(marks: Mask) -> bool:
    """Whether marks stand apart at equal distances, and each is straight."""
    import numpy as np

    edges = np.flatnonzero(np.diff(marks.any(0), prepend=False, append=False))
    starts, ends = edges[::2], edges[1::2]
    if len(starts) < MARKS:
        return False
    far = np.diff((starts + ends) / 2)
    usual = float(np.median(far))
    even = bool((np.abs(far - usual) <= UNEVEN * usual).all() and ((ends - starts) <= THICK * usual).all())
    return even and all(_straight(marks[:, start:end]) for start, end in zip(starts, ends, strict=True))


def _straight(mark: Mask) -> bool:
    import numpy as np

    rows = np.flatnonzero(mark.any(1))
    return float(mark[rows[0] : rows[-1] + 1].mean()) >= STRAIGHT
