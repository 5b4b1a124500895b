"""Places on a slide, in points (1/72 inch). A 16:9 slide is 960 x 540."""

from __future__ import annotations

from dataclasses import dataclass

EMU = 12700
"""English Metric Units in a point (ECMA-376 part 1, 20.1.10.16: 914,400 to the inch)."""

CM = 72 / 2.54
"""Points in a centimetre."""


def emu(points: float) -> int:
    """Points to the integer unit of the file."""
    return round(points * EMU)


@dataclass(frozen=True)
class Box:
    """A rectangle: left, top, width, height."""

    x: float
    y: float
    w: float
    h: float

    @property
    def right(self) -> float:
        """Right edge."""
        return self.x + self.w

    @property
    def bottom(self) -> float:
        """Lower edge."""
        return self.y + self.h

    def meets(self, other: Box, gap: float = 0) -> bool:
        """Whether the two share any ground, or stand closer than `gap`."""
        return (
            self.x < other.right + gap
            and other.x < self.right + gap
            and self.y < other.bottom + gap
            and other.y < self.bottom + gap
        )

    def holds(self, other: Box) -> bool:
        """Whether the other lies inside."""
        return (
            self.x - 1e-6 <= other.x
            and self.y - 1e-6 <= other.y
            and other.right <= self.right + 1e-6
            and other.bottom <= self.bottom + 1e-6
        )

    def contain(self, width: float, height: float) -> Box:
        """Return the largest box of this shape that fits, centred."""
        scale = min(self.w / width, self.h / height)
        w, h = width * scale, height * scale
        return Box(self.x + (self.w - w) / 2, self.y + (self.h - h) / 2, w, h)
