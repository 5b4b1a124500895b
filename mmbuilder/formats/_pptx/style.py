"""Sizes, colours and faces: what the house looks like, and how it stands in somebody else's template."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, auto

from mmbuilder.formats._pptx.measure import LINE
from mmbuilder.formats._pptx.xml import Element, el


@dataclass(frozen=True)
class Sizes:
    """Points for text, for table text, and for the one sentence of a callout."""

    body: float
    table: float
    callout: float


STEPS = (Sizes(24, 22, 36), Sizes(24, 20, 36), Sizes(22, 20, 32), Sizes(20, 18, 28))
"""Largest first. Body never goes below 20 pt. Table text may go to 18: at that size five columns
hold about four words a line, and at 20 about three, where a row becomes a strip nobody reads across.
Below 18 the room's back row is lost."""

ROOMY = (Sizes(32, 28, 44), Sizes(28, 24, 40))
"""For a few words that have a sheet to themselves, largest first."""

HEADLINE = (28, 26, 24)
OPENING = (44, 40, 36, 32, 28)
"""The headline of the first slide."""

SMALL = 12
"""Footer, and the floor for anything that is not part of the telling."""

CUE = 20
LABEL = 20
STAMP = 14


@dataclass(frozen=True)
class Face:
    """How much wider and taller a template's face is than the one we measure with."""

    stretch: float = 1.0
    pitch: float = LINE


HOUSE_FACE = Face()


class Role(Enum):
    """What a text is, for its colour."""

    INK = auto()
    QUIET = auto()
    ACCENT = auto()
    STAMP = auto()
    ON_HALO = auto()


@dataclass(frozen=True)
class Colour:
    """A theme colour (`tx1`) or, where a template's theme cannot be trusted with it, six hex digits."""

    name: str

    def fill(self) -> Element:
        """Return it as a solid fill."""
        return el("a:solidFill", self.element())

    def element(self) -> Element:
        """Return the bare colour."""
        # Hex digits are six, and no theme slot is a six-digit number.
        rgb = len(self.name) == 6 and all(char in "0123456789ABCDEF" for char in self.name)
        return el("a:srgbClr" if rgb else "a:schemeClr", val=self.name)


@dataclass(frozen=True)
class Palette:
    """Colours on one ground."""

    ink: Colour
    quiet: Colour
    accent: Colour
    stamp: Colour
    line: Colour
    mark: Colour = Colour("FFD84D")
    """On pictures; always on the halo, so it is seen on any ground."""
    halo: Colour = Colour("17212B")
    on_halo: Colour = Colour("FFFFFF")

    def text(self, role: Role) -> Colour:
        """Return the colour of a text."""
        colours = {
            Role.INK: self.ink,
            Role.QUIET: self.quiet,
            Role.ACCENT: self.accent,
            Role.STAMP: self.stamp,
            Role.ON_HALO: self.on_halo,
        }
        return colours[role]


HOUSE_MARKS = (Colour("accent3"), Colour("tx1"), Colour("bg1"))

LIGHT = Palette(
    Colour("tx1"), Colour("accent4"), Colour("accent1"), Colour("accent2"), Colour("accent5"), *HOUSE_MARKS
)
DEEP = Palette(
    Colour("bg1"), Colour("accent5"), Colour("accent6"), Colour("bg1"), Colour("accent4"), *HOUSE_MARKS
)
