"""The forward pass of the name model in plain NumPy.

Source: BERT encoder (Devlin and others 2019, arXiv:1810.04805) on the attention of Vaswani and others
2017 (arXiv:1706.03762, section 3.2); sizes from the model's own configuration.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from mmbuilder.scrub.names.weights import HEADS, Layer, Linear, Norm, Weights

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mmbuilder.scrub.names.weights import Floats

NORM_EPSILON = 1e-12
MASKED = -1e9
CACHED = 65_536  # numbers worked on at once


def _apply(linear: Linear, x: Floats) -> Floats:
    """The rows of every window as one matrix: a single large product is faster than one a window."""
    result: Floats = x.reshape(-1, x.shape[-1]) @ linear.matrix
    result += linear.bias
    return result.reshape(*x.shape[:-1], -1)


def _normalise(norm: Norm, x: Floats) -> Floats:
    centred = x - x.mean(axis=-1, keepdims=True)
    spread = (centred * centred).mean(axis=-1, keepdims=True)
    result: Floats = centred / (spread + NORM_EPSILON) ** 0.5 * norm.weight + norm.bias
    return result


def _softmax(x: Floats) -> Floats:
    import numpy as np

    x = np.exp(x - x.max(axis=-1, keepdims=True))
    x /= x.sum(axis=-1, keepdims=True)
    return x


def erf(x: Floats) -> Floats:
    """Error function, within 1.5e-7 (and the rounding of float32).

    Source: Abramowitz and Stegun, Handbook of Mathematical Functions (1964), 7.1.26.
    """
    import numpy as np

    size = np.abs(x)
    t = 1 / (1 + np.float32(0.3275911) * size)
    series = np.full_like(t, 1.061405429)
    for factor in (-1.453152027, 1.421413741, -0.284496736, 0.254829592):
        series *= t
        series += np.float32(factor)
    series *= t
    series *= np.exp(-size * size)
    result: Floats = np.copysign(1 - series, x)
    return result


def _gelu(x: Floats) -> Floats:
    """Gaussian error linear unit, in place, a few rows at a time: what fits the processor's cache."""
    import numpy as np

    for rows in np.array_split(x.reshape(-1, x.shape[-1]), max(1, x.size // CACHED)):
        half = erf(rows * np.float32(0.5**0.5))
        half += 1
        half *= np.float32(0.5)
        rows *= half
    return x


def _attention(layer: Layer, x: Floats, mask: Floats) -> Floats:
    """Self-attention of every window: (windows, length, width) -> the same shape."""
    windows, length, width = x.shape
    each = width // HEADS
    parts = _apply(layer.attend, x).reshape(windows, length, 3, HEADS, each)
    query, key, value = parts.transpose(2, 0, 3, 1, 4)
    scores: Floats = query @ key.transpose(0, 1, 3, 2)
    scores *= each**-0.5
    mixed = _softmax(scores + mask) @ value
    return _apply(layer.attended, mixed.transpose(0, 2, 1, 3).reshape(windows, length, width))


def _encode(layer: Layer, x: Floats, mask: Floats) -> Floats:
    x = _normalise(layer.attended_norm, x + _attention(layer, x, mask))
    return _normalise(layer.narrow_norm, x + _apply(layer.narrow, _gelu(_apply(layer.widen, x))))


def logits(weights: Weights, numbers: NDArray[np.intp]) -> Floats:
    """Scores of every label for every piece.

    Args:
        weights: of the model.
        numbers: word pieces, (windows, length), each row opened and closed, padded with 0.

    Returns:
        (windows, length, 35); the rows at padding mean nothing.
    """
    import numpy as np

    mask = np.where(numbers == 0, np.float32(MASKED), np.float32(0))[:, None, None, :]
    places = np.arange(numbers.shape[1])
    x = weights.words.at(numbers) + weights.positions.at(places) + weights.segments.at(np.zeros_like(places))
    x = _normalise(weights.norm, x)
    for layer in weights.layers:
        x = _encode(layer, x, mask)
    return _apply(weights.classify, x)


def chances(weights: Weights, numbers: NDArray[np.intp]) -> Floats:
    """Probability of every label for every piece, in the shape of `logits`."""
    return _softmax(logits(weights, numbers))
