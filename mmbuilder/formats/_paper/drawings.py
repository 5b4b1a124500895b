"""What a block is drawn as on paper: vectors, and what they show, told."""

from __future__ import annotations

from dataclasses import dataclass

from mmbuilder.figures import diagram, draw_svg, notes_of
from mmbuilder.figures.drawn import Size
from mmbuilder.figures.style import TEXT
from mmbuilder.safe.text import EMPTY, SafeText
from mmbuilder.storyboard.blocks import Block, Diagram, DiagramData, TimeChart

SCALE = 2 / 3
"""Of a drawing among words: its letters, made for a slide, come out at 9.3 points beside text of 10.5."""

LEAST_SCALE = 8.5 / TEXT
"""Below this nobody reads it."""

WIDE, HIGH = 27.0, 13.5
"""Room for a drawing that has a page to itself, in centimetres; a diagram is never wider."""

_ROOM = 1.7
"""Height of a diagram on paper, as a multiple of the least it needs."""


@dataclass(frozen=True)
class Drawings:
    """The drawings of one block.

    Attributes:
        alt: what they show.
        svgs: each drawing; one of many words takes several.
        wide: of each, in centimetres, as it was drawn.
        notes: what is to be said under a timeline that is drawn without its notes.
    """

    alt: SafeText = EMPTY
    svgs: tuple[bytes, ...] = ()
    wide: float = 0.0
    notes: SafeText = EMPTY


def drawings(block: Block, wide: float = WIDE, high: float = HIGH, *, noted: bool = False) -> Drawings:
    """Draw a block in so much room, in centimetres; a block of words has no drawing.

    The notes of a timeline stand on it if it is `noted`, and no more of them than find room there.
    """
    match block:
        case TimeChart(chart=chart, alt=alt) if not noted:
            svg = draw_svg(chart, wide, high, noted=False)
            return Drawings(alt, (svg,), wide, notes_of(chart, wide, high))
        case TimeChart(chart=chart, alt=alt):
            return Drawings(alt, (draw_svg(chart, wide, high),), wide)
        case Diagram(data=data):
            size = diagram_size(data, wide, high)
            return Drawings(diagram.draft(data).alt, diagram.draw_svg(data, size), size.width)
        case _:
            return Drawings()


def diagram_size(data: DiagramData, wide: float = WIDE, high: float = HIGH) -> Size:
    """What a diagram takes of so much room."""
    return Size(min(wide, WIDE), min(high, diagram.draft(data).least.height * _ROOM))
