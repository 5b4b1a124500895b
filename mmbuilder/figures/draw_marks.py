"""Draw the flags with their poles, and the lengths of time between them."""

from __future__ import annotations

from mmbuilder.analysis.timeline import Mark
from mmbuilder.figures.bands import Band
from mmbuilder.figures.brackets import ROW, Bracket, Stack, brackets
from mmbuilder.figures.entries import Lane
from mmbuilder.figures.flags import HEIGHT, Flag, flags
from mmbuilder.figures.layout import Placed
from mmbuilder.figures.pen import Pen
from mmbuilder.figures.sheet import Box, Dash, Stroke, Words, stroke
from mmbuilder.figures.style import BIG, FLAG, LINE, Ink, width
from mmbuilder.figures.tints import Tint

_TIP = 5.0

_INSET = 1.5
"""Between two brackets that share an end; points."""


def draw_flags(pen: Pen) -> None:
    """Fly the flags of the events that the cut shows, where the plan put them.

    An event that is no mark yet has its words there.
    """
    planned = {flag.number: flag for flag in pen.plan.flags}
    now = {flag.number: flag for flag in flags(pen.shown, pen.plan.letters)}
    told = {event.number for event in pen.shown.events}
    for placed in pen.plan.flag_places.placed:
        number = int(str(placed.label.key))
        if number in now:
            _flag(pen, now[number].saying(planned[number].caption), placed)
        elif number in told:
            _unnamed(pen, planned[number], placed)


def _unnamed(pen: Pen, flag: Flag, placed: Placed) -> None:
    top = pen.band("flags").bottom - placed.row * HEIGHT
    x, bottom = placed.label.x, pen.plan.lanes[Lane.EVENTS].marks(pen.band(Lane.EVENTS.value).bottom)
    pen.lines.append(stroke((x, top + LINE + 2), (x, bottom), ink=Ink.GREY, width=1.2))
    _, (text, size, bold) = flag.lines
    left = _left(placed, width(text, size, bold=bold))
    pen.words.append(Words(left, top + FLAG * 0.8 + LINE + 1, text, size, bold, Ink.BLACK, Ink.WHITE))


def _flag(pen: Pen, flag: Flag, placed: Placed) -> None:
    top = pen.band("flags").bottom - placed.row * HEIGHT
    x, bottom = placed.label.x, pen.band("axis").top
    light = flag.mark is Mark.RESOLUTION
    ink, thick = (Ink.GREY, 1.4) if light else (Ink.BLACK, 2.8)
    dash = Dash.SOLID if flag.at.lo == flag.at.hi else Dash.DASHED
    _doubtful(pen, flag, bottom)
    pen.lines.append(stroke((x, top + 2), (x, bottom), ink=ink, width=thick, dash=dash))
    baseline = top + FLAG * 0.8
    for text, size, bold in flag.lines:
        left = _left(placed, width(text, size, bold=bold))
        pen.words.append(Words(left, baseline, text, size, bold, ink, Ink.WHITE))
        baseline += LINE + 1


def _left(placed: Placed, wide: float) -> float:
    """Return where a line begins: towards its pole."""
    if placed.start >= placed.label.x:
        return placed.start
    return placed.end - wide if placed.end <= placed.label.x else (placed.start + placed.end - wide) / 2


def _doubtful(pen: Pen, flag: Flag, bottom: float) -> None:
    """Tint the stretch in which a mark may lie."""
    if flag.at.lo is None or flag.at.hi is None or flag.at.lo == flag.at.hi:
        return
    top = pen.band("phases").top or pen.band("flags").bottom
    for left, right in pen.pieces(flag.at.lo, flag.at.hi):
        pen.tints.append(Tint(Box(left, top, right, bottom), Ink.BAND))


def draw_brackets(pen: Pen) -> None:
    """Draw the lengths that the cut knows."""
    band = pen.band("brackets")
    for bracket in arranged(pen)[0]:
        _bracket(pen, bracket, band)


def arranged(pen: Pen) -> Stack:
    """Return the brackets of the cut, in the rows of the plan, and what the notes tell instead."""
    return brackets(pen.shown, pen.plan.axis, pen.plan.poles, pen.plan.width, pen.plan.bracket_rows)


def _bracket(pen: Pen, bracket: Bracket, band: Band) -> None:
    y = band.bottom - bracket.row * ROW - _TIP
    left, right = bracket.start + _INSET, max(bracket.end - _INSET, bracket.start + _INSET + 1)
    tips = tuple(((x, y - _TIP), (x, y + _TIP)) for x in (left, right))
    pen.lines.append(Stroke((((left, y), (right, y)), *tips), Ink.BLUE, 3.0))
    baseline = y - BIG * 0.25 - 1
    pen.words.append(Words(bracket.left, baseline, bracket.text, BIG, True, Ink.BLUE))
    if not bracket.over:
        near = bracket.left - 2 if bracket.left > bracket.end else bracket.right + 2
        pen.lines.append(
            stroke(
                (near, baseline - BIG * 0.3), ((bracket.start + bracket.end) / 2, y), ink=Ink.BLUE, width=1.2
            )
        )
