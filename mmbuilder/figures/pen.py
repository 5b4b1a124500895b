"""What is drawn, in the order in which it is painted."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from mmbuilder.analysis.timeline import Timeline
from mmbuilder.figures.bands import Band
from mmbuilder.figures.entries import Entry, entries
from mmbuilder.figures.plan import Plan
from mmbuilder.figures.sheet import Item, Point, Sheet, Words, plates, rectangle
from mmbuilder.figures.style import TEXT, Ink, fit
from mmbuilder.figures.tints import Tint, patches
from mmbuilder.safe.text import SafeText


@dataclass
class Pen:
    """A drawing under way: ground, lines, words, marks."""

    plan: Plan
    shown: Timeline
    until: float
    """Minutes; infinity if nothing is held back."""
    ground: list[Item] = field(default_factory=list)
    lines: list[Item] = field(default_factory=list)
    words: list[Words] = field(default_factory=list)
    marks: list[Item] = field(default_factory=list)
    tints: list[Tint] = field(default_factory=list)
    """Stretches under everything else; a later one covers an earlier one."""

    def __post_init__(self) -> None:
        self.entries: tuple[Entry, ...] = entries(self.shown)

    def band(self, name: str) -> Band:
        """Return a band; one without height if the plan has none of this name."""
        return self.plan.bands.get(name, Band(0.0, 0.0))

    def write(
        self,
        x: float,
        baseline: float,
        text: SafeText,
        *,
        plate: Ink | None = Ink.WHITE,
        ink: Ink = Ink.BLACK,
    ) -> None:
        """Write a line of ordinary text."""
        self.words.append(Words(x, baseline, text, TEXT, False, ink, plate))

    def name(self, text: SafeText, baseline: float) -> None:
        """Write the name of a lane at the left."""
        self.write(0, baseline, fit(text, self.plan.axis.left - 4), plate=None)

    def free(self, candidates: Iterable[Words]) -> bool:
        """Write the first candidate that touches no other text; whether there was one."""
        for words in candidates:
            if not any(words.box.overlaps(other.box) for other in self.words):
                self.words.append(words)
                return True
        return False

    def pieces(self, start: float, end: float) -> list[tuple[float, float]]:
        """Return the parts of a stretch on the axis that the cut may show."""
        end = min(end, self.until)
        return self.plan.axis.pieces(start, end) if end >= start else []

    def rules(self, y: float) -> tuple[tuple[Point, Point], ...]:
        """Return a line along every panel."""
        return tuple(((scale.left, y), (scale.right, y)) for scale in self.plan.axis.scales)

    def sheet(self) -> Sheet:
        """Return everything in painting order."""
        back = [*(rectangle(*tint) for tint in self.tints), *self.ground, *self.lines]
        white = plates(self.words)
        front = [*white, *patches(white, self.tints, self.ground), *self.marks, *self.words]
        return Sheet(self.plan.width, self.plan.height, (*back, *front))
