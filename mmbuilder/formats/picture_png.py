"""A paper as one PNG picture, to put into a document of somebody else's."""

from __future__ import annotations

from mmbuilder.formats._paper import page
from mmbuilder.storyboard.blocks import Sheet, Storyboard

FORMAT = "png"
"""What a use calls it."""

SUFFIX = ".png"

_SHEET = Sheet()


def write(board: Storyboard, sheet: Sheet = _SHEET) -> bytes:
    """Write the picture; arguments as for `handout_pdf.write`, on one page as high as it needs."""
    return page.picture(page.told(board, sheet), "png")
