"""What a line of the note holds beside the words that are put into a part of the case."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True)
class Parted:
    """A line taken apart: proposed, for the author to check.

    Attributes:
        what: the words that are left.
        fields: what came out of them, by the key that it belongs to.
        why: by the key, why one that was told is left empty.
        sure: whether the line says it without a doubt.
    """

    what: str
    fields: Mapping[str, str] = field(default_factory=dict)
    why: Mapping[str, str] = field(default_factory=dict)
    sure: bool = True
