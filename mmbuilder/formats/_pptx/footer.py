"""The band at the foot of every slide: confidentiality, use, slide number."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from mmbuilder.errors import FileRefused
from mmbuilder.formats._pptx import shapes
from mmbuilder.formats._pptx.geometry import Box
from mmbuilder.formats._pptx.shapes import Ids
from mmbuilder.formats._pptx.stage import Seat
from mmbuilder.formats._pptx.style import SMALL, Face, Role
from mmbuilder.formats._pptx.text import Para
from mmbuilder.formats._pptx.xml import Element

NUMBER = 48.0
GAP = 24.0
LINES = 2
"""Lines the confidentiality line may take."""


def footer(ids: Ids, seat: Seat, band: tuple[str, str], number: int, face: Face) -> Iterator[Element]:
    """Return the three texts, in the layout's placeholders where it has them; the use if there is room.

    Raises:
        FileRefused: the confidentiality line does not fit two lines of 12 pt.
    """
    banner, use = (Para(text, SMALL, role=Role.QUIET, face=face) for text in band)
    foot = seat.band
    side = min(_longest(use, foot.w * 0.3), foot.w * 0.3)
    left = Box(foot.x, foot.y, foot.w - NUMBER - side - 2 * GAP, LINES * banner.pitch)
    told = len(banner.lines(left.w)) == 1
    if not told:  # the use stands on the first slide: it gives way to what must be read
        left = replace(left, w=foot.w - NUMBER - GAP)
    if len(banner.lines(left.w)) > LINES:
        raise FileRefused(_too_long(len(banner.text)))
    if banner.text:
        yield _words(ids, "Confidentiality", seat, banner, left, held=True)
    if use.text and told:
        middle = Box(left.right + GAP, foot.y, side, LINES * use.pitch)
        yield _words(ids, "Use", seat, use, middle, held=False)
    yield _number(ids, seat, number)


def _longest(para: Para, room: float) -> float:
    from mmbuilder.formats._pptx import measure

    return max(measure.width(line, para.size) for line in para.lines(room)) * para.face.stretch + 1


def _words(ids: Ids, name: str, seat: Seat, para: Para, box: Box, *, held: bool) -> Element:
    body = shapes.text_body((para,), seat.palette, align="l" if held else "r")
    if held and seat.footer:
        return shapes.placeholder(ids, name, seat.footer, body, box)
    return shapes.text_box(ids, name, box, body)


def _number(ids: Ids, seat: Seat, number: int) -> Element:
    place = Box(seat.band.right - NUMBER, seat.band.y, NUMBER, LINES * SMALL)
    body = shapes.slide_number(seat.palette.quiet, number)
    if seat.number:
        return shapes.placeholder(ids, "Slide number", seat.number, body, place)
    return shapes.text_box(ids, "Slide number", place, body)


def _too_long(letters: int) -> str:
    return (
        "The confidentiality line does not fit the foot of a slide.\n"
        f"  found     a line of {letters} letters\n"
        "  expected  two lines of 12 pt: about 200 letters on a wide slide, fewer on a narrow one\n"
        "  why       it stands on every slide, and has to be read there\n"
        "  try       shorten `closing` in the file of the use, such as: For this department only."
    )
