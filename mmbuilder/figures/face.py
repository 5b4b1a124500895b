"""The face of an eye: its circle with hours and directions, marks at their hours, the surgeon's seat."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from mmbuilder.figures.fold import centred, write
from mmbuilder.figures.sheet import Box, Fill, Item, Point, Stroke
from mmbuilder.figures.style import LINE, TEXT, Ink, width
from mmbuilder.safe.orientation import Orientation, Place, sector
from mmbuilder.safe.terms import Seat, term
from mmbuilder.safe.text import SafeText, capital, fill, number, wording

_STRIP = 36.0
"""Above and below the circle: a mark and the seat; points."""

BESIDE = 58.0
"""Between the circle and the words beside it: marks and lines to them."""

_SEAT = 26.0
"""Height of a seat above or below; points."""

_NARROW = 100.0
"""Least width for words at each side."""

_HIGH = 20.0
"""Of a mark."""

_HOURS = 24.0
"""From the circle in to the middle of an hour's figure."""

_WIDEST = wording("Temporal")
"""The widest of the directions."""


@dataclass(frozen=True)
class Tag:
    """The mark at an hour: the letters and places of what is there."""

    hour: int
    told: tuple[tuple[SafeText, Place], ...]

    @property
    def text(self) -> SafeText:
        """Its letter, or the first and last of its letters."""
        first, last = self.told[0][0], self.told[-1][0]
        return first if first == last else fill("{first}–{last}", first=first, last=last)

    @property
    def wound(self) -> bool:
        """Whether the main wound is here."""
        return any(place.finding.wound for _, place in self.told)


@dataclass(frozen=True)
class Face:
    """Where everything goes; points."""

    wide: float
    high: float
    orientation: Orientation

    @property
    def centre(self) -> Point:
        """Middle of the circle."""
        return self.wide / 2, self.high / 2

    @property
    def radius(self) -> float:
        """Of the circle."""
        return min(self.high / 2 - _STRIP, self.wide / 2 - BESIDE - _NARROW)

    @property
    def column(self) -> float:
        """Width for words at each side."""
        return self.wide / 2 - self.radius - BESIDE

    @property
    def top(self) -> float:
        """Where words beside the face may begin: under a seat that is above."""
        return _SEAT if self.orientation.seat is Seat.SUPERIOR else 0.0

    @property
    def bottom(self) -> float:
        """Where they end: over a seat that is below."""
        return self.high - (_SEAT if self.orientation.seat is Seat.INFERIOR else 0.0)

    def at(self, hour: float, radius: float) -> Point:
        """Return a point at an anatomical hour."""
        angle = math.radians(hour * 30)
        return self.centre[0] + radius * math.sin(angle), self.centre[1] - radius * math.cos(angle)

    def tag(self, tag: Tag) -> Box:
        """Return the box of a mark: on the circle, and wider outwards."""
        x, y = self.at(tag.hour, self.radius)
        wide = max(_HIGH, width(tag.text, bold=True) + 9)
        left = x - wide / 2 if tag.hour in (6, 12) else x - _HIGH / 2
        left = x + _HIGH / 2 - wide if 6 < tag.hour < 12 else left
        return Box(left, y - _HIGH / 2, left + wide, y + _HIGH / 2)

    def clauses(self, place: Place) -> tuple[SafeText, ...]:
        """Return what is said of a finding, in parts that are best kept on a line each."""
        doubt = (wording("(to be checked)"),) if self.orientation.doubted(place) else ()
        anatomical, surgeon = place.hours
        return (fill("{name}:", name=place.finding.name), fill("{hour},", hour=anatomical), surgeon, *doubt)

    @property
    def seat(self) -> SafeText:
        """Words at the surgeon's seat."""
        return fill("Surgeon's seat ({seat})", seat=term(self.orientation.seat))


def face(made: Face, tags: list[Tag]) -> Iterator[Item]:
    """Draw the circle and everything on it."""
    yield Fill(_circle(made, made.radius), Ink.BAND, Ink.BLACK, 2.0)
    yield from _hours(made, {tag.hour for tag in tags})
    yield from _directions(made)
    for tag in tags:
        yield from _tag(made, tag)
    if made.orientation.seat in (Seat.SUPERIOR, Seat.INFERIOR):
        yield from _seat(made)


def pointer(tip: Point, towards: Point) -> Fill:
    """Return the mark of the seat: a triangle with its tip towards the eye."""
    dx, dy = towards
    base = tip[0] - 16 * dx, tip[1] - 16 * dy
    return Fill(
        (tip, (base[0] - 11 * dy, base[1] + 11 * dx), (base[0] + 11 * dy, base[1] - 11 * dx)), Ink.BLACK
    )


def _circle(made: Face, radius: float) -> tuple[Point, ...]:
    return tuple(made.at(step / 10, radius) for step in range(120))


def _hours(made: Face, marked: set[int]) -> Iterator[Item]:
    """Write the hours, with a tick at those that have no mark."""
    free = (hour for hour in range(1, 13) if hour not in marked)
    yield Stroke(
        tuple((made.at(hour, made.radius - 6), made.at(hour, made.radius)) for hour in free), width=1.5
    )
    for hour in range(1, 13):
        x, y = made.at(hour, made.radius - _HOURS)
        yield from centred((number(hour),), x, y - LINE / 2)


def _directions(made: Face) -> Iterator[Item]:
    """Write the four directions inside the hours, and the pupil where there is room for it."""
    (x, y), inner = made.centre, made.radius - _HOURS - 11
    for hour in (12, 3, 6, 9):
        word = capital(term(sector(made.orientation.side, hour)))
        wide = width(word, bold=True)
        if hour in (12, 6):
            yield from centred((word,), x, y - inner + 2 if hour == 12 else y + inner - LINE - 2, bold=True)
        else:
            yield from write((word,), x + inner - wide if hour == 3 else x - inner, y - LINE / 2, bold=True)
    pupil = min(0.2 * made.radius, inner - width(_WIDEST, bold=True) - 8)
    if pupil > 8:
        yield Fill(_circle(made, pupil), Ink.WHITE, Ink.GREY, 1.2)


def _tag(made: Face, tag: Tag) -> Iterator[Item]:
    left, top, right, bottom = made.tag(tag)
    cut = 6.0
    corners = (
        (left + cut, top), (right - cut, top), (right, top + cut), (right, bottom - cut),
        (right - cut, bottom), (left + cut, bottom), (left, bottom - cut), (left, top + cut),
    )  # fmt: skip
    yield Fill(corners, Ink.WHITE, Ink.BLACK, 3.0 if tag.wound else 1.5)
    yield from centred((tag.text,), (left + right) / 2, (top + bottom) / 2 - TEXT / 2 - 0.5, bold=True)


def _seat(made: Face) -> Iterator[Item]:
    """Draw a seat above or below; one at a side stands among the words there."""
    x, above = made.centre[0], made.orientation.seat is Seat.SUPERIOR
    tip = 21.0 if above else made.high - 21
    yield pointer((x, tip), (0, 1 if above else -1))
    yield from write((made.seat,), x + 18, 5 if above else made.high - 5 - LINE, bold=True)
