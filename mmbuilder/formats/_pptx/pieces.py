"""What stands on a sheet: text, a grid, or a figure; each knows its height and how it is cut."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import permutations
from typing import TypeAlias

from mmbuilder.figures.drawn import Size
from mmbuilder.formats._pptx import measure, text
from mmbuilder.formats._pptx.geometry import CM, Box
from mmbuilder.formats._pptx.text import Para
from mmbuilder.storyboard.blocks import DiagramData, Picture, TimeChart

PAD = 5.0
"""Space above and below the text of a grid cell; between columns it is twice that."""

BAR = 26.0
"""What the stroke left of a callout takes."""

FIGURE_MIN = 170.0
"""A figure lower than this goes to a sheet of its own."""

CAPTION_GAP = 10.0

_STEPS = (17.0, 51.0)
"""Widths that are moved from one column to another: two letters of a table, and a word.

A long cell may lose no line before it is wider by a word: two letters at a time would not get there.
"""

CellText: TypeAlias = tuple[Para, ...]
Row: TypeAlias = tuple[CellText, ...]


@dataclass(frozen=True)
class Text:
    """A text box."""

    paras: tuple[Para, ...]
    barred: bool = False
    """A callout: a stroke stands left of it."""
    air: float = 0
    """Added between its paragraphs."""

    @property
    def letter(self) -> float:
        """Size of its largest letters."""
        return max((para.size for para in self.paras), default=0)

    @property
    def gaps(self) -> int:
        """Places where it can take air."""
        return sum(not para.heading for para in self.paras[:-1])

    def aired(self, air: float) -> Text:
        """Return it with so much more space between its paragraphs than they ask for."""
        return replace(self, air=air)

    @property
    def apart(self) -> tuple[Para, ...]:
        """Its paragraphs as they stand, with the air between them; a heading stays by what it names."""
        if not self.air:
            return self.paras
        *told, last = self.paras
        return (*(p if p.heading else replace(p, after=p.after + self.air) for p in told), last)

    def inner(self, width: float) -> float:
        """Width left for the words."""
        return width - BAR if self.barred else width

    def height(self, width: float) -> float:
        """Height in a column of this width."""
        return text.height(self.apart, self.inner(width))

    def split(self, width: float, room: float) -> tuple[Text | None, Text | None]:
        """Return what fits and the rest."""
        head, tail = text.split(self.paras, self.inner(width), room)
        if tail and head and head[-1].heading:  # a heading goes with what it names
            head, tail = head[:-1], (head[-1], *tail)
        return (replace(self, paras=head) if head else None), (replace(self, paras=tail) if tail else None)


@dataclass(frozen=True)
class Grid:
    """A native table; without `header` it is a list of labelled facts.

    Attributes:
        needed: least width of each column, its longest word's.
        label: width at which no label of a list of facts is broken.
        air: added to the height of each row, half of it above the words.
    """

    header: Row
    rows: tuple[Row, ...]
    shares: tuple[float, ...]
    caption: str
    needed: tuple[float, ...]
    label: float = 0
    air: float = 0

    @property
    def letter(self) -> float:
        """Size of its largest letters."""
        return max((para.size for row in self.rows for cell in row for para in cell), default=0)

    @property
    def gaps(self) -> int:
        """Places where it can take air."""
        return len(self.rows)

    def aired(self, air: float) -> Grid:
        """Return it with so much more height for each row."""
        return replace(self, air=air)

    def columns(self, width: float) -> tuple[float, ...]:
        """Column widths: by share, but no narrower than the longest word. Equal for all parts of one grid."""
        return _columns(self.needed, self.shares, self.label, width)

    def row_height(self, row: Row, width: float) -> float:
        """Height of one row."""
        cells = zip(row, self.columns(width), strict=True)
        return max(text.height(cell, column - 2 * PAD) for cell, column in cells) + 2 * PAD

    def heading(self, width: float) -> float:
        """Height of the heading row."""
        return self.row_height(self.header, width) if self.header else 0

    def height(self, width: float) -> float:
        """Height of the whole."""
        return self.heading(width) + sum(self.row_height(row, width) + self.air for row in self.rows)

    def split(self, width: float, room: float) -> tuple[Grid | None, Grid | None]:
        """Return the rows that fit, with the heading, and the rest, with the heading again."""
        used = self.heading(width)
        for place, row in enumerate(self.rows):
            tall = self.row_height(row, width)
            if used + tall > room + 1e-6:
                if place:
                    return self._with(self.rows[:place]), self._with(self.rows[place:])
                return self._cut_row(width, room - used)
            used += tall
        return self, None

    def _cut_row(self, width: float, room: float) -> tuple[Grid | None, Grid | None]:
        """Cut the first row through its cells; only asked when no whole row fits."""
        cells = zip(self.rows[0], self.columns(width), strict=True)
        parts = [text.split(cell, column - 2 * PAD, room - 2 * PAD) for cell, column in cells]
        if not any(head for head, _ in parts):
            return None, self
        head = tuple(part[0] for part in parts)
        tail = tuple(part[1] for part in parts)
        return self._with((head,)), self._with((tail, *self.rows[1:]))

    def _with(self, rows: tuple[Row, ...]) -> Grid:
        return replace(self, rows=rows)


@lru_cache(maxsize=256)  # a table is poured into several rooms, at several sizes
def grid(header: Row, rows: tuple[Row, ...], shares: tuple[float, ...], caption: str, wide: float) -> Grid:
    """Return a grid for a sheet so `wide`, its columns' needs measured once: all its parts have the same.

    The storyboard's shares are where it starts; shares that follow what the columns hold, and width
    moved from one column to another, are taken where they make the whole lower, because rows that fit
    one sheet are read together.
    """
    told = (header, *rows) if header else rows
    places = range(len(shares))
    needed = tuple(max(text.widest_word(row[place]) for row in told) + 2 * PAD + 1 for place in places)
    made = Grid(header, rows, shares, caption, needed, 0 if header else _longest_label(rows))
    if not (header and rows):
        return made
    return _settled(min(_reshared(made), key=lambda one: _tall(one, wide)), wide)


def _reshared(made: Grid) -> Iterator[Grid]:
    """Yield the grid as given, half way to what its columns hold, and by what they hold."""
    total = sum(made.shares)
    held = [sum(_on_one_line(row[place]) for row in made.rows) + 1 for place in range(len(made.shares))]
    for part in (0, 0.5, 1):
        pairs = zip(made.shares, held, strict=True)
        yield replace(
            made,
            shares=tuple((1 - part) * share / total + part * words / sum(held) for share, words in pairs),
        )


def _settled(made: Grid, width: float) -> Grid:
    """Move width from column to column for as long as that makes the whole lower."""
    wide = made.columns(width)
    moved = (
        replace(made, shares=_moved(wide, giver, taker, step))
        for giver, taker in permutations(range(len(wide)), 2)
        for step in _STEPS
        if wide[giver] - step >= made.needed[giver]
    )
    best = min(moved, key=lambda one: _tall(one, width), default=made)
    return _settled(best, width) if _tall(best, width) < _tall(made, width) else made


def _moved(wide: Sequence[float], giver: int, taker: int, step: float) -> tuple[float, ...]:
    return tuple(width + step * ((place == taker) - (place == giver)) for place, width in enumerate(wide))


def _tall(made: Grid, width: float) -> float:
    return round(made.height(width), 3)


def _on_one_line(cell: CellText) -> float:
    return max((measure.width(para.text, para.size, bold=para.bold) for para in cell), default=0)


def _longest_label(rows: Sequence[Row]) -> float:
    labels = [para for row in rows for para in row[0]]
    return (
        max(measure.width(para.text, para.size, bold=True) * para.face.stretch for para in labels)
        + 2 * PAD
        + 1
    )


@lru_cache(maxsize=1024)
def _columns(
    least: tuple[float, ...], shares: tuple[float, ...], label: float, width: float
) -> tuple[float, ...]:
    # Labels stay on one line as far as they leave room for the telling.
    needed = (max(least[0], min(label, width * 0.3)), *least[1:])
    if sum(needed) >= width:  # words will break: share what there is
        return tuple(width * part / sum(needed) for part in needed)
    free, made = set(range(len(needed))), dict(enumerate(needed))
    while free:
        spare = width - sum(made[place] for place in made if place not in free)
        total = sum(shares[place] for place in free)
        tight = {place for place in free if spare * shares[place] / total < needed[place]}
        if not tight:
            made |= {place: spare * shares[place] / total for place in free}
            break
        free -= tight
    return tuple(made[place] for place in range(len(needed)))


@dataclass(frozen=True)
class Figure:
    """A picture or a chart: it takes what room is left."""

    source: Picture | TimeChart
    alt: str
    caption: tuple[Para, ...] = ()

    def height(self, width: float) -> float:
        """Least height it is shown at."""
        return FIGURE_MIN + caption_height(self.caption, width)

    def split(self, width: float, room: float) -> tuple[Figure | None, Figure | None]:
        """Return itself whole: a picture is never cut. Only asked when it does not fit."""
        return None, self


@dataclass(frozen=True)
class Plate:
    """One sheet of a diagram, laid out for the size it is shown at, so that it takes a slide to itself."""

    source: DiagramData
    size: Size
    place: int
    alt: str
    caption: tuple[Para, ...] = ()

    def height(self, width: float) -> float:
        """Height of drawing and caption."""
        return self.size.height * CM + caption_height(self.caption, width)

    def split(self, width: float, room: float) -> tuple[Plate | None, Plate | None]:
        """Return itself whole. Only asked when it does not fit."""
        return None, self


def caption_height(caption: tuple[Para, ...], width: float) -> float:
    """Height of a caption and the gap above it; nothing if there is none."""
    return text.height(caption, width) + CAPTION_GAP if caption else 0


Piece: TypeAlias = Text | Grid | Figure | Plate


@dataclass(frozen=True)
class Placed:
    """A piece and its place."""

    piece: Piece
    box: Box


def stack_height(pieces: Sequence[Piece], width: float, gap: float) -> float:
    """Height of pieces one below the other."""
    return sum(piece.height(width) for piece in pieces) + gap * max(len(pieces) - 1, 0)
