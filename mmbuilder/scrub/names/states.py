"""What the name model knows of every word piece of a text, window by window."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from mmbuilder.scrub.names import windows
from mmbuilder.scrub.names.labels import LABELS
from mmbuilder.scrub.names.tokenizer import CLOSING, OPENING, Piece

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mmbuilder.scrub.names.weights import Floats

STATE = 2 * 384 + len(LABELS)
"""Numbers of what the model knows of a piece: two rows of its width, and its labels."""


def piece_states(texts: Sequence[Sequence[Piece]]) -> list[Floats]:
    """What the model knows of every piece of every text: one (pieces, 803) array a text; many short texts in one call cost least."""
    import numpy as np

    from mmbuilder.scrub.names.forward import states
    from mmbuilder.scrub.names.weights import load

    found: list[Floats] = [np.zeros((len(text), STATE), np.float32) for text in texts]
    every: Iterator[windows.Window] = (w for i, text in enumerate(texts) for w in windows.cut(i, len(text)))
    for group in windows.batches(every):
        for window, rows in zip(group, states(load(), _padded(group, texts)), strict=True):
            judged = rows[1 + window.first - window.start : 1 + window.last - window.start]
            found[window.text][window.first : window.last] = judged
    return found


def _padded(group: Sequence[windows.Window], texts: Sequence[Sequence[Piece]]) -> NDArray[np.intp]:
    """Numbers of a batch of windows, opened, closed and padded to one length."""
    import numpy as np

    numbers = np.zeros((len(group), max(w.end - w.start for w in group) + 2), np.intp)
    for row, window in zip(numbers, group, strict=True):
        inside = [piece.number for piece in texts[window.text][window.start : window.end]]
        row[: len(inside) + 2] = [OPENING, *inside, CLOSING]
    return numbers
