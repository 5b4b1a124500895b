"""The side of the body that is meant, as a diagram shows it."""

from __future__ import annotations

from dataclasses import dataclass

from mmbuilder.safe.terms import Side
from mmbuilder.safe.text import EMPTY, SafeText


@dataclass(frozen=True)
class Marked:
    """The side that is meant, and the part of the body, if it was said."""

    side: Side
    part: SafeText = EMPTY

    def meant(self, side: Side) -> bool:
        """Whether this is the side, or one of both."""
        return self.side in (side, Side.BOTH)
