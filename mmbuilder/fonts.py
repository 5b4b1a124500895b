"""The faces every slide, figure and page is set and measured in.

Carlito (SIL Open Font Licence 1.1) has the advance widths of Calibri, so text measured
here fits as measured in ordinary slide software too. What it has no letters for (Arabic,
Hebrew, Georgian, Armenian ...) is set in DejaVu Sans, which comes with matplotlib. A letter
that neither has is a fault of the case (`casefile/rules/letters_drawn.py`), never a box.
"""

from __future__ import annotations

import re
import unicodedata
from functools import cache
from importlib.util import find_spec
from pathlib import Path
from typing import TYPE_CHECKING, Any

from mmbuilder.resources import templates

if TYPE_CHECKING:
    import typst
    from PIL import ImageFont

FAMILY = "Calibri"
"""What slides and SVG ask for."""

FALLBACK = "Carlito"
"""The metric-equal face that ships with the tool."""

WIDE = "DejaVu Sans"
"""The face for letters that the first has not."""

PAGE = (FALLBACK, WIDE)
"""What a page is set in, in this order."""

_COMMON = re.compile(
    "[ -~\u00a0-\u017e\u2012-\u2015\u2018-\u201e\u2020-\u2022\u2026\u2030\u2033"
    "\u20ac\u2212\u2260\u2264\u2265]*"
)
"""Letters that Carlito has for certain (a test asks the font); the rest is looked up, which costs time."""


_UNDRAWN = {0x2068: None, 0x2069: None}
"""Marks that keep a text apart within another (`safe.direction`): they have no width."""


def path(text: str = "", *, bold: bool = False) -> Path:
    """The font file that has the letters of a text."""
    return _file(FALLBACK if _COMMON.fullmatch(text) or _letters(text) <= _has(FALLBACK) else WIDE, bold)


@cache  # a path takes longer to put together than a word to measure
def _file(family: str, bold: bool) -> Path:
    weight = "-Bold" if bold else ""
    if family == FALLBACK:
        return templates() / "fonts" / f"Carlito{weight or '-Regular'}.ttf"
    return _matplotlib() / f"DejaVuSans{weight}.ttf"


def folders() -> tuple[Path, ...]:
    """Where all font files lie."""
    return templates() / "fonts", _matplotlib()


def typeset(source: bytes, **asked: Any) -> bytes:
    """Set a page of typst in our faces alone: a letter that they lack is never set in what lies about.

    Args:
        source: in typst's language.
        asked: as for typst's `compile`; no file to write to.
    """
    import typst

    # One for each call, as papers are set beside one another and a compiler does one at a time; what
    # is slow to begin with, the faces, all of them share.
    made = typst.Compiler(font_paths=_faces()).compile(input=source, **asked)
    written = made[0] if isinstance(made, list) else made
    assert written is not None  # it would be, had a file been named
    return written


@cache
def _faces() -> typst.Fonts:
    import typst

    return typst.Fonts(
        include_system_fonts=False,
        include_embedded_fonts=False,
        font_paths=list(map(str, folders())),
    )


def missing(text: str) -> str:
    """Return the letters of a text that no font here has, each once, in order."""
    if _COMMON.fullmatch(text):
        return ""
    has = _has(FALLBACK) | _has(WIDE)
    return "".join(dict.fromkeys(letter for letter in text if letter in _letters(text) - has))


def script(letter: str) -> str:
    """`DEVANAGARI LETTER KA` is of the script Devanagari."""
    return unicodedata.name(letter, "unknown sign").split()[0].capitalize()


def _letters(text: str) -> frozenset[str]:
    return frozenset(letter for letter in text if letter.isprintable() and not letter.isspace())


@cache
def _has(family: str) -> frozenset[str]:
    from fontTools.ttLib import TTFont

    with TTFont(_file(family, bold=False), lazy=True) as font:
        return frozenset(map(chr, font["cmap"].getBestCmap() or ()))


@cache
def _matplotlib() -> Path:
    # Found without importing it: that takes a quarter of a second.
    found = find_spec("matplotlib")
    assert found is not None
    assert found.origin is not None
    return Path(found.origin).parent / "mpl-data/fonts/ttf"


@cache
def _face(file: Path) -> ImageFont.FreeTypeFont:
    from PIL import ImageFont  # a check measures nothing, and does not wait for it

    # One large size, scaled: advance widths are linear without hinting.
    return ImageFont.truetype(file, 1000, layout_engine=ImageFont.Layout.BASIC)


@cache
def width(text: str, points: float, *, bold: bool = False) -> float:
    """Advance width of one line of text, in points."""
    drawn = text.translate(_UNDRAWN)
    return _face(path(drawn, bold=bold)).getlength(drawn) * points / 1000
