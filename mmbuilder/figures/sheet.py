"""A drawing as a list of shapes and words, in points from the top left corner, in painting order."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import NamedTuple

from mmbuilder.figures.style import TEXT, Ink, width
from mmbuilder.safe.text import SafeText

Point = tuple[float, float]


class Box(NamedTuple):
    """A rectangle in points; `top` is less than `bottom`."""

    left: float
    top: float
    right: float
    bottom: float

    def overlaps(self, other: Box) -> bool:
        """Whether they share area."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )

    def inside(self, other: Box) -> bool:
        """Whether this one lies within the other."""
        return (
            self.left >= other.left - 0.01
            and self.right <= other.right + 0.01
            and self.top >= other.top - 0.01
            and self.bottom <= other.bottom + 0.01
        )


class Shape(StrEnum):
    """Marks told apart by shape before colour."""

    DOT = "dot"
    RING = "ring"
    SQUARE = "square"
    DIAMOND = "diamond"
    UP = "up"
    DOWN = "down"
    RIGHT = "right"
    CROSS = "cross"


class Dash(StrEnum):
    """Lines told apart without colour."""

    SOLID = "solid"
    DASHED = "dashed"
    DOTTED = "dotted"


# How each looks, for whatever pen paints it

DASHES: dict[Dash, tuple[float, ...]] = {Dash.SOLID: (), Dash.DASHED: (5.0, 2.5), Dash.DOTTED: (1.5, 2.0)}
"""Stroke and gap, in widths of the line."""
CORNERS: dict[Shape, tuple[Point, ...]] = {
    Shape.SQUARE: ((-0.45, -0.45), (0.45, -0.45), (0.45, 0.45), (-0.45, 0.45)),
    Shape.DIAMOND: ((0, -0.65), (0.65, 0), (0, 0.65), (-0.65, 0)),
    Shape.UP: ((-0.55, -0.45), (0.55, -0.45), (0, 0.55)),
    Shape.DOWN: ((-0.55, 0.45), (0.55, 0.45), (0, -0.55)),
    Shape.RIGHT: ((-0.45, -0.55), (0.55, 0), (-0.45, 0.55)),
}
"""Of a mark one unit across, about its middle; y grows upwards."""
PARTED_MOST = 600
"""Points of a line up to which each has a white edge."""


@dataclass(frozen=True)
class Words:
    """One line of text; (x, y) is the left end of its baseline."""

    x: float
    y: float
    text: SafeText
    size: float = TEXT
    bold: bool = False
    ink: Ink = Ink.BLACK
    plate: Ink | None = None
    """Colour of its ground where lines behind it are broken, so that it stays legible."""

    @property
    def box(self) -> Box:
        """What it covers, from the top of its capitals to below its descenders."""
        right = self.x + width(self.text, self.size, bold=self.bold)
        return Box(self.x, self.y - 0.75 * self.size, right, self.y + 0.25 * self.size)


@dataclass(frozen=True)
class Stroke:
    """Lines of one look."""

    lines: tuple[tuple[Point, ...], ...]
    ink: Ink = Ink.BLACK
    width: float = 1.0
    dash: Dash = Dash.SOLID


@dataclass(frozen=True)
class Fill:
    """A filled polygon, with or without an edge."""

    points: tuple[Point, ...]
    ink: Ink
    edge: Ink | None = None
    width: float = 1.0


@dataclass(frozen=True)
class Dots:
    """Marks of one look; `size` across, in points."""

    points: tuple[Point, ...]
    shape: Shape
    size: float
    ink: Ink = Ink.BLACK
    hollow: bool = False


Item = Words | Stroke | Fill | Dots


@dataclass(frozen=True)
class Sheet:
    """A finished drawing."""

    width: float
    height: float
    items: tuple[Item, ...]

    @property
    def words(self) -> tuple[Words, ...]:
        """All text on it."""
        return tuple(item for item in self.items if isinstance(item, Words))

    def grown(self, by: float) -> Sheet:
        """Return it so many times as large, letters and strokes and all."""
        return Sheet(self.width * by, self.height * by, tuple(_larger(item, by) for item in self.items))


def _larger(item: Item, by: float) -> Item:
    def moved(points: tuple[Point, ...]) -> tuple[Point, ...]:
        return tuple((x * by, y * by) for x, y in points)

    match item:
        case Words(x=x, y=y, size=size):
            return replace(item, x=x * by, y=y * by, size=size * by)
        case Stroke(lines=lines, width=wide):
            return replace(item, lines=tuple(map(moved, lines)), width=wide * by)
        case Fill(points=points, width=wide):
            return replace(item, points=moved(points), width=wide * by)
        case Dots(points=points, size=size):
            return replace(item, points=moved(points), size=size * by)


def rectangle(box: Box, ink: Ink, edge: Ink | None = None, width: float = 1.0) -> Fill:
    """Return a filled rectangle."""
    left, top, right, bottom = box
    return Fill(((left, top), (right, top), (right, bottom), (left, bottom)), ink, edge, width)


def stroke(*points: Point, ink: Ink = Ink.BLACK, width: float = 1.0, dash: Dash = Dash.SOLID) -> Stroke:
    """Return one line through the points."""
    return Stroke((points,), ink, width, dash)


def plates(items: Iterable[Words]) -> list[Fill]:
    """Return white plates behind the words that ask for one."""
    return [rectangle(_grown(item.box), item.plate) for item in items if item.plate]


def _grown(box: Box) -> Box:
    # Up to the plate of the line above, so that no crumb of a line behind shows between two of them.
    return Box(box.left - 2, box.top - 0.5, box.right + 2, box.bottom + 0.5)
