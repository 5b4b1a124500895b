"""The finder that reads nothing: what runs where no other is installed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mmbuilder.scrub.plan import PixelBox

if TYPE_CHECKING:
    from PIL.Image import Image

NAME = "no text reader"
LOOKS_FOR: tuple[str, ...] = ()
EXTRA = ""
NEEDS: tuple[str, ...] = ()


def find(image: Image) -> tuple[PixelBox, ...]:
    """Find nothing, in any picture."""
    return ()
