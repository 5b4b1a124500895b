"""Where everything stands: text is measured, and goes on to another sheet before it overflows."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias

from mmbuilder import labels
from mmbuilder.formats._pptx.convert import pieces
from mmbuilder.formats._pptx.geometry import Box
from mmbuilder.formats._pptx.pieces import (
    Figure,
    Grid,
    Piece,
    Placed,
    Plate,
    Text,
    caption_height,
    stack_height,
)
from mmbuilder.formats._pptx.stage import Seat
from mmbuilder.formats._pptx.style import ROOMY, STEPS, Face, Sizes
from mmbuilder.formats._pptx.text import Para
from mmbuilder.formats._sink import laid
from mmbuilder.storyboard.blocks import Diagram, Picture, Slide, Table

GAP = 18.0
"""Between pieces of a stack."""

GUTTER = 30.0
"""Between two columns."""

_COLUMNS = 3
"""Columns of a table up to which its letters may be larger than usual."""

Pieces: TypeAlias = tuple[Piece, ...]
_Pouring: TypeAlias = Callable[[Sizes, Box, Box], list[tuple[Placed, ...]]]


@dataclass(frozen=True)
class Sheet:
    """One slide of the file: what stands where."""

    seat: Seat
    headline: Para
    placed: tuple[Placed, ...]
    raised: bool = False
    """The body begins higher than its usual place, and the headline's box ends with its words."""


def sheets(slide: Slide, first: Seat, rest: Seat, face: Face) -> tuple[Sheet, ...]:
    """Lay a slide out, on as many sheets as it needs and no more.

    Args:
        slide: as meant.
        first: the layout it begins on.
        rest: the layout it goes on with.
        face: how the template's letters differ from those we measure.
    """
    told = laid(slide.headline)
    made = _laid(slide, told, "", first, rest, face)
    if len(made) == 1:
        return made
    made = _laid(slide, told, _part(len(made), len(made)), first, rest, face)
    return tuple(_numbered(sheet, place, len(made)) for place, sheet in enumerate(made, 1))


def _part(place: int, count: int) -> str:
    """Return ` (1 of 2)`, held together on one line."""
    return labels.say(" ({place}\u00a0of\u00a0{count})").format(place=place, count=count)


def _numbered(sheet: Sheet, place: int, count: int) -> Sheet:
    text = sheet.headline.text + _part(place, count)
    return replace(sheet, headline=replace(sheet.headline, text=text))


def _laid(slide: Slide, told: str, suffix: str, first: Seat, rest: Seat, face: Face) -> tuple[Sheet, ...]:
    title, over = headline(told, suffix, first, face)
    again, _ = headline(title.text, suffix, rest, face)

    def poured(sizes: Sizes, begin: Box, go_on: Box) -> list[tuple[Placed, ...]]:
        return _poured(slide, over, sizes, begin, go_on, face)

    best, raised = _best(poured, first.body, rest.body), False
    if len(best) > 1 or _pictured(best) or any(isinstance(block, Diagram | Table) for block in slide.blocks):
        taller = _best(poured, _raised(first, title, suffix), _raised(rest, again, suffix))
        larger = len(taller) == len(best) and _letters(taller) > _letters(best)
        if len(taller) < len(best) or _pictured(best) or _plates(taller) > _plates(best) or larger:
            best, raised = taller, True
    return tuple(
        Sheet(rest if place else first, again if place else title, placed, raised)
        for place, placed in enumerate(best)
    )


def _best(poured: _Pouring, first: Box, rest: Box) -> list[tuple[Placed, ...]]:
    """Return the layout with the largest letters among those with the fewest sheets."""
    for sizes in ROOMY:
        roomy = poured(sizes, first, rest)
        if len(roomy) == 1 and _sparse(roomy[0], first):
            return roomy
    fewest = poured(STEPS[-1], first, rest)
    tried = (poured(sizes, first, rest) for sizes in STEPS[:-1])
    return next((made for made in tried if len(made) <= len(fewest)), fewest)


def _sparse(placed: tuple[Placed, ...], box: Box) -> bool:
    """Whether a sheet holds text or a table only, and leaves a good part of its room free.

    A table of many columns is no matter of room: larger letters would make strips of them.
    """
    tall = 0.0
    for item in placed:
        piece = item.piece
        if isinstance(piece, Figure | Plate) or (isinstance(piece, Grid) and len(piece.shares) > _COLUMNS):
            return False
        tall += piece.aired(0).height(item.box.w)
    return tall <= box.h * 0.85


def _pictured(made: list[tuple[Placed, ...]]) -> bool:
    """Whether a picture or diagram has the sheet to itself. Charts stay, so that cuts of one axis agree."""
    alone = made[0][0].piece if len(made) == 1 and len(made[0]) == 1 else None
    return isinstance(alone, Plate) or (isinstance(alone, Figure) and isinstance(alone.source, Picture))


def _plates(made: list[tuple[Placed, ...]]) -> int:
    """Count what is drawn of diagrams; one without room for its words is a table instead."""
    return sum(isinstance(item.piece, Plate) for sheet in made for item in sheet)


def _letters(made: list[tuple[Placed, ...]]) -> float:
    """Return the size of the letters in its tables; 0 without a table."""
    grids = (item.piece for sheet in made for item in sheet if isinstance(item.piece, Grid))
    return max((grid.letter for grid in grids), default=0)


def _raised(seat: Seat, title: Para, suffix: str) -> Box:
    """Let the body begin below the headline's last line, where that is higher than its usual place."""
    if seat.title.kind == "ctrTitle":
        return seat.body
    told = replace(title, text=title.text + suffix).height(seat.headline.w)
    top = min(seat.headline.y + told + GAP, seat.body.y)
    return replace(seat.body, y=top, h=seat.body.bottom - top)


def headline(told: str, suffix: str, seat: Seat, face: Face) -> tuple[Para, Para | None]:
    """Set the headline as large as fits its place; what fits at no size goes on in the body."""
    width, room = seat.headline.w, seat.headline.h
    for size in seat.sizes:
        para = Para(told, size, True, face=face)
        if replace(para, text=told + suffix).height(width) <= room + 1e-6:
            return para, None
    parts = para.cut(width, room - (para.pitch if suffix else 0))
    assert parts is not None  # it does not fit, so it has more lines than the room
    return parts[0], parts[1]


def _poured(
    slide: Slide, over: Para | None, sizes: Sizes, first: Box, rest: Box, face: Face
) -> list[tuple[Placed, ...]]:
    room = Box(rest.x, rest.y, min(first.w, rest.w), min(first.h, rest.h))
    made = [pieces(block, sizes, face, room) for block in slide.blocks]
    lead: Pieces = (Text((replace(over, size=sizes.body, rest=False),)),) if over else ()
    if slide.beside and not lead and len(made) > 1 and made[0]:
        left, *own = _below(made[0], first)
        right = [*own, *(piece for block in made[1:] for piece in block)]
        return _columns(left, _merged(right), first, rest)
    return _stack(_merged([*lead, *(piece for block in made for piece in block)]), first, rest)


_SHARE, _SMALLEST = 0.6, 0.75
"""Width of a picture with other things beside it; how much of its height it keeps above a long caption."""


def _below(parts: Pieces, box: Box) -> Pieces:
    """Return a picture with what is told of it below, if it stays large; the other column is for the rest."""
    match parts:
        case (Figure() as figure, Text() as told):
            wide = (box.w - GUTTER) * _SHARE
            kept = box.h - caption_height(told.paras, wide)
            if kept >= _SMALLEST * min(_tallest(figure, wide), box.h):
                return (replace(figure, caption=told.paras),)
        case _:
            pass
    return parts


def _merged(parts: Sequence[Piece]) -> Pieces:
    """Put texts that follow each other into one box, which is how a person would edit them."""
    made: list[Piece] = []
    for piece in parts:
        last = made[-1] if made else None
        if isinstance(piece, Text) and isinstance(last, Text) and not (piece.barred or last.barred):
            *before, end = last.paras
            made[-1] = Text((*before, replace(end, after=max(end.after, end.size * 0.6)), *piece.paras))
        else:
            made.append(piece)
    return tuple(made)


def _stack(parts: Pieces, first: Box, rest: Box) -> list[tuple[Placed, ...]]:
    """Pour, and where two or more sheets are needed, share the content out evenly."""
    limit = max(first.h, rest.h)
    full = _pour(parts, first, rest, limit)
    if len(full) == 1 or first != rest:
        return [_spread(sheet, box) for sheet, box in _boxed(full, first, rest)]
    low, high = limit * 0.4, limit
    for _ in range(6):
        middle = (low + high) / 2
        tried = _pour(parts, first, rest, middle)
        if len(tried) == len(full):
            high, full = middle, tried
        else:
            low = middle
    return [_spread(sheet, box) for sheet, box in _boxed(full, first, rest)]


def _boxed(poured: list[Pieces], first: Box, rest: Box) -> list[tuple[Pieces, Box]]:
    return [(sheet, rest if place else first) for place, sheet in enumerate(poured)]


def _pour(parts: Pieces, first: Box, rest: Box, limit: float) -> list[Pieces]:
    """Fill one sheet after the other, in order, each to at most `limit`."""
    done: list[Pieces] = []
    sheet: list[Piece] = []
    queue, box = deque(parts), first
    while queue:
        piece = queue.popleft()
        fits = [*sheet, piece]
        if stack_height(fits, box.w, GAP) <= min(box.h, limit) + 1e-6:
            sheet = fits
            continue
        used = stack_height(sheet, box.w, GAP) + (GAP if sheet else 0)
        head, tail = piece.split(box.w, min(box.h, limit) - used)
        if head is None and not sheet:
            head, tail = _forced(piece, box)
        if head is not None:
            sheet.append(head)
        if tail is not None:
            queue.appendleft(tail)
        if sheet:
            done, sheet, box = [*done, tuple(sheet)], [], rest
    return [*done, tuple(sheet)] if sheet or not done else done


def _forced(piece: Piece, box: Box) -> tuple[Piece | None, Piece | None]:
    """Make headway with what does not fit an empty sheet: a heading row so tall that no row fits below it."""
    if isinstance(piece, Grid) and piece.header:
        return None, replace(piece, header=(), rows=(piece.header, *piece.rows))
    return (piece, None) if isinstance(piece, Figure | Plate) else piece.split(box.w, box.h)


_AIR = 0.75
"""Most space that is added between paragraphs or rows, in letters."""

_FREE, _LOW = 0.3, 0.25
"""Words that leave free more than such a share of their sheet stand this share of it lower."""


def _spread(parts: Pieces, box: Box) -> tuple[Placed, ...]:
    """Give each piece its place; figures share the room that is left, words alone stand apart in it."""
    aired = _aired(parts, _air(parts, box))
    return _placed(aired, box, _down(aired, box))


def _placed(parts: Pieces, box: Box, down: float) -> tuple[Placed, ...]:
    figures = sum(isinstance(piece, Figure) for piece in parts)
    spare = max(box.h - stack_height(parts, box.w, GAP), 0)
    top, placed = box.y + down, []
    for piece in parts:
        tall = piece.height(box.w) + (spare / figures if isinstance(piece, Figure) else 0)
        placed.append(Placed(piece, Box(box.x, top, box.w, tall)))
        top += tall + GAP
    return tuple(placed)


def _air(parts: Pieces, box: Box) -> float:
    """Return how much space goes between the paragraphs and rows of a sheet that holds words only."""
    told = [piece for piece in parts if isinstance(piece, Text | Grid)]
    gaps = sum(piece.gaps for piece in told)
    if len(told) < len(parts) or not gaps:
        return 0.0
    spare = max(box.h - stack_height(parts, box.w, GAP), 0)
    return min(spare / (gaps + 1), _AIR * max(piece.letter for piece in told))


def _aired(parts: Pieces, air: float) -> Pieces:
    return tuple(piece.aired(air) if air and isinstance(piece, Text | Grid) else piece for piece in parts)


def _down(parts: Pieces, box: Box) -> float:
    """Return how much lower a few words stand that have the sheet to themselves."""
    spare = box.h - stack_height(parts, box.w, GAP)
    if not all(isinstance(piece, Text | Grid) for piece in parts):
        return 0.0
    barred = len(parts) == 1 and isinstance(parts[0], Text) and parts[0].barred
    return max(spare, 0) * _LOW if barred or spare > _FREE * box.h else 0.0


def _tallest(piece: Piece, width: float) -> float:
    """How tall a piece can be made in a column: a picture no taller than its shape, to begin at the top."""
    if not (isinstance(piece, Figure) and isinstance(piece.source, Picture)):
        return float("inf")
    image = piece.source.image
    return width * image.height / image.width + caption_height(piece.caption, width)


def _side_by_side(left: Piece, column: Box, right: Pieces, beside: Box) -> tuple[Placed, ...]:
    """Place two columns; where both are words they begin at one height and have the same air."""
    if not isinstance(left, Text | Grid):
        return (*_spread((left,), column), *_placed(_aired(right, _air(right, beside)), beside, 0))
    air = min(_air((left,), column), _air(right, beside)) if right else 0
    told = ((_aired((left,), air), column), (_aired(right, air), beside))
    down = min(_down(parts, box) for parts, box in told)
    return tuple(placed for parts, box in told for placed in _placed(parts, box, down))


def _columns(left: Piece, right: Pieces, first: Box, rest: Box) -> list[tuple[Placed, ...]]:
    """Set the first piece left and the others right of it; what is left over follows in full width."""
    share = _SHARE if isinstance(left, Figure) else 0.5
    wide = (first.w - GUTTER) * share
    column = Box(first.x, first.y, wide, min(first.h, _tallest(left, wide)))
    beside = Box(first.x + wide + GUTTER, first.y, first.w - GUTTER - wide, first.h)
    fits = left.height(wide) <= first.h + 1e-6
    head, tail = (left, None) if fits else left.split(wide, first.h)
    poured = _pour(right, beside, rest, max(first.h, rest.h))
    made = [_spread(sheet, box) for sheet, box in _boxed(poured, beside, rest)]
    if head is not None:
        made[0] = _side_by_side(head, column, poured[0], beside)
    return made if tail is None else [*made, *_stack((tail,), rest, rest)]
