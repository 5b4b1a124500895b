"""How long a deck takes to tell, from its words, its pictures and its pauses, against its budget.

An estimate to rehearse by: the presenter's pace, the room's questions and the walk to the
front are not in it. The rates are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil
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
    Tone,
)
from mmbuilder.storyboard.table_lines import FULL, table_lines, table_sheets

WORDS_A_MINUTE = 130
"""A calm speaking pace."""

READ_A_MINUTE = 240
"""What the room reads to itself while the presenter waits: a table, and what stands on a pause."""

CLOSE = 10
"""A slide is over its budget from one part in so many above it on. Common practice, no source."""

LINES = 20
"""Smallest lines that a sheet holds, by which all that stands on it is counted."""

ACROSS, LABELLED = 78, 17
"""Letters of a labelled line, and how many such lines a sheet holds: seen on finished decks."""

HEAD, SECOND = 62, 2
"""Letters of a line of a headline, and smallest lines that its second one takes: seen likewise."""

PART = len(" (1 of 2)")
"""What the headline of a slide of several sheets has more."""

LOOK = 10
"""Seconds for the room to take in a chart or a picture."""

SILENCE = 20
"""Seconds that a pause waits in silence; its discussion has the rest of its budget."""


@dataclass(frozen=True)
class Timed:
    """One slide's time.

    Attributes:
        slide: the slide.
        number: of its first sheet in the deck, from 1.
        starts: seconds on the running clock when it comes up, by the budgets before it.
        needs: seconds its words, pictures and silence take.
    """

    slide: Slide
    number: int
    starts: int
    needs: int

    @property
    def sheets(self) -> range:
        """Numbers of its sheets in the deck."""
        return range(self.number, self.number + self.slide.sheets)

    @property
    def over(self) -> int:
        """Seconds above its budget; 0 if it fits, or all but fits: the rates are no better than that."""
        over = self.needs - self.slide.seconds
        return over if over * CLOSE > self.slide.seconds else 0


@dataclass(frozen=True)
class Timing:
    """A deck's time.

    Attributes:
        slides: each slide's.
        budget: seconds that the use gives the whole.
        discussion: seconds of them that are to be the room's.
        most: sheets that the deck may have; None for as many as it takes.
    """

    slides: tuple[Timed, ...]
    budget: int
    discussion: int = 0
    most: int | None = None

    @property
    def needs(self) -> int:
        """Seconds that the whole takes: a slide that is told quickly leaves its rest to the next."""
        return sum(timed.needs for timed in self.slides)

    @property
    def left(self) -> int:
        """Seconds that the telling leaves to the room, the silence of the pauses with them."""
        return self.budget - self.needs + sum(_silence(timed.slide) for timed in self.slides)

    @property
    def fits(self) -> bool:
        """Whether it can be told whole: in its time, with the room's, and on the sheets allowed."""
        return self.needs <= self.budget and self.left >= self.discussion and not self.too_many

    @property
    def sheets(self) -> int:
        """Sheets of the whole deck."""
        return sum(timed.slide.sheets for timed in self.slides)

    @property
    def too_many(self) -> int:
        """Sheets above what the deck may have; 0 if they are allowed."""
        return 0 if self.most is None else max(0, self.sheets - self.most)

    @property
    def to_cut(self) -> tuple[Timed, ...]:
        """Slides to leave out for the room's time and the sheets allowed, in the order of the use.

        Nothing is left out for less than a look at a picture takes: the rates are no better than that.
        """
        cut: list[Timed] = []
        open_to_it = [timed for timed in self.slides if timed.slide.cut]
        for timed in sorted(open_to_it, key=lambda one: (one.slide.cut, one.number)):
            if self._enough(cut):
                break
            cut.append(timed)
        for timed in tuple(cut):  # what the last one, of several sheets, has made up for
            others = [one for one in cut if one is not timed]
            cut = others if self._enough(others) else cut
        return tuple(sorted(cut, key=lambda one: one.number))

    def _enough(self, cut: Sequence[Timed]) -> bool:
        """Whether without these the room has its time and the deck no more sheets than it may."""
        given = sum(one.needs - _silence(one.slide) for one in cut)
        many = self.too_many - sum(one.slide.sheets for one in cut)
        return self.discussion - self.left - given < LOOK and many <= 0


def timing(board: Storyboard, budget: int | None = None) -> Timing:
    """Time a deck.

    Args:
        board: the deck's storyboard.
        budget: seconds that it has; what its slides have together if not given.
    """
    slides, starts, number = [], 0, 1
    for slide in board.slides:
        slides.append(Timed(slide, number, starts, needed(slide)))
        starts, number = starts + slide.seconds, number + slide.sheets
    return Timing(tuple(slides), starts if budget is None else budget, board.discussion, board.most)


def needed(slide: Slide) -> int:
    """Seconds to tell a slide: words told, words that are read, looks at pictures, the silence of a pause."""
    words, read = slide.headline.words(), 0
    for block in slide.blocks:
        count = sum(text.words() for text in _said(block))
        if slide.pause or isinstance(block, Table):
            read += count
        else:
            words += count
    looks = sum(isinstance(block, Picture | TimeChart | Diagram) for block in slide.blocks)
    return round(words * 60 / WORDS_A_MINUTE + read * 60 / READ_A_MINUTE) + LOOK * looks + _silence(slide)


def guessed(slide: Slide) -> int:
    """How many sheets a slide will take, before a deck is written: rather one too many."""
    drawn = sum(isinstance(block, Picture | TimeChart | Diagram) for block in slide.blocks)
    sheets = _sheets(slide, len(slide.headline))
    if sheets > 1:
        sheets = _sheets(slide, len(slide.headline) + PART)
    return max(1, sheets) if slide.beside else max(1, drawn + sheets)


def _sheets(slide: Slide, head: int) -> int:
    """How many sheets the words take below a headline of so many letters."""
    room = LINES - (SECOND if head > HEAD else 0)
    tables = (table_sheets(block, room / LINES) for block in slide.blocks if isinstance(block, Table))
    return max(-(-written(slide) // room), *tables, 0)


def written(slide: Slide) -> int:
    """How many lines in the smallest letters the tables and labelled lines of a slide take, about."""
    return sum(map(_lines, slide.blocks))


def _lines(block: Block) -> int:
    """Lines that a table or labelled lines take in the smallest letters; other text is short.

    Labelled lines stand half a line apart.
    """
    match block:
        case Facts(rows=rows):
            lines = sum(ceil(len(text) / ACROSS) for _, text in rows) + len(rows) / 2
            return ceil(lines * LINES / LABELLED)
        case Table():
            return ceil(table_lines(block) * LINES / FULL)
        case _:
            return 0


def _silence(slide: Slide) -> int:
    return SILENCE if slide.pause else 0


def _said(block: Block) -> Iterator[SafeText]:
    """Yield what is told or read; words within a drawing are looked at, small print is left to the eye."""
    match block:
        case Paragraph(tone=Tone.QUIET):
            return
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
