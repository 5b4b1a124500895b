"""Ruled and squared paper without its rules: small or faint writing is lost to the network among them.

A rule runs along a row or a column of the picture: most of the row stands out by the same step from what lies on
both sides of it. What has that step is brought to the ground; a stroke of a pen that crosses a rule has none along
itself, and stays.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Pixels = NDArray[np.uint8]
    Steps = NDArray[np.int16]

BESIDE = 3
"""Pixels from the middle of a rule to what lies beside it."""
EVERY = 31
"""Of so many pixels along a rule one is asked: a prime, so that seldom all that are asked lie on the rules across it."""
STANDS_OUT = 5
"""Levels of 255 by which a rule stands out at the least."""
FEWEST = 15
"""Spaces between the rules of a paper at the least: the level lines of the traces on a screen are fewer."""
STRONG, STRONGEST = 95, 1.7
"""Of a hundred rules, those that stand out less than what is taken for the step of a strong one; and times that step
that a rule has at the most: the level line of a trace has more."""
LIKE, LIKE_SHARE = 8, 0.4
"""Levels by which a place may differ from its rule, and the share of the rule's step that is added to them."""


def without_rules(pixels: Pixels) -> Pixels:
    """Return a picture without the rules that run along its rows and columns; as it is, if it has none.

    Args:
        pixels: row, column, and blue, green, red.
    """
    import cv2
    import numpy as np

    clear = _without_rows(pixels)
    turned = np.asarray(cv2.transpose(clear), np.uint8)
    other = _without_rows(turned)
    return clear if other is turned else np.asarray(cv2.transpose(other), np.uint8)


def _without_rows(pixels: Pixels) -> Pixels:
    import numpy as np

    if len(pixels) <= 2 * BESIDE:
        return pixels
    asked = pixels[:, ::EVERY]
    usual = np.median(_steps(asked[BESIDE:-BESIDE], asked[: -2 * BESIDE], asked[2 * BESIDE :]), axis=1)
    far = np.abs(usual).max(1)
    ruled = np.flatnonzero(far >= STANDS_OUT)
    if np.count_nonzero(np.diff(ruled) > 1) < FEWEST:
        return pixels
    ruled = ruled[far[ruled] <= STRONGEST * np.percentile(far[ruled], STRONG)]
    rule, rows = usual[ruled][:, None].astype(np.int16), ruled + BESIDE
    here = pixels[rows]
    off = np.abs(_steps(here, pixels[rows - BESIDE], pixels[rows + BESIDE]) - rule).max(2, keepdims=True)
    bare = off <= LIKE + LIKE_SHARE * np.abs(rule).max(2, keepdims=True)
    clear = pixels.copy()
    clear[rows] = np.clip(here - rule * bare, 0, 255)
    return clear


def _steps(here: Pixels, above: Pixels, below: Pixels) -> Steps:
    """Return how far each place stands out from both what lies above it and what lies below it."""
    import cv2
    import numpy as np

    places = [np.ascontiguousarray(rows) for rows in (here, above, below)]
    lower, upper = cv2.min(*places[1:]), cv2.max(*places[1:])
    # Each is nothing where the place does not stand out to that side.
    lighter, darker = cv2.subtract(places[0], upper), cv2.subtract(lower, places[0])
    return np.asarray(cv2.subtract(lighter, darker, dtype=cv2.CV_16S), np.int16)
