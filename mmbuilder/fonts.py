"""The two faces every slide and figure is set and measured in.

Carlito (SIL Open Font Licence 1.1) has the advance widths of Calibri, so text measured
here fits as measured in ordinary slide software too.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

from PIL import ImageFont

from mmbuilder.resources import templates

FAMILY = "Calibri"
"""What slides and SVG ask for."""

FALLBACK = "Carlito"
"""The metric-equal face that ships with the tool."""


def path(*, bold: bool = False) -> Path:
    """The font file."""
    return templates() / "fonts" / ("Carlito-Bold.ttf" if bold else "Carlito-Regular.ttf")


@cache
def _face(bold: bool) -> ImageFont.FreeTypeFont:
    # One large size, scaled: advance widths are linear without hinting.
    return ImageFont.truetype(path(bold=bold), 1000, layout_engine=ImageFont.Layout.BASIC)


@cache
def width(text: str, points: float, *, bold: bool = False) -> float:
    """Advance width of one line of text, in points."""
    return _face(bold).getlength(text) * points / 1000
