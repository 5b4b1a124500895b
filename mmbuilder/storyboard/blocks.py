"""The closed vocabulary between what is told and how it is written.

A slide kind makes these; a format writes these; neither knows the other. Adding a block
touches every format on purpose: each ends its `match` in `assert_never`.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TypeAlias

from mmbuilder.analysis.barriers import Barriers
from mmbuilder.analysis.causes import Causes
from mmbuilder.analysis.marked_side import Marked
from mmbuilder.analysis.series import SeriesChart
from mmbuilder.analysis.timeline import Chart
from mmbuilder.safe.case import Arrow, Circle
from mmbuilder.safe.image import SafeImage
from mmbuilder.safe.orientation import Orientation
from mmbuilder.safe.terms import PaperSize
from mmbuilder.safe.text import EMPTY, SafeText


class Tone(StrEnum):
    """How loud a text is. Each tone has a shape or a word beside its colour."""

    PLAIN = "plain"
    STRONG = "strong"
    QUIET = "quiet"


@dataclass(frozen=True)
class Paragraph:
    """A sentence or two."""

    text: SafeText
    tone: Tone = Tone.PLAIN


@dataclass(frozen=True)
class Bullets:
    """A list; `heading` names it."""

    items: tuple[SafeText, ...]
    heading: SafeText = EMPTY
    numbered: bool = False


@dataclass(frozen=True)
class Facts:
    """Labelled lines: (label, text)."""

    rows: tuple[tuple[SafeText, SafeText], ...]


@dataclass(frozen=True)
class Cell:
    """A table cell; `stamp` is a short word set off from the text, such as INCOMPLETE."""

    text: SafeText
    stamp: SafeText = EMPTY
    strong: bool = False


@dataclass(frozen=True)
class Table:
    """A table with a heading row.

    Attributes:
        header: one text a column.
        rows: cells, as many as the header has in each row.
        shares: relative widths of the columns.
        caption: what the table is, for a reader who cannot see it.
    """

    header: tuple[SafeText, ...]
    rows: tuple[tuple[Cell, ...], ...]
    shares: tuple[float, ...]
    caption: SafeText


@dataclass(frozen=True)
class Picture:
    """A frame; `alt` says what is to be seen and no more than the slide tells."""

    image: SafeImage
    alt: SafeText
    caption: SafeText = EMPTY
    arrows: tuple[Arrow, ...] = ()
    circles: tuple[Circle, ...] = ()


@dataclass(frozen=True)
class TimeChart:
    """A timeline drawing."""

    chart: Chart
    alt: SafeText


DiagramData: TypeAlias = Causes | Barriers | SeriesChart | Orientation | Marked
"""What can be drawn as a diagram; `figures.diagram` has a figure for each."""


@dataclass(frozen=True)
class Diagram:
    """A drawing of data other than the timeline. It tells itself to a reader who cannot see it.

    Attributes:
        data: what is drawn.
        caption: what has to be said with it.
        notes: sources and the like: in the notes of a slide, below the drawing on paper.
    """

    data: DiagramData
    caption: SafeText = EMPTY
    notes: tuple[SafeText, ...] = ()


@dataclass(frozen=True)
class Callout:
    """The one question that stops the room, or the one sentence to take away."""

    text: SafeText
    cue: SafeText = EMPTY
    """A small word above it, such as PAUSE."""


Block = Paragraph | Bullets | Facts | Table | Picture | TimeChart | Diagram | Callout


@dataclass(frozen=True)
class Slide:
    """One slide as meant; a format may need two sheets to show it whole.

    Attributes:
        kind: the slide kind's name, such as "options".
        headline: a sentence.
        blocks: in reading order; two columns when `beside` is true.
        notes: what the presenter says and does, in order.
        seconds: time budget.
        pause: the room is stopped here; nothing later may be told on it or before it.
        beside: the first block stands left, the rest right of it.
        sheets: how many the deck shows it on; known once a deck is written.
        cut: its turn to be left out when time is short; 0 for what a meeting must have.
    """

    kind: str
    headline: SafeText
    blocks: tuple[Block, ...]
    notes: tuple[SafeText, ...] = ()
    seconds: int = 60
    pause: bool = False
    beside: bool = False
    sheets: int = 1
    cut: int = 0


@dataclass(frozen=True)
class Storyboard:
    """A whole presentation.

    Attributes:
        code: short name of the case, used in file names.
        title: neutral title of the case.
        use: what it is for, in words.
        slides: in order.
        banner: the confidentiality line, on every slide.
        draft: nobody has reviewed the removal of identifiers; every output says so.
        left_out: slides that the use asks for and the case has nothing for, with the reason.
        paper: what the paper is called, such as "handout"; empty for the deck.
        discussion: seconds of the whole that are the room's.
        questions: seconds for questions after the last slide.
        most: slides it may have; None for as many as it takes.
    """

    code: SafeText
    title: SafeText
    use: SafeText
    slides: tuple[Slide, ...]
    banner: SafeText
    draft: bool = True
    left_out: tuple[SafeText, ...] = ()
    paper: SafeText = EMPTY
    discussion: int = 0
    questions: int = 0
    most: int | None = None


@dataclass(frozen=True)
class Sheet:
    """What a paper is printed on.

    Attributes:
        size: of the sheet.
        upright: portrait rather than landscape.
        pages: how many it may take; no limit if None.
    """

    size: PaperSize = PaperSize.A4
    upright: bool = False
    pages: int | None = None


@dataclass(frozen=True)
class Paper:
    """A paper that goes with the deck.

    Attributes:
        slug: what the name of its file ends in.
        formats: how it is to be written.
        board: what it shows.
        sheet: what it is printed on.
    """

    slug: str
    formats: tuple[str, ...]
    board: Storyboard
    sheet: Sheet = Sheet()
