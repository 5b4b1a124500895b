"""The name model as the rest of the scrubber sees it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from mmbuilder.scrub.names import windows
from mmbuilder.scrub.names.labels import COLUMNS, Kind
from mmbuilder.scrub.names.spans import NameHit, spans
from mmbuilder.scrub.names.tokenizer import CLOSING, OPENING, Piece, pieces

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mmbuilder.scrub.names.weights import Floats

# Low, for recall: what it takes wrongly is for the guard (mmbuilder.scrub.keep) to give back. Chosen on the
# development half of tests/scrub/names/named.txt and tests/scrub/keep/clean.txt.
THRESHOLD = 0.1


def _padded(group: Sequence[windows.Window], texts: Sequence[Sequence[Piece]]) -> NDArray[np.intp]:
    """Numbers of a batch of windows, opened, closed and padded to one length."""
    import numpy as np

    numbers = np.zeros((len(group), max(w.end - w.start for w in group) + 2), np.intp)
    for row, window in zip(numbers, group, strict=True):
        inside = [piece.number for piece in texts[window.text][window.start : window.end]]
        row[: len(inside) + 2] = [OPENING, *inside, CLOSING]
    return numbers


def label_chances(texts: Sequence[Sequence[Piece]]) -> list[Floats]:
    """Chance of every label at every piece of every text: one (pieces, 35) array a text."""
    import numpy as np

    from mmbuilder.scrub.names.forward import chances
    from mmbuilder.scrub.names.labels import LABELS
    from mmbuilder.scrub.names.weights import load

    found = [np.zeros((len(text), len(LABELS)), np.float32) for text in texts]
    every: Iterator[windows.Window] = (w for i, text in enumerate(texts) for w in windows.cut(i, len(text)))
    for group in windows.batches(every):
        for window, rows in zip(group, chances(load(), _padded(group, texts)), strict=True):
            judged = rows[1 + window.first - window.start : 1 + window.last - window.start]
            found[window.text][window.first : window.last] = judged
    return found


class NameModel:
    """Finds people, places and addresses; loads its weights at the first call."""

    NAME = "name model"

    def __init__(self, threshold: float = THRESHOLD) -> None:
        """Take the least chance (0 to 1) that makes a word part of a name."""
        self.threshold = threshold

    def find(self, texts: Sequence[str]) -> list[list[NameHit]]:
        """Names in each text, in order of place; many short texts in one call cost least."""
        cut = [pieces(text) for text in texts]
        return [
            spans(text, its, _by_kind(rows), self.threshold)
            for text, its, rows in zip(texts, cut, label_chances(cut), strict=True)
        ]


def _by_kind(rows: Floats) -> dict[Kind, list[float]]:
    return {kind: rows[:, list(columns)].sum(axis=1).tolist() for kind, columns in COLUMNS.items()}
