"""The storyboard as a PowerPoint deck of native, editable objects. Same storyboard, same bytes."""

from __future__ import annotations

import io
from dataclasses import dataclass, replace
from pathlib import Path

from mmbuilder.formats import _package
from mmbuilder.formats._pptx import house, notes, sheet
from mmbuilder.formats._pptx.flow import Sheet, sheets
from mmbuilder.formats._pptx.media import Media
from mmbuilder.formats._pptx.pieces import Text
from mmbuilder.formats._pptx.stage import Seat, Stage, Wanted
from mmbuilder.formats._sink import plain
from mmbuilder.safe.text import SafeText
from mmbuilder.storyboard.blocks import Diagram, Slide, Storyboard

SUFFIX = ".pptx"

_NOTHING_SAID = Wanted()


@dataclass(frozen=True)
class Deck:
    """A deck as written.

    Attributes:
        pptx: the file.
        board: what was told, each slide with the number of its sheets.
    """

    pptx: bytes
    board: Storyboard


def write(board: Storyboard, *, template: Path | None = None, wanted: Wanted = _NOTHING_SAID) -> bytes:
    """Write the deck; arguments and errors as for `lay_out`."""
    return lay_out(board, template=template, wanted=wanted).pptx


def lay_out(board: Storyboard, *, template: Path | None = None, wanted: Wanted = _NOTHING_SAID) -> Deck:
    """Write the deck, and say how many sheets each slide took.

    Args:
        board: what is told.
        template: the user's own .pptx, whose masters, layouts and theme are kept; the house's if not given.
        wanted: what the department says of its template.

    Raises:
        FileRefused: the template cannot be used, or the confidentiality line is too long.
    """
    from mmbuilder.formats._pptx import template as given

    stage = given.stage(template, wanted) if template else house.stage()
    media = Media(stage.deck.part.package)
    slides = tuple(replace(slide, sheets=_told(stage, slide, board, media)) for slide in board.slides)
    file = io.BytesIO()
    stage.deck.save(file)
    return Deck(_package.close(file.getvalue()), replace(board, slides=slides))


def _told(stage: Stage, slide: Slide, board: Storyboard, media: Media) -> int:
    """Write one slide of the storyboard, on as many sheets as it takes; return how many."""
    first, rest = _seats(stage, slide)
    made = sheets(slide, first, rest, stage.face)
    band = plain(board.banner), plain(board.use)
    spent = 0
    for place, laid in enumerate(made, 1):
        written = sheet.write(stage, _seated(stage, laid), media, band, draft=board.draft)
        upto = slide.seconds * place // len(made)
        notes.write(written, _said(slide) if place == 1 else (), upto - spent)
        spent = upto
    return len(made)


def _said(slide: Slide) -> tuple[SafeText, ...]:
    """Return the script, then sources and the like of the slide's diagrams."""
    drawn = (block for block in slide.blocks if isinstance(block, Diagram))
    return (*slide.notes, *(note for block in drawn for note in block.notes))


def _seats(stage: Stage, slide: Slide) -> tuple[Seat, Seat]:
    """Return the layout a slide begins on, and the one it goes on with."""
    if slide.pause:
        return stage.pause, stage.pause
    if slide.kind == "title":
        return stage.opening, stage.telling
    if slide.kind == "take_away":
        return stage.closing, stage.telling
    return stage.telling, stage.telling


def _seated(stage: Stage, laid: Sheet) -> Sheet:
    """Move a sheet that holds text and nothing else to the layout whose placeholder takes it."""
    alone = len(laid.placed) == 1 and isinstance(laid.placed[0].piece, Text)
    if alone and laid.seat is stage.telling:
        return replace(laid, seat=stage.written)
    return laid
