"""Read a line of text, only to see whether it may stay: what cannot be read is covered."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from mmbuilder.scrub.images.finders._net import WEIGHTS, run

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

HEIGHT = 48
"""Pixels; what the network was trained on."""
WIDEST = 1600
CERTAIN, LIKELY, UNSURE = (0.9, 0.6), (0.85, 0.0), (0.0, 0.0)
"""Least mean likelihood of a line's characters, and least of any one. What is no writing, read as three letters and
more, has a mean of 0.8 at the most on the tuning sets."""


@cache
def _characters() -> tuple[str, ...]:
    """By class of the network: 0 is 'no character', the last is the space."""
    listed = (WEIGHTS / "text_rec_characters.txt").read_text(encoding="utf-8").splitlines()
    return ("", *listed, " ")


def read(strip: NDArray[np.uint8], least: tuple[float, float] = CERTAIN) -> str:
    """Return the text of an upright line, or nothing where it, or any part of it, is less likely than it has to be.

    The answer is for matching and is never kept or shown.

    Args:
        strip: pixels of the line: row, column, and blue, green, red.
        least: mean likelihood of its characters, and that of any one.
    """
    import cv2
    import numpy as np

    width = min(WIDEST, max(HEIGHT, round(strip.shape[1] * HEIGHT / strip.shape[0])))
    even = cv2.resize(strip, (width, HEIGHT), interpolation=cv2.INTER_LINEAR).astype(np.float32) / 127.5 - 1
    steps = run("text_rec.onnx", np.ascontiguousarray(even.transpose(2, 0, 1)[None]))[0][0]
    classes, likelihoods = steps.argmax(1), steps.max(1)
    changed = np.concatenate(([True], classes[1:] != classes[:-1]))
    taken = changed & (classes > 0)
    if not taken.any():
        return ""
    if likelihoods[taken].mean() < least[0] or likelihoods[taken].min() < least[1]:
        return ""
    return "".join(_characters()[number] for number in classes[taken]).strip()
