"""A paper as one SVG picture, to put into a document of somebody else's.

A drawing alone is given as it was drawn, its words as words; anything else is set as a page,
whose letters are outlines.
"""

from __future__ import annotations

from mmbuilder.formats._paper import page
from mmbuilder.storyboard.blocks import Sheet, Storyboard

FORMAT = "svg"
"""What a use calls it."""

SUFFIX = ".svg"

_SHEET = Sheet()


def write(board: Storyboard, sheet: Sheet = _SHEET) -> bytes:
    """Write the picture; arguments as for `handout_pdf.write`, on one page as high as it needs."""
    told = page.told(board, sheet)
    blocks = [block for slide in told["slides"] for block in slide["blocks"]]
    if len(blocks) == 1 and len(blocks[0].get("pictures", ())) == 1:
        drawing: str = blocks[0]["pictures"][0]["svg"]
        return drawing.encode()
    return page.picture(told, "svg")
