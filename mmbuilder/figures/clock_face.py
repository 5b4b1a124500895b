"""An eye as a clock face, seen from the front: findings at their hours, the surgeon's seat outside.

The figures inside the circle are anatomical hours; each label gives the hour in both views. Words
that find no room beside the face are listed on a further sheet, under the letters of their marks.
Letters, for a number on a clock face would be taken for an hour.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from mmbuilder.figures.drawn import Drawn, Rows, Size, painted, room
from mmbuilder.figures.face import Face, Tag, face
from mmbuilder.figures.face_labels import labels
from mmbuilder.figures.fold import fold, letter, write
from mmbuilder.figures.numbered import Entry
from mmbuilder.figures.numbered import sheets as list_sheets
from mmbuilder.figures.roles import key
from mmbuilder.figures.sheet import Sheet, Words
from mmbuilder.figures.style import BIG, LINE, Ink
from mmbuilder.safe.orientation import Orientation, Place
from mmbuilder.safe.terms import term
from mmbuilder.safe.text import SafeText, capital, fill, join, sentence, wording

LEAST = Size(20, 9)
"""Smallest room; centimetres."""

_VIEW = wording("seen from the front; hours inside the circle are anatomical")


def draw(orientation: Orientation, size: Size) -> Drawn:
    """Draw an eye at the size it has on the slide."""
    return Drawn(painted(compose(orientation, size)), alt(orientation), rows(orientation))


def compose(orientation: Orientation, size: Size) -> tuple[Sheet, ...]:
    """Lay the face out with its labels beside it, or listed on a further sheet.

    Raises:
        ValueError: the size is too small.
    """
    wide, high = room(size, LEAST)
    made, tags = Face(wide, high, orientation), _tags(orientation)
    head = list(_head(made))
    drawn, down = [*face(made, tags), *head], head[-1].box.bottom + 8
    beside = labels(made, tags, down)
    if beside is not None:
        return (Sheet(wide, high, (*drawn, *beside)),)
    first = Sheet(wide, high, (*drawn, *(labels(made, [], down) or []), *_next(made)))
    entries = tuple(
        Entry(sign, made.clauses(place), bold=place.finding.wound) for tag in tags for sign, place in tag.told
    )
    foot = key((), wording("letters: as on the face before"), wide)
    return (first, *list_sheets(wide, high, entries, foot))


def alt(orientation: Orientation) -> SafeText:
    """Tell the figure: which eye, where the surgeon sat, and each finding in both views."""
    told = (
        fill("{told} ({sector}).", told=place.told, sector=term(place.sector))
        for place in _ordered(orientation)
    )
    eye = fill(
        "{side} eye seen from the front, nasal at the reader's {nasal}. "
        "Surgeon's seat: {seat}, {hour} o'clock anatomical.",
        side=capital(term(orientation.side)), nasal=term(orientation.side), seat=term(orientation.seat),
        hour=orientation.seat_hour,
    )  # fmt: skip
    check = (fill("To be checked: {reason}", reason=sentence(c.reason)) for c in orientation.contradictions)
    return join(" ", (eye, *told, *check))


def rows(orientation: Orientation) -> Rows:
    """Return the findings as a table, with the view in which each was said."""
    head = (
        wording("Finding"), wording("Anatomical"), wording("Surgeon's view"), wording("Direction"),
        wording("Said in"),
    )  # fmt: skip
    return (head, *(_row(place) for place in _ordered(orientation)))


def _row(place: Place) -> tuple[SafeText, ...]:
    hours = (fill("{hour} o'clock", hour=hour) for hour in (place.anatomical, place.surgeon))
    return (place.finding.name, *hours, term(place.sector), term(place.finding.view))


def _ordered(orientation: Orientation) -> list[Place]:
    """Clockwise from 12, so that findings at one hour have letters in a row."""
    return sorted(orientation.places, key=lambda place: place.anatomical % 12)


def _tags(orientation: Orientation) -> list[Tag]:
    lettered = [(letter(n), place) for n, place in enumerate(_ordered(orientation))]
    grouped = groupby(lettered, lambda pair: pair[1].anatomical)
    return [Tag(hour, tuple(found)) for hour, found in grouped]


def _head(made: Face) -> Iterator[Words]:
    """Write which eye it is, and how it is seen, at the upper left."""
    side = capital(term(made.orientation.side))
    yield Words(0, BIG * 0.8, fill("{side} eye", side=side), BIG, bold=True)
    yield from write(fold(_VIEW, made.column), 0, BIG + 4, ink=Ink.GREY)


def _next(made: Face) -> list[Words]:
    """Write at the lower right where the words are."""
    lines = fold(wording("letters: listed on the next sheet"), made.column)
    return write(lines, made.wide - made.column, made.bottom - len(lines) * LINE, ink=Ink.GREY)
