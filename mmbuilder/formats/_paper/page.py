"""A paper as data for typst, and typst's call.

What is said goes in as data and never as markup, so that `#` or `$` in a case comes out as
typed. Tagging follows PDF/UA-1 (ISO 14289-1); typst refuses a page that breaks it.
"""

from __future__ import annotations

import html
import json
import re
from dataclasses import dataclass
from functools import cache as once
from importlib.metadata import version
from typing import Any, Literal, assert_never

from mmbuilder import cache, fonts, labels
from mmbuilder.figures import POINTS
from mmbuilder.figures.style import TEXT
from mmbuilder.formats import _sink
from mmbuilder.formats._paper import letters
from mmbuilder.formats._paper.columns import settle
from mmbuilder.formats._paper.drawings import LEAST_SCALE, SCALE, drawings
from mmbuilder.resources import templates
from mmbuilder.safe.cautions import CAUTION
from mmbuilder.safe.terms import PaperSize
from mmbuilder.safe.text import EMPTY, SafeText, capital, wording
from mmbuilder.storyboard.blocks import (
    Block,
    Bullets,
    Callout,
    Cell,
    Diagram,
    Facts,
    Paragraph,
    Picture,
    Sheet,
    Storyboard,
    Table,
    TimeChart,
    Tone,
)

SIZES = (10.5, 10.0, 9.5, 9.0, 8.5)
"""Points; a paper that may take so many pages is set smaller until it fits, never below the last."""

_MARGIN = 1.5
_SHEETS = {PaperSize.A4: ("a4", 21.0, 29.7), PaperSize.LETTER: ("us-letter", 21.59, 27.94)}
"""What typst calls it, and its sides in centimetres (ISO 216; ANSI/ASME Y14.1)."""

_INSET = 0.9 * SIZES[0]
"""What a cell keeps free on both sides, in points."""

_WORDS_OF_SVG = re.compile(r">([^<>]+)<")


def pdf(told: dict[str, Any]) -> bytes:
    """Set a paper as PDF."""
    # A fixed time, though no date is written: the same content gives the same bytes.
    return _set(told, format="pdf", pdf_standards=["ua-1"], timestamp=0)


def picture(told: dict[str, Any], form: Literal["svg", "png"]) -> bytes:
    """Set a paper as one picture, as high as it needs."""
    return _set({**told, "whole": True}, format=form, ppi=200)


def _set(told: dict[str, Any], **asked: Any) -> bytes:
    """Set a paper, or take what was set of the same words before."""
    said = json.dumps(told)
    name = cache.key("page", _edition(), repr(asked), said)
    return cache.kept(name, lambda: fonts.typeset(_source(), sys_inputs={"board": said}, **asked))


@once
def _edition() -> str:
    """Hash of what sets a page: a paper says everything else itself."""
    faces = sorted(face for folder in fonts.folders() for face in folder.rglob("*") if face.is_file())
    return cache.key(version("typst"), _source(), *(f"{face.name}:{face.stat().st_size}" for face in faces))


@once
def _source() -> bytes:
    return (templates() / "handout.typ").read_bytes()


def told(board: Storyboard, sheet: Sheet) -> dict[str, Any]:
    """Return everything that a paper says, as plain values.

    Raises:
        LetterNotDrawn: a letter is in none of our fonts.
    """
    room = _room(board, sheet)
    return {
        "size": SIZES[0],
        "full": SIZES[0],
        "paper": _SHEETS[sheet.size][0],
        "margin": _MARGIN,
        "wide": not sheet.upright,
        "whole": False,
        # Many words on few pages stand closer together.
        "close": sheet.pages is not None,
        "language": labels.spoken(),
        "fonts": fonts.PAGE,
        "title": _say(board.title),
        "name": _say(capital(board.paper)),
        "banner": _say(board.banner),
        "draft": _say(wording("DRAFT")) if board.draft else "",
        "caution": _say(CAUTION),
        "page": _say(wording("Page {page} of {pages}")),
        "slides": [
            {"headline": _say(slide.headline), "blocks": [_block(block, room) for block in slide.blocks]}
            for slide in board.slides
        ],
    }


_NUMBER = 2
"""Letters of the number of a row."""


@dataclass(frozen=True)
class _Room:
    """What a drawing may take of the page, in centimetres, and how much smaller than drawn it is set.

    Attributes:
        noted: whether the notes of a timeline stand on the drawing: below it is no room for all of them.
    """

    wide: float
    high: float
    scale: float
    noted: bool


def _room(board: Storyboard, sheet: Sheet) -> _Room:
    _, short, long = _SHEETS[sheet.size]
    wide = (short if sheet.upright else long) - 2 * _MARGIN
    alone = sum(len(slide.blocks) for slide in board.slides) == 1
    if alone and not sheet.upright:
        # A drawing that is the whole paper fills it; title, headline and foot take the rest. With letters
        # as large as on a slide it would leave out what a page has room for: they come out as the text's.
        return _Room(wide, short - 7.5, SIZES[0] / TEXT, noted=True)
    # Below eight centimetres a timeline leaves lines of readings out.
    return _Room(wide, 9.0 if sheet.pages is None else 8.2, SCALE, noted=sheet.pages is not None)


def _say(text: SafeText) -> str:
    said = _sink.held(text)
    letters.check(said)
    return said


def _block(block: Block, room: _Room) -> dict[str, Any]:
    match block:
        case Paragraph(text=text, tone=tone):
            strong, quiet = tone is Tone.STRONG, tone is Tone.QUIET
            return {"kind": "paragraph", "text": _say(text), "strong": strong, "quiet": quiet}
        case Bullets(items=items, heading=heading, numbered=numbered):
            said = [_say(item) for item in items]
            return {"kind": "bullets", "items": said, "heading": _say(heading), "numbered": numbered}
        case Facts(rows=rows):
            return {"kind": "facts", "rows": [[_say(label), _say(text)] for label, text in rows]}
        case Table():
            return _table(block, room)
        case Picture(alt=alt, caption=caption):
            label = wording("Still (on the slides only):")
            return {"kind": "still", "label": _say(label), "alt": _say(alt), "caption": _say(caption)}
        case TimeChart():
            return _drawing(block, room, EMPTY, ())
        case Diagram(caption=caption, notes=notes):
            return _drawing(block, room, caption, notes)
        case Callout(text=text, cue=cue):
            return {"kind": "callout", "text": _say(text), "cue": _say(cue)}
        case _:
            assert_never(block)


def _table(block: Table, room: _Room) -> dict[str, Any]:
    heads = tuple(Cell(name, strong=True) for name in block.header)
    widths = _widths(block, (heads, *block.rows), room.wide * POINTS)
    return {
        "kind": "table",
        "header": _row(heads, widths),
        "rows": [_row(row, widths) for row in block.rows],
        "shares": widths,
        "caption": _say(block.caption),
        # Rows that hold nothing, or a number alone, are there to be written in.
        "room": all(len(cell.text) <= _NUMBER for row in block.rows for cell in row),
    }


def _widths(block: Table, rows: tuple[tuple[Cell, ...], ...], wide: float) -> list[float]:
    asked = [wide * share / sum(block.shares) for share in block.shares]
    texts = [[_length(cell) for cell in row] for row in rows]
    words = [max(map(_widest, column)) for column in zip(*rows, strict=True)]
    return settle(asked, texts, words, _INSET)


def _row(cells: tuple[Cell, ...], widths: list[float]) -> list[dict[str, Any]]:
    return [
        {
            "text": _say(cell.text),
            "stamp": _say(cell.stamp),
            "strong": cell.strong,
            "tight": _widest(cell) > width - _INSET,
        }
        for cell, width in zip(cells, widths, strict=True)
    ]


def _length(cell: Cell) -> float:
    """Width of what a cell says, on one line, with the stamp behind it."""
    text = fonts.width(_say(cell.text), SIZES[0], bold=cell.strong)
    return text + (fonts.width(f" {_say(cell.stamp)} ", SIZES[0], bold=True) if cell.stamp else 0)


def _widest(cell: Cell) -> float:
    return max(fonts.width(word, SIZES[0], bold=cell.strong) for word in _say(cell.text).split(" "))


def _drawing(block: Block, room: _Room, caption: SafeText, notes: tuple[SafeText, ...]) -> dict[str, Any]:
    made = drawings(block, room.wide / room.scale, room.high / room.scale, noted=room.noted)
    return {
        "kind": "drawing",
        "pictures": [
            {
                "svg": _svg(svg),
                "alt": _say(made.alt),
                "wide": made.wide * room.scale,
                "least": made.wide * min(room.scale, LEAST_SCALE),
            }
            for svg in made.svgs
        ],
        "caption": _say(caption),
        "notes": [_say(note) for note in (made.notes, *notes)],
    }


def _svg(drawn: bytes) -> str:
    svg = drawn.decode()
    letters.check(html.unescape(" ".join(words.strip() for words in _WORDS_OF_SVG.findall(svg))))
    return svg
