"""How the part that a factor played is drawn: by shape, line and ink, the root strongest."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from mmbuilder.figures.fold import write
from mmbuilder.figures.sheet import Dash, Dots, Item, Shape
from mmbuilder.figures.style import LINE, Ink, width
from mmbuilder.safe.terms import FactorRole, term
from mmbuilder.safe.text import SafeText

_MARK = 16.0
_BETWEEN = 20.0


@dataclass(frozen=True)
class Look:
    """Mark, twig and text of a role."""

    shape: Shape
    size: float
    hollow: bool = False
    ink: Ink = Ink.BLACK
    bold: bool = False
    line: float = 1.2
    dash: Dash = Dash.SOLID


_LOOKS = {
    FactorRole.ROOT: Look(Shape.SQUARE, 12, bold=True, line=3.0),
    FactorRole.CONTRIBUTORY: Look(Shape.DOT, 8),
    FactorRole.INCIDENTAL: Look(Shape.RING, 8, hollow=True, ink=Ink.GREY, dash=Dash.DASHED),
    FactorRole.EXCLUDED: Look(Shape.CROSS, 8, ink=Ink.GREY, dash=Dash.DOTTED),
}

PLAIN = Look(Shape.DOT, 0, line=1.2)
"""Of what has no role of its own: a range of numbers, an empty row."""


def look(role: FactorRole | None) -> Look:
    """Return how a role is drawn."""
    return PLAIN if role is None else _LOOKS[role]


def mark(role: FactorRole, x: float, y: float) -> Dots:
    """Return the mark of a role."""
    drawn = look(role)
    return Dots(((x, y),), drawn.shape, drawn.size, drawn.ink, drawn.hollow)


@dataclass(frozen=True)
class Key:
    """The line under a figure that says what its marks mean, and what else is to be said there."""

    lines: tuple[tuple[FactorRole | SafeText, ...], ...]

    @property
    def height(self) -> float:
        """Height with the air above it."""
        return len(self.lines) * LINE + 6 if self.lines else 0.0

    def items(self, left: float, bottom: float) -> Iterator[Item]:
        """Set the lines, the last on `bottom`."""
        for place, line in enumerate(self.lines):
            x, top = left, bottom - (len(self.lines) - place) * LINE
            for part in line:
                if isinstance(part, FactorRole):
                    yield mark(part, x + 6, top + LINE / 2)
                yield from write((_text(part),), x + _lead(part), top, ink=Ink.GREY)
                x += _wide(part)


def key(roles: tuple[FactorRole, ...], note: SafeText, limit: float) -> Key:
    """Break the key into lines no wider than `limit`."""
    lines: list[list[FactorRole | SafeText]] = [[]]
    parts: list[FactorRole | SafeText] = [*roles, note] if note else [*roles]
    for part in parts:
        if lines[-1] and sum(map(_wide, lines[-1])) + _wide(part) - _BETWEEN > limit:
            lines.append([])
        lines[-1].append(part)
    return Key(tuple(tuple(line) for line in lines if line))


def _text(part: FactorRole | SafeText) -> SafeText:
    return term(part) if isinstance(part, FactorRole) else part


def _lead(part: FactorRole | SafeText) -> float:
    return _MARK if isinstance(part, FactorRole) else 0.0


def _wide(part: FactorRole | SafeText) -> float:
    return _lead(part) + width(_text(part)) + _BETWEEN
