"""The same paper as a PDF: tagged, fonts embedded, equal bytes for equal content."""

from __future__ import annotations

import re
from dataclasses import dataclass

from mmbuilder.formats._paper import page
from mmbuilder.storyboard.blocks import Sheet, Storyboard

FORMAT = "pdf"
"""What a use calls it."""

SUFFIX = ".pdf"

_SHEET = Sheet()


@dataclass(frozen=True)
class Fitted:
    """A PDF, and how it came out.

    Attributes:
        pdf: the file.
        pages: how many it has.
        points: what its text is set in.
        asked: how many pages it may have; no limit if None.
    """

    pdf: bytes
    pages: int
    points: float
    asked: int | None

    @property
    def fits(self) -> bool:
        """Whether it keeps to its pages; if not, something on it has to be shortened."""
        return self.asked is None or self.pages <= self.asked


def write(board: Storyboard, sheet: Sheet = _SHEET) -> bytes:
    """Write the PDF; arguments and errors as for `fit`."""
    return fit(board, sheet).pdf


def fit(board: Storyboard, sheet: Sheet = _SHEET) -> Fitted:
    """Write the PDF, smaller until it fits, and say how it came out.

    Args:
        board: a storyboard made for paper (`storyboard.compose_papers`).
        sheet: what it is printed on; if it does not fit even at the smallest size that can be
            read, it has more pages, and nothing is left out.

    Raises:
        LetterNotDrawn: a letter is in none of our fonts.
    """
    told = page.told(board, sheet)
    for points in page.SIZES:
        written = page.pdf({**told, "size": points})
        fitted = Fitted(written, pages_of(written), points, sheet.pages)
        if fitted.fits:
            break
    return fitted


def pages_of(pdf: bytes) -> int:
    """How many pages a PDF written here has."""
    return len(re.findall(rb"/Type\s*/Page\b", pdf))
