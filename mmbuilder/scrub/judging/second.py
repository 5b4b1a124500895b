"""What the offline name model knows of each word, for the sentences about which the judge is in two minds."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from mmbuilder.scrub.judging.reading import Token

if TYPE_CHECKING:
    from mmbuilder.scrub.names.weights import Floats


def states(read: Sequence[tuple[str, Sequence[Token]]]) -> list[Floats]:
    """What the model knows of each token of each sentence: the mean over its pieces, and a 1 that says it was asked."""
    from mmbuilder.scrub.names import piece_states, pieces

    cut = [pieces(sentence) for sentence, _ in read]
    known = piece_states(cut)
    return [
        _by_token(tokens, [(piece.start, piece.end) for piece in its], rows)
        for (_, tokens), its, rows in zip(read, cut, known, strict=True)
    ]


def _by_token(tokens: Sequence[Token], places: Sequence[tuple[int, int]], rows: Floats) -> Floats:
    import numpy as np

    found = np.zeros((len(tokens), rows.shape[1] + 1), np.float32)
    found[:, -1] = 1
    at = 0
    for own, token in zip(found, tokens, strict=True):
        while at < len(places) and places[at][1] <= token.start:
            at += 1
        end = at
        while end < len(places) and places[end][0] < token.end:
            end += 1
        if end > at:
            own[:-1] = rows[at:end].mean(axis=0)
    return found
