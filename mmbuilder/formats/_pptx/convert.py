"""From the storyboard's blocks to pieces of a sheet, at one set of sizes."""

from __future__ import annotations

from dataclasses import replace
from typing import assert_never

from mmbuilder.figures import diagram
from mmbuilder.figures.drawn import Rows, Size
from mmbuilder.formats._pptx.geometry import CM, Box
from mmbuilder.formats._pptx.pieces import Figure, Grid, Piece, Plate, Text, caption_height, grid
from mmbuilder.formats._pptx.style import CUE, Face, Role, Sizes
from mmbuilder.formats._pptx.text import Para
from mmbuilder.formats._sink import held, laid, plain
from mmbuilder.labels import say
from mmbuilder.storyboard.blocks import (
    Block,
    Bullets,
    Callout,
    Cell,
    Diagram,
    Facts,
    Paragraph,
    Picture,
    Table,
    TimeChart,
    Tone,
)

_CAPTION_WORDS = 40
"""A caption longer than this is a text of its own."""

_LABELS_SHOWN, _LABEL_LETTERS = 4, 40
"""More marks than this, or longer words, and the marks are numbered and told below."""


def pieces(block: Block, sizes: Sizes, face: Face, room: Box) -> tuple[Piece, ...]:
    """Return a block as pieces; almost always one. A diagram is laid out for the room of a whole sheet."""
    match block:
        case Paragraph():
            return _text((_paragraph(block, sizes, face),))
        case Bullets():
            return _text(_bullets(block, sizes, face))
        case Facts():
            return _facts(block, sizes, face, room)
        case Table():
            return (_table(block, sizes, face, room),)
        case Picture():
            return _picture(block, sizes, face)
        case TimeChart():
            return (Figure(block, plain(block.alt)),)
        case Diagram():
            return _diagram(block, sizes, face, room)
        case Callout():
            return _callout(block, sizes, face)
        case _:
            assert_never(block)


def _text(paras: tuple[Para, ...], *, barred: bool = False) -> tuple[Piece, ...]:
    said = tuple(para for para in paras if para.text)
    return (Text(said, barred),) if said else ()


def _paragraph(block: Paragraph, sizes: Sizes, face: Face) -> Para:
    role = Role.QUIET if block.tone is Tone.QUIET else Role.INK
    size = 20 if block.tone is Tone.QUIET else sizes.body
    return Para(laid(block.text), size, block.tone is Tone.STRONG, role, face=face)


def _bullets(block: Bullets, sizes: Sizes, face: Face) -> tuple[Para, ...]:
    after = sizes.body * 0.5
    heading = Para(laid(block.heading), sizes.body, True, Role.ACCENT, after * 0.6, face=face)
    items = (
        Para(
            laid(item),
            sizes.body,
            after=after,
            dot=not block.numbered,
            number=place if block.numbered else None,
            face=face,
        )
        for place, item in enumerate(filter(None, block.items), 1)
    )
    return (heading, *items)


def _facts(block: Facts, sizes: Sizes, face: Face, room: Box) -> tuple[Piece, ...]:
    if not block.rows:
        return ()
    rows = tuple(
        (
            (Para(laid(label), sizes.body, True, Role.ACCENT, face=face),),
            (Para(laid(text), sizes.body, face=face),),
        )
        for label, text in block.rows
    )
    # The label column takes its longest word or a fifth, so that the eye finds one edge.
    return (grid((), rows, (1, 4.4), ", ".join(row[0][0].text for row in rows), room.w),)


def _table(block: Table, sizes: Sizes, face: Face, room: Box) -> Grid:
    header = tuple((Para(held(text), sizes.table, True, Role.ACCENT, face=face),) for text in block.header)
    rows = tuple(tuple(_cell(cell, sizes, face) for cell in row) for row in block.rows)
    return grid(header, rows, block.shares, plain(block.caption), room.w)


def _cell(cell: Cell, sizes: Sizes, face: Face) -> tuple[Para, ...]:
    words = Para(held(cell.text), sizes.table, cell.strong, after=3, face=face)
    stamp = held(cell.stamp)
    return (words, Para(stamp, sizes.table, True, Role.STAMP, face=face)) if stamp else (words,)


def _picture(block: Picture, sizes: Sizes, face: Face) -> tuple[Piece, ...]:
    told = " ".join((*filter(None, (laid(block.caption),)), *_numbered(block)))
    caption = Para(told, 20, role=Role.QUIET, face=face)
    if not told:
        return (Figure(block, plain(block.alt)),)
    if len(told.split()) <= _CAPTION_WORDS:
        return (Figure(block, plain(block.alt), (caption,)),)
    return (Figure(block, plain(block.alt)), Text((caption,)))


def labels(block: Picture) -> tuple[str, ...]:
    """Return what is written beside each mark: its words, or a number where words would crowd it."""
    told = _told(block)
    if not _crowded(told):
        return told
    numbers = iter(range(1, len(told) + 1))
    return tuple(str(next(numbers)) if words else "" for words in told)


def _told(block: Picture) -> tuple[str, ...]:
    """Return the words of each mark: arrows first, then rings."""
    labels = [arrow.label for arrow in block.arrows] + [circle.label for circle in block.circles]
    return tuple(map(plain, labels))


def _numbered(block: Picture) -> tuple[str, ...]:
    told = _told(block)
    if not _crowded(told):
        return ()
    said = [words for words in told if words]
    ends = [*(";" for _ in said[1:]), "."]
    return tuple(f"{n} = {words}{end}" for n, (words, end) in enumerate(zip(said, ends, strict=True), 1))


def _crowded(told: tuple[str, ...]) -> bool:
    said = [words for words in told if words]
    return len(said) > _LABELS_SHOWN or any(len(words) > _LABEL_LETTERS for words in said)


def _diagram(block: Diagram, sizes: Sizes, face: Face, room: Box) -> tuple[Piece, ...]:
    """Return the sheets of a drawing; where a template leaves it too little room, its rows as a table."""
    said = laid(block.caption)
    caption = (Para(said, 20, role=Role.QUIET, face=face),) if said else ()
    size = Size(room.w / CM, (room.h - caption_height(caption, room.w)) / CM)
    made, alt = diagram.draft(block.data), plain(diagram.draft(block.data).alt)
    if not made.fits(size):
        return (_rows(made.rows, alt, sizes, face, room), *_text(caption))
    count = len(made.sheets(size))
    sheet = say(" Sheet {place} of {count}.")
    told = (alt if count == 1 else alt + sheet.format(place=n, count=count) for n in range(1, count + 1))
    return tuple(Plate(block.data, size, place, words, caption) for place, words in enumerate(told))


def _rows(rows: Rows, alt: str, sizes: Sizes, face: Face, room: Box) -> Grid:
    head, *body = (tuple((Para(held(cell), sizes.table, face=face),) for cell in row) for row in rows)
    header = tuple((replace(para, bold=True, role=Role.ACCENT),) for (para,) in head)
    return grid(header, tuple(body), (1.0,) * len(head), alt, room.w)


def _callout(block: Callout, sizes: Sizes, face: Face) -> tuple[Piece, ...]:
    cue = Para(laid(block.cue), CUE, True, Role.ACCENT, 8, face=face)
    return _text((cue, Para(laid(block.text), sizes.callout, True, face=face)), barred=True)
