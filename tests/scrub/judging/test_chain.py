"""The chain against the sum over every row of labels, and the slopes of learning against small steps."""

from __future__ import annotations

import itertools
import math
from random import Random

import numpy as np
import pytest

from mmbuilder.scrub.judging.chain import LABELS, Row, marginals
from tests.scrub.judging.learning import MISSED_COSTS, Batch, Learned, _log_sum, _slopes, _sums


def row(random: Random) -> Row:
    return random.uniform(-3, 3), random.uniform(-3, 3), random.uniform(-3, 3), random.uniform(-3, 3)


@pytest.mark.parametrize("length", [1, 2, 5])
def test_chances_are_the_share_of_every_row_of_labels(length: int) -> None:
    # Lafferty, McCallum and Pereira 2001, section 3: the chance of a row of labels is exp(its score) over the sum.
    random = Random(length)
    scores, follows = [row(random) for _ in range(length)], [row(random) for _ in LABELS]
    shares = np.zeros((length, len(LABELS)))
    for labels in itertools.product(range(len(LABELS)), repeat=length):
        score = sum(scores[at][label] for at, label in enumerate(labels))
        score += sum(follows[a][b] for a, b in itertools.pairwise(labels))
        for at, label in enumerate(labels):
            shares[at, label] += math.exp(score)
    assert np.allclose(marginals(scores, follows), shares / shares[0].sum())


def test_no_token_no_chance_and_a_great_score_does_not_overflow() -> None:
    assert marginals([], [(0.0, 0.0, 0.0, 0.0)] * 4) == []
    assert marginals([(0.0, 2_000.0, -2_000.0, 9.0)] * 3, [(0.0, 0.0, 0.0, 0.0)] * 4)[1] == (
        0.0,
        1.0,
        0.0,
        0.0,
    )


def test_slopes_are_those_of_the_loss() -> None:
    random = np.random.default_rng(3)
    real = np.array([[True] * 4, [True, True, False, False]])
    batch = Batch(
        random.integers(1, 6, (2, 4, 3)).astype(np.int32) * real[..., None],
        random.integers(0, len(LABELS), (2, 4)).astype(np.int32) * real,
        real,
    )
    now = Learned(*(random.normal(size=(rows, len(LABELS))) for rows in (6, len(LABELS))))
    now.of[0] = 0

    def loss() -> float:
        gold = np.eye(len(LABELS))[batch.labels]
        scores = now.of[batch.features].sum(2)
        scores[:, :, 0] += MISSED_COSTS * (gold[:, :, 1] * real)
        ahead, _ = _sums(scores, now.follows, real)
        chosen = (scores * gold * real[..., None]).sum()
        pairs = sum(
            now.follows[a, b]
            for labels, its in zip(batch.labels, real, strict=True)
            for a, b in itertools.pairwise(labels[its])
        )
        return float(_log_sum(ahead[:, -1], 1).sum() - chosen - pairs)

    for weights, slope in zip(now.each(), _slopes(batch, now), strict=True):
        for at in itertools.product(range(1, len(weights)), range(len(LABELS))):
            weights[at] += 1e-4
            more = loss()
            weights[at] -= 2e-4
            less = loss()
            weights[at] += 1e-4
            assert (more - less) / 2e-4 == pytest.approx(slope[at], abs=0.02)


def test_the_labels_are_the_letters_of_the_marks() -> None:
    assert LABELS == ("O", "A", "B", "R")
