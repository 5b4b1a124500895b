"""What the name model says of every word piece of a text, window by window."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from mmbuilder.scrub.names import windows
from mmbuilder.scrub.names.tokenizer import CLOSING, OPENING, Piece

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mmbuilder.scrub.names.weights import Floats


def piece_scores(texts: Sequence[Sequence[Piece]], signs: Sequence[Floats]) -> list[Floats]:
    """Scores of every label for every piece of every text; many short texts in one call cost least.

    Args:
        texts: the pieces of each.
        signs: what the model is told of them beside their letters, (pieces, signs) for each text.

    Returns:
        (pieces, labels) for each text.
    """
    import numpy as np

    from mmbuilder.scrub.names.forward import logits
    from mmbuilder.scrub.names.weights import load

    weights = load()
    found: list[Floats] = [np.zeros((len(text), len(weights.classify.bias)), np.float32) for text in texts]
    every: Iterator[windows.Window] = (w for i, text in enumerate(texts) for w in windows.cut(i, len(text)))
    for group in windows.batches(every):
        scores = logits(weights, *_padded(group, texts, signs))
        for window, rows in zip(group, scores, strict=True):
            judged = rows[1 + window.first - window.start : 1 + window.last - window.start]
            found[window.text][window.first : window.last] = judged
    return found


def _padded(
    group: Sequence[windows.Window], texts: Sequence[Sequence[Piece]], signs: Sequence[Floats]
) -> tuple[NDArray[np.intp], Floats]:
    """Numbers and signs of a batch of windows, opened, closed and padded to one length; the marks have no sign."""
    import numpy as np

    longest = max(w.end - w.start for w in group) + 2
    numbers = np.zeros((len(group), longest), np.intp)
    told = np.zeros((len(group), longest, signs[group[0].text].shape[1]), np.float32)
    for row, its, window in zip(numbers, told, group, strict=True):
        inside = [piece.number for piece in texts[window.text][window.start : window.end]]
        row[: len(inside) + 2] = [OPENING, *inside, CLOSING]
        its[1 : len(inside) + 1] = signs[window.text][window.start : window.end]
    return numbers, told
