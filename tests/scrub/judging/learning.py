"""Learn the weights of a linear chain, with plain numpy: maximum likelihood by AdaGrad, averaged over the last passes.

Source of the model: Lafferty, McCallum and Pereira 2001, Conditional random fields; of the step: Duchi, Hazan and
Singer 2011, Adaptive subgradient methods (both from memory). A person that is missed costs more than one too many
(softmax-margin: Gimpel and Smith 2010, from memory).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mmbuilder.scrub.judging import chain

Floats = NDArray[np.float32]
Numbers = NDArray[np.int32]

LABELS = len(chain.LABELS)
MISSED_COSTS = 1.0
RATE, DECAY, BATCH = 0.1, 1e-6, 48
FIRST_STEP = 1e-3
"""What the squares of the slopes begin with."""


@dataclass(frozen=True)
class Sample:
    """A sentence: of each token its features and its label."""

    features: Sequence[Sequence[str]]
    labels: Sequence[int]


@dataclass(frozen=True)
class Batch:
    """Sentences of like length, padded: numbers of features (0 for none), labels, and where a token is."""

    features: Numbers
    labels: Numbers
    real: NDArray[np.bool_]


@dataclass
class Learned:
    """Weights of the features, and of each label after each."""

    of: Floats
    follows: Floats

    def each(self) -> tuple[Floats, Floats]:
        return self.of, self.follows


def numbered(samples: Sequence[Sample], least: int) -> dict[str, int]:
    """A number, from 1, for each feature that is seen at least so often."""
    counts = Counter(name for sample in samples for token in sample.features for name in token)
    return {
        name: at for at, name in enumerate(sorted(name for name, seen in counts.items() if seen >= least), 1)
    }


def batched(samples: Sequence[Sample], number: dict[str, int]) -> list[Batch]:
    order = sorted(range(len(samples)), key=lambda at: (len(samples[at].labels), at))
    return [
        _padded([samples[at] for at in order[start : start + BATCH]], number)
        for start in range(0, len(order), BATCH)
    ]


def _padded(group: Sequence[Sample], number: dict[str, int]) -> Batch:
    rows = [[[number[name] for name in token if name in number] for token in one.features] for one in group]
    longest, most = max(map(len, rows)), max(len(token) for row in rows for token in row)
    batch = Batch(
        np.zeros((len(group), longest, max(1, most)), np.int32),
        np.zeros((len(group), longest), np.int32),
        np.zeros((len(group), longest), bool),
    )
    for at, (row, one) in enumerate(zip(rows, group, strict=True)):
        batch.labels[at, : len(row)], batch.real[at, : len(row)] = one.labels, True
        for place, token in enumerate(row):
            batch.features[at, place, : len(token)] = token
    return batch


def learned(batches: Sequence[Batch], count: int, *, passes: int, seed: int) -> Learned:
    random = np.random.default_rng(seed)
    now, mean = (
        Learned(*(np.zeros((rows, LABELS), np.float32) for rows in (count + 1, LABELS))) for _ in range(2)
    )
    steps, taken = [np.full_like(weights, FIRST_STEP) for weights in now.each()], 0
    for turn in range(passes):
        for at in random.permutation(len(batches)):
            for weights, slope, step in zip(now.each(), _slopes(batches[at], now), steps, strict=True):
                step += slope * slope
                weights -= RATE * slope / np.sqrt(step)
            if turn >= passes // 2:
                taken += 1
                for weights, summed in zip(now.each(), mean.each(), strict=True):
                    summed += weights
    for summed in mean.each():
        summed /= taken
    return mean


def _slopes(batch: Batch, now: Learned) -> tuple[Floats, Floats]:
    """How the loss of a batch changes with each weight."""
    gold = np.eye(LABELS, dtype=np.float32)[batch.labels] * batch.real[..., None]
    scores = now.of[batch.features].sum(2)
    scores[:, :, 0] += MISSED_COSTS * gold[:, :, 1]
    ahead, behind = _sums(scores, now.follows, batch.real)
    whole = _log_sum(ahead[:, -1], 1)[:, None, None]
    wrong = np.exp(ahead + behind - whole) * batch.real[..., None] - gold
    places, each = batch.features.reshape(-1), batch.features.shape[2]
    by_label = [
        np.bincount(places, np.repeat(wrong[:, :, label].reshape(-1), each), minlength=len(now.of))
        for label in range(LABELS)
    ]
    of = np.stack(by_label, 1).astype(np.float32) + DECAY * len(gold) * now.of
    of[0] = 0
    pairs = np.exp(
        ahead[:, :-1, :, None]
        + now.follows
        + (scores[:, 1:] + behind[:, 1:])[:, :, None, :]
        - whole[..., None]
    )
    pairs = pairs * batch.real[:, 1:, None, None] - gold[:, :-1, :, None] * gold[:, 1:, None, :]
    return of, pairs.sum((0, 1))


def _sums(scores: Floats, follows: Floats, real: NDArray[np.bool_]) -> tuple[Floats, Floats]:
    """Forward and backward sums, as logarithms."""
    ahead, behind = np.zeros_like(scores), np.zeros_like(scores)
    ahead[:, 0] = scores[:, 0]
    for at in range(1, scores.shape[1]):
        reached = _log_sum(ahead[:, at - 1, :, None] + follows, 1) + scores[:, at]
        ahead[:, at] = np.where(real[:, at, None], reached, ahead[:, at - 1])
    for at in range(scores.shape[1] - 2, -1, -1):
        left = _log_sum(follows + (scores[:, at + 1] + behind[:, at + 1])[:, None, :], 2)
        behind[:, at] = np.where(real[:, at + 1, None], left, 0)
    return ahead, behind


def _log_sum(values: Floats, axis: int) -> Floats:
    highest = values.max(axis=axis, keepdims=True)
    summed: Floats = (highest + np.log(np.exp(values - highest).sum(axis=axis, keepdims=True))).squeeze(axis)
    return summed
