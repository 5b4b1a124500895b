"""The forward pass of the name model in plain NumPy.

Source: BERT encoder (Devlin and others 2019, arXiv:1810.04805) on the attention of Vaswani and others
2017 (arXiv:1706.03762, section 3.2); sizes from the model's own configuration.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import TYPE_CHECKING

from mmbuilder.scrub.names.weights import HEADS, PUBLISHED, Layer, Linear, Norm, Weights

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mmbuilder.scrub.names.weights import Floats

NORM_EPSILON = 1e-12
CACHED = 32_768  # numbers worked on at once: what fits the processor's cache
ROWS = 40  # multiplied at once: the most for which OpenBLAS works with `weights.BLOCK` numbers where they lie
ERF = (1.12837970e00, 1.02765478e-01, -1.84384859e-04, -6.25718327e-04, 8.97119899e-05, -5.98556699e-06, 1.58951110e-07)  # fmt: skip
"""erf(x) = tanh(x (c0 + c1 x^2 + ...)): our own least-squares fit of atanh(erf(x)) / x, weighted by what an error
of it does to erf; the sign of the last makes it 1 for every large x."""

Run = tuple[int, int, int]
"""Windows of one length that follow each other: their first row, the row after their last, the length."""


def _apply(linear: Linear, x: Floats) -> Floats:
    """Product with a matrix, block by block and a few rows at a time, plus the bias."""
    import numpy as np

    result: Floats = np.empty((len(x), len(linear.bias)), np.float32)
    by_block = result.reshape(len(x), len(linear.blocks), -1).transpose(1, 0, 2)
    for start in range(0, len(x), ROWS):
        end = start + ROWS
        np.matmul(x[start:end], linear.blocks, out=by_block[:, start:end])
    result += linear.bias
    return result


def _normalise(norm: Norm, x: Floats) -> Floats:
    """Normalise the rows, in place."""
    import numpy as np

    x -= x.mean(axis=-1, keepdims=True)
    spread = np.einsum("ij,ij->i", x, x)[:, None]
    spread *= np.float32(1 / x.shape[-1])
    spread += np.float32(NORM_EPSILON)
    x /= np.sqrt(spread, out=spread)
    x *= norm.weight
    x += norm.bias
    return x


def _softmax(x: Floats) -> Floats:
    """Softmax over the last axis, in place."""
    import numpy as np

    x -= x.max(axis=-1, keepdims=True)
    np.exp(x, out=x)
    x /= x.sum(axis=-1, keepdims=True)
    return x


def erf(x: Floats) -> Floats:
    """Error function, within 1.5e-7, the rounding of float32 included."""
    import numpy as np

    square = x * x
    series = square * np.float32(ERF[-1])
    for factor in ERF[-2:0:-1]:
        series += np.float32(factor)
        series *= square
    series += np.float32(ERF[0])
    series *= x
    np.tanh(series, out=series)
    return series


def _gelu(x: Floats) -> Floats:
    """Gaussian error linear unit, in place, a few rows at a time."""
    import numpy as np

    step = max(1, CACHED // x.shape[-1])
    for start in range(0, len(x), step):
        rows = x[start : start + step]
        share = erf(rows * np.float32(0.5**0.5))
        share += 1
        share *= np.float32(0.5)
        rows *= share
    return x


def _attention(layer: Layer, x: Floats, runs: Sequence[Run]) -> Floats:
    """Self-attention within every window."""
    import numpy as np

    width = x.shape[-1]
    each = width // HEADS
    parts, mixed = _apply(layer.attend, x), np.empty_like(x)
    for first, last, length in runs:
        of_run = parts[first:last].reshape(-1, length, 3, HEADS, each)
        query, key, value = of_run.transpose(2, 0, 3, 1, 4)
        scores = query @ key.transpose(0, 1, 3, 2)
        scores *= np.float32(each**-0.5)
        heads = _softmax(scores) @ value
        mixed[first:last] = heads.transpose(0, 2, 1, 3).reshape(-1, width)
    return _apply(layer.attended, mixed)


def _encode(layer: Layer, x: Floats, runs: Sequence[Run]) -> Floats:
    x += _attention(layer, x, runs)
    _normalise(layer.attended_norm, x)
    x += _apply(layer.narrow, _gelu(_apply(layer.widen, x)))
    return _normalise(layer.narrow_norm, x)


def _runs(lengths: Sequence[int]) -> Iterator[Run]:
    first = 0
    for length, same in groupby(lengths):
        last = first + length * sum(1 for _ in same)
        yield first, last, length
        first = last


def _through(weights: Weights, numbers: NDArray[np.intp], signs: Floats) -> Floats:
    """Rows of every piece after the last layer.

    The pieces of all windows are the rows of one matrix, without the padding: most of the work is products
    with a matrix of the model, and one large product is faster than many. Only attention is by window.
    """
    import numpy as np

    real = numbers != 0
    runs = list(_runs(real.sum(axis=1).tolist()))
    x = weights.words.at(numbers[real]) + weights.positions.at(np.nonzero(real)[1])
    x = _normalise(weights.norm, x + weights.segments.at(np.zeros(1, np.intp)))
    for at, layer in enumerate(weights.layers):
        if at == PUBLISHED:
            x += weights.signs.of(signs[real])
        x = _encode(layer, x, runs)
    return x


def _spread(rows: Floats, numbers: NDArray[np.intp]) -> Floats:
    """Rows of the pieces back in their windows, with 0 at the padding."""
    import numpy as np

    result = np.zeros((*numbers.shape, rows.shape[-1]), np.float32)
    result[numbers != 0] = rows
    return result


def logits(weights: Weights, numbers: NDArray[np.intp], signs: Floats) -> Floats:
    """Scores of every label for every piece.

    Args:
        weights: of the model.
        numbers: word pieces, (windows, length), each row opened and closed, padded with 0.
        signs: what the model is told of each beside its letters, (windows, length, signs).

    Returns:
        (windows, length, labels); the rows at padding are 0.
    """
    return _spread(weights.classify.of(_through(weights, numbers, signs)), numbers)
