"""A line of text that may lie at an angle, and the upright rectangles that cover it."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, cos, radians, sin

PAD_LEAST, PAD_SHARE = 4.0, 0.2
END_SHARE = 0.5
"""Added at both ends of a line, as a share of its height: detection fades at first and last letters."""
UPRIGHT = 4.0
"""Degrees a line may lean and still be covered by one rectangle."""

Rectangle = tuple[float, float, float, float]
"""left, top, right, bottom."""


@dataclass(frozen=True)
class Line:
    """A turned rectangle in pixels.

    Attributes:
        x, y: its middle.
        length, height: along and across the writing; length is the longer.
        angle: degrees, clockwise as seen, in (-90, 90].
        score: 0 to 1, how much it looks like text.
    """

    x: float
    y: float
    length: float
    height: float
    angle: float
    score: float

    @property
    def upright(self) -> bool:
        """Whether it runs along a row or a column of the picture."""
        lean = abs(self.angle) % 90
        return min(lean, 90 - lean) <= UPRIGHT

    @property
    def hull(self) -> Rectangle:
        """The upright rectangle that holds it."""
        left, top, right, bottom = zip(*self.rectangles(), strict=True)
        return min(left), min(top), max(right), max(bottom)

    def moved(self, across: float, down: float) -> Line:
        """The same line of a part of the picture, in the whole."""
        return Line(self.x + across, self.y + down, self.length, self.height, self.angle, self.score)

    def larger(self, by: float) -> Line:
        """The same line of a picture so many times as large."""
        return Line(self.x * by, self.y * by, self.length * by, self.height * by, self.angle, self.score)

    def continues(self, other: Line, gap: float) -> bool:
        """Whether this stands on another's line, as high as it, at most `gap` heights past its end."""
        if self is other or not 0.5 < self.height / other.height < 2:
            return False
        lean = radians(other.angle)
        x, y = self.x - other.x, self.y - other.y
        along, across = x * cos(lean) + y * sin(lean), y * cos(lean) - x * sin(lean)
        reach = (self.length + other.length) / 2 + gap * other.height
        return abs(across) < 0.5 * other.height and abs(along) < reach

    def same(self, other: Line) -> bool:
        """Whether this is another line, seen again: as high and as long, in its place and as it lies."""
        near = 0.3 * other.height
        return (
            0.75 < self.height / other.height < 1.33
            and abs(self.length - other.length) < other.height
            and abs(self.angle - other.angle) < UPRIGHT
            and abs(self.x - other.x) < near
            and abs(self.y - other.y) < near
        )

    def padded(self) -> Line:
        """Widened all round, and more at the ends."""
        pad = max(PAD_LEAST, PAD_SHARE * self.height)
        length = self.length + 2 * (pad + END_SHARE * self.height)
        return Line(self.x, self.y, length, self.height + 2 * pad, self.angle, self.score)

    def rectangles(self) -> tuple[Rectangle, ...]:
        """One rectangle, or for a leaning line a stair of short ones: one would cover half the picture."""
        pieces = 1 if self.upright else max(1, ceil(self.length / self.height))
        step = self.length / pieces
        along = [step * (index + 0.5) - self.length / 2 for index in range(pieces)]
        return tuple(self._around(offset, step) for offset in along)

    def _around(self, offset: float, length: float) -> Rectangle:
        lean = radians(self.angle)
        x, y = self.x + offset * cos(lean), self.y + offset * sin(lean)
        wide = (length * abs(cos(lean)) + self.height * abs(sin(lean))) / 2
        high = (length * abs(sin(lean)) + self.height * abs(cos(lean))) / 2
        return x - wide, y - high, x + wide, y + high
