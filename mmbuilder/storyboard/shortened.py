"""A paper cut short to keep to its pages: long texts and lists end early, and it says so.

What has to be read whole stays: headlines, labels, warnings, stamps and the one sentence to take away.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import assert_never

from mmbuilder.safe.text import SafeText, cut_short, fill
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


@dataclass(frozen=True)
class Cut:
    """How much is left.

    Attributes:
        words: of a text that has the width of the page.
        cell: words of a cell of a table.
        entries: of a list or a table.
    """

    words: int
    cell: int
    entries: int

    @property
    def told(self) -> SafeText:
        """What was done, for the reader of the paper and for its author."""
        return fill(
            "Cut short to keep to its pages: a text after {words} words, in a table after {cell} (…), a list "
            "after {entries} entries. The case file has all of it, and so has a handout.",
            words=self.words,
            cell=self.cell,
            entries=self.entries,
        )


CUTS = (
    Cut(24, 24, 10),
    Cut(20, 16, 8),
    Cut(16, 12, 7),
    Cut(16, 12, 6),
    Cut(16, 8, 6),
    Cut(16, 8, 5),
    Cut(16, 8, 4),
    Cut(10, 6, 4),
    Cut(6, 6, 3),
)
"""Tried in this order until the paper keeps to its pages: sixteen words are a line, so fewer save little."""


def shortened(board: Storyboard, cut: Cut) -> Storyboard:
    """Return a board cut short, with what was done at its end."""
    *before, last = (replace(slide, blocks=_blocks(slide, cut)) for slide in board.slides)
    last = replace(last, blocks=(*last.blocks, Paragraph(cut.told, Tone.QUIET)))
    return replace(board, slides=(*before, last))


def _blocks(slide: Slide, cut: Cut) -> tuple[Block, ...]:
    return tuple(_block(block, cut) for block in slide.blocks)


def _block(block: Block, cut: Cut) -> Block:
    match block:
        case Paragraph(tone=Tone.STRONG) | Callout() | Picture() | TimeChart():
            return block
        case Paragraph(text=text):
            return replace(block, text=cut_short(text, cut.words))
        case Bullets(items=items):
            return replace(block, items=_first(items, cut))
        case Facts(rows=rows):
            labels = (label for label, _ in rows)
            return Facts(tuple(zip(labels, _first(tuple(text for _, text in rows), cut), strict=False)))
        case Table(rows=rows):
            kept = rows[: cut.entries]
            cells = [[replace(cell, text=cut_short(cell.text, cut.cell)) for cell in row] for row in kept]
            if cells:
                cells[-1][0] = replace(cells[-1][0], text=_more(cells[-1][0].text, len(rows) - len(kept)))
            return replace(block, rows=tuple(map(tuple, cells)))
        case Diagram(notes=notes):
            return replace(block, notes=_first(notes, cut))
        case _:
            assert_never(block)


def _first(texts: tuple[SafeText, ...], cut: Cut) -> tuple[SafeText, ...]:
    kept = [cut_short(text, cut.words) for text in texts[: cut.entries]]
    if kept:
        kept[-1] = _more(kept[-1], len(texts) - len(kept))
    return tuple(kept)


def _more(last: SafeText, left_out: int) -> SafeText:
    """Say behind the last entry how many are left out: the headline may count them all."""
    return fill("{last} (and {n} more)", last=last, n=left_out) if left_out else last
