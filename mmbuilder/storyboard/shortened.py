"""A paper cut short to keep to its pages: long texts and lists end early, and it says so.

What has to be read whole stays: headlines, labels, warnings, stamps and the one sentence to take away.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import assert_never

from mmbuilder.safe.text import SafeText, clip, fill
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
        words: of a text.
        entries: of a list or a table.
    """

    words: int
    entries: int

    @property
    def told(self) -> SafeText:
        """What was done, for the reader of the paper and for its author."""
        return fill(
            "Cut short to keep to its pages: a text after {words} words (…), a list after {entries} "
            "entries. The slides have all of it.",
            words=self.words,
            entries=self.entries,
        )


CUTS = (Cut(24, 10), Cut(16, 8), Cut(12, 6), Cut(8, 4), Cut(6, 3))
"""Tried in this order until the paper keeps to its pages."""


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
            return replace(block, text=clip(text, cut.words))
        case Bullets(items=items):
            return replace(block, items=_first(items, cut))
        case Facts(rows=rows):
            return Facts(tuple((label, clip(text, cut.words)) for label, text in rows[: cut.entries]))
        case Table(rows=rows):
            kept = rows[: cut.entries]
            cells = tuple(
                tuple(replace(cell, text=clip(cell.text, cut.words)) for cell in row) for row in kept
            )
            return replace(block, rows=cells)
        case Diagram(notes=notes):
            return replace(block, notes=_first(notes, cut))
        case _:
            assert_never(block)


def _first(texts: tuple[SafeText, ...], cut: Cut) -> tuple[SafeText, ...]:
    return tuple(clip(text, cut.words) for text in texts[: cut.entries])
