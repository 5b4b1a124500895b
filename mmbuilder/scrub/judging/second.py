"""What the offline name model says of each word, for the sentences about which the judge is in two minds."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from mmbuilder.scrub.judging.chain import Row, four
from mmbuilder.scrub.judging.reading import Token
from mmbuilder.scrub.judging.signs import signs
from mmbuilder.scrub.names import piece_scores, pieces
from mmbuilder.scrub.names.tokenizer import Piece


def scores(read: Sequence[tuple[str, Sequence[Token]]]) -> list[list[Row]]:
    """For each token of each sentence what speaks for each of the judge's labels, against none: the mean over its pieces."""
    import numpy as np

    cut = [pieces(sentence) for sentence, _ in read]
    of = [np.array(list(tokens_of(its, tokens)), np.intp) for its, (_, tokens) in zip(cut, read, strict=True)]
    told = [signs(tokens)[its] for its, (_, tokens) in zip(of, read, strict=True)]
    found = []
    for rows, its, (_, tokens) in zip(piece_scores(cut, told), of, read, strict=True):
        summed = np.zeros((len(tokens), rows.shape[1]), np.float32)
        np.add.at(summed, its, rows - rows[:, :1])
        counts = np.bincount(its, minlength=len(tokens))
        found.append([four(*row) for row in (summed / np.maximum(counts, 1)[:, None]).tolist()])
    return found


def tokens_of(cut: Sequence[Piece], tokens: Sequence[Token]) -> Iterator[int]:
    """For each piece the number of its token."""
    at = 0
    for piece in cut:
        while at < len(tokens) - 1 and tokens[at].end <= piece.start:
            at += 1
        yield at
