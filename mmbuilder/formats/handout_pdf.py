"""The same paper as a PDF: tagged, fonts embedded, equal bytes for equal content."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from mmbuilder.formats._paper import page
from mmbuilder.safe.text import SafeText, fill
from mmbuilder.storyboard.blocks import Sheet, Storyboard
from mmbuilder.storyboard.shortened import CUTS, Cut, shortened

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
        cut: how it was cut short to keep to them; None where it is whole.
    """

    pdf: bytes
    pages: int
    points: float
    asked: int | None
    cut: Cut | None = None

    @property
    def fits(self) -> bool:
        """Whether it keeps to its pages; if not, something on it has to be shortened."""
        return self.asked is None or self.pages <= self.asked

    @property
    def told(self) -> tuple[SafeText, ...]:
        """What its author has to know of how it came out."""
        if self.cut is not None:
            return (self.cut.told,)
        if self.asked is None or self.fits:
            return ()
        return (
            fill(
                "It takes {pages} pages, not {asked}: too much for cutting short; leave something out.",
                pages=self.pages,
                asked=self.asked,
            ),
        )


def write(board: Storyboard, sheet: Sheet = _SHEET) -> bytes:
    """Write the PDF; arguments and errors as for `fit`."""
    return fit(board, sheet).pdf


def fit(board: Storyboard, sheet: Sheet = _SHEET) -> Fitted:
    """Write the PDF, smaller until it fits, then cut short until it does, and say how it came out.

    Args:
        board: a storyboard made for paper (`storyboard.compose_papers`).
        sheet: what it is printed on; if it does not fit even when it is cut short, it has more
            pages, and nothing is left out.

    Raises:
        LetterNotDrawn: a letter is in none of our fonts.
    """
    told = page.told(board, sheet)
    whole = _largest(lambda points: _set(told, points, sheet))
    if whole.fits:
        return whole
    for cut in CUTS:
        short = replace(_set(page.told(shortened(board, cut), sheet), page.SIZES[-1], sheet), cut=cut)
        if short.fits:
            return short
    return whole


def _largest(at: Callable[[float], Fitted]) -> Fitted:
    """Set as large as fits, found by halving, for a try takes a while; as small as may be if nothing fits."""
    first, *between, last = page.SIZES
    if (largest := at(first)).fits:
        return largest
    best = at(last)
    while best.fits and between:
        middle = len(between) // 2
        tried = at(between[middle])
        best, between = (tried, between[:middle]) if tried.fits else (best, between[middle + 1 :])
    return best


def _set(told: dict[str, Any], points: float, sheet: Sheet) -> Fitted:
    written = page.pdf({**told, "size": points})
    return Fitted(written, pages_of(written), points, sheet.pages)


def pages_of(pdf: bytes) -> int:
    """How many pages a PDF written here has."""
    return len(re.findall(rb"/Type\s*/Page\b", pdf))
