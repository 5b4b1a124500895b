"""What the small figures give back: pictures, words for who cannot see them, the data as rows."""

from __future__ import annotations

import functools
from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path

from mmbuilder import cache
from mmbuilder.figures import POINTS, Drawing
from mmbuilder.figures.sheet import Sheet
from mmbuilder.safe.text import SafeText

Rows = tuple[tuple[SafeText, ...], ...]
"""A table, its head first."""


@dataclass(frozen=True)
class Size:
    """Room on the slide; centimetres."""

    width: float
    height: float

    @property
    def points(self) -> tuple[float, float]:
        """The same in points."""
        return self.width * POINTS, self.height * POINTS


@dataclass(frozen=True)
class Drawn:
    """A figure, ready for any format.

    Attributes:
        pictures: one, or more if the words needed further sheets; all of one size.
        alt: what a picture shows, told.
        rows: the data behind it, for a table or a program that reads slides aloud.
    """

    pictures: tuple[Drawing, ...]
    alt: SafeText
    rows: Rows


def room(size: Size, least: Size) -> tuple[float, float]:
    """Return the size in points.

    Raises:
        ValueError: it is smaller than the least at which text of 14 points has room.
    """
    if size.width < least.width or size.height < least.height:
        raise ValueError(
            f"a figure this small holds no readable words: found {size.width:g} by {size.height:g} cm, "
            f"expected at least {least.width:g} by {least.height:g} cm, for example 31 by 12.5 cm"
        )
    return size.points


def painted(sheets: tuple[Sheet, ...]) -> tuple[Drawing, ...]:
    """Paint sheets as SVG and PNG; the same sheet gives the same bytes, and is painted once."""
    return tuple(_painted(sheet) for sheet in sheets)


def vectors(sheets: tuple[Sheet, ...]) -> tuple[bytes, ...]:
    """Paint sheets as SVG only, the same bytes as those of `painted`."""
    return tuple(_vector(sheet) for sheet in sheets)


def _vector(sheet: Sheet) -> bytes:
    def made() -> bytes:
        from mmbuilder.figures import paint

        return paint.svg(sheet)

    return cache.kept(cache.key("svg", _edition(), repr(sheet)), made)


def _painted(sheet: Sheet) -> Drawing:
    def made() -> bytes:
        from mmbuilder.figures import paint

        return paint.png(sheet)

    return Drawing(_vector(sheet), cache.kept(cache.key("png", _edition(), repr(sheet)), made))


@functools.cache
def _edition() -> str:
    """Hash of what paints: a sheet says everything else itself."""
    here = Path(__file__).parent
    return cache.key(
        version("matplotlib"), *((here / name).read_bytes() for name in ("paint.py", "style.py", "sheet.py"))
    )
