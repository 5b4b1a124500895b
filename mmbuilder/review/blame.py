"""Words that blame somebody. Found and offered a neutral wording; never changed, and never if quoted.

The list is section (c) 8 of the project's notes on practice: what chairs of reviews object to.
"""

from __future__ import annotations

from mmbuilder.review import lint
from mmbuilder.review.lint import Flag

__all__ = ["Flag", "find"]


def find(text: str) -> tuple[Flag, ...]:
    """Return every word of blame in `text`, with why, and how it may be put instead."""
    return lint.find("blame", text)
