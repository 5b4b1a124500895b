"""How long a deck takes to tell, from its words, its pictures and its pauses, against its budget.

An estimate to rehearse by: the presenter's pace, the room's questions and the walk to the
front are not in it. All three rates are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import assert_never

from mmbuilder.safe.text import SafeText
from mmbuilder.storyboard.blocks import (
    Block,
    Bullets,
    Callout,
    Diagram,
    Facts,
    Paragraph,
    Picture,
    Slide,
    Storyboard,
    Table,
    TimeChart,
)

WORDS_A_MINUTE = 130
"""A calm speaking pace."""

LOOK = 10
"""Seconds for the room to take in a chart or a picture."""

SILENCE = 20
"""Seconds that a pause waits in silence; its discussion has the rest of its budget."""

NEVER_CUT = frozenset({"title", "timeline_whole", "outcome", "held", "actions", "take_away"})
"""What a short meeting drops first must not be these."""


@dataclass(frozen=True)
class Timed:
    """One slide's time.

    Attributes:
        slide: the slide.
        number: its place, from 1.
        starts: seconds on the running clock when it comes up, by the budgets before it.
        needs: seconds its words, pictures and silence take.
    """

    slide: Slide
    number: int
    starts: int
    needs: int

    @property
    def over(self) -> int:
        """Seconds above its budget; 0 if it fits."""
        return max(0, self.needs - self.slide.seconds)


@dataclass(frozen=True)
class Timing:
    """A deck's time.

    Attributes:
        slides: each slide's.
        budget: seconds that the use gives the whole.
    """

    slides: tuple[Timed, ...]
    budget: int

    @property
    def needs(self) -> int:
        """Seconds that the whole takes: a slide that is told quickly leaves its rest to the next."""
        return sum(timed.needs for timed in self.slides)

    @property
    def to_cut(self) -> tuple[Timed, ...]:
        """Slides to leave out so that the rest fits: the longest first, none that a meeting must have."""
        excess, cut = self.needs - self.budget, []
        open_to_it = [timed for timed in self.slides if timed.slide.kind not in NEVER_CUT]
        for timed in sorted(open_to_it, key=lambda one: (-one.needs, one.number)):
            if excess <= 0:
                break
            cut.append(timed)
            excess -= timed.needs
        return tuple(sorted(cut, key=lambda one: one.number))


def timing(board: Storyboard, budget: int | None = None) -> Timing:
    """Time a deck.

    Args:
        board: the deck's storyboard.
        budget: seconds that it has; what its slides have together if not given.
    """
    slides, starts = [], 0
    for number, slide in enumerate(board.slides, 1):
        slides.append(Timed(slide, number, starts, needed(slide)))
        starts += slide.seconds
    return Timing(tuple(slides), starts if budget is None else budget)


def needed(slide: Slide) -> int:
    """Seconds to tell a slide: its words at a calm pace, a look at each picture, the silence of a pause."""
    words = slide.headline.words() + sum(text.words() for block in slide.blocks for text in _read(block))
    looks = sum(isinstance(block, Picture | TimeChart | Diagram) for block in slide.blocks)
    return round(words * 60 / WORDS_A_MINUTE) + LOOK * looks + (SILENCE if slide.pause else 0)


def _read(block: Block) -> Iterator[SafeText]:
    """Yield what the room reads; the words within a drawing are looked at, not read out."""
    match block:
        case Paragraph(text=text) | Callout(text=text):
            yield text
        case Bullets(items=items, heading=heading):
            yield from (heading, *items)
        case Facts(rows=rows):
            yield from (text for row in rows for text in row)
        case Table(header=header, rows=cells):
            yield from header
            yield from (cell.text for row in cells for cell in row)
        case Picture(caption=caption) | Diagram(caption=caption):
            yield caption
        case TimeChart():
            return
        case _:
            assert_never(block)
