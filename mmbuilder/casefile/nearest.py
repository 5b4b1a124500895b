"""The nearest known word to a misspelt one. The library behind it is loaded only once something is wrong."""

from __future__ import annotations

from collections.abc import Iterable

_ENOUGH = 70.0
"""Least likeness (0 to 100) for a word to be offered; common practice, no source."""


def nearest(word: str, known: Iterable[str]) -> str | None:
    """Return the known word most like `word`, or None where none is like it."""
    from rapidfuzz import fuzz, process, utils

    match = process.extractOne(
        word[:100], list(known), scorer=fuzz.ratio, processor=utils.default_process, score_cutoff=_ENOUGH
    )
    return match[0] if match else None
