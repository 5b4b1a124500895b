"""Arrows, rings and labels on a picture: native shapes, light on a dark halo, seen on any ground."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import hypot

from mmbuilder.formats._pptx import measure
from mmbuilder.formats._pptx.geometry import Box, emu
from mmbuilder.formats._pptx.shapes import Ids, frame, geometry, properties, text_body, text_box
from mmbuilder.formats._pptx.style import LABEL, Colour, Face, Palette, Role
from mmbuilder.formats._pptx.text import Para
from mmbuilder.formats._pptx.xml import Element, el
from mmbuilder.safe.case import Arrow, Circle

_CORE, _HALO = 4.0, 8.0
_PAD_X, _PAD_Y = 8.0, 3.0
_STEP = 12.0
_COVERED = 400.0
_HEAD = 26.0
"""Ground round the tip of an arrow that no label may cover: what it points at."""


@dataclass(frozen=True)
class Label:
    """Words beside a mark, and where they stand."""

    lines: tuple[str, ...]
    box: Box


def marks(
    ids: Ids, picture: Box, arrows: Sequence[Arrow], circles: Sequence[Circle], palette: Palette
) -> Iterator[Element]:
    """Draw every arrow and ring on a picture that stands in `picture`."""
    for circle in circles:
        yield from _ring(ids, ring(picture, circle), palette)
    for arrow in arrows:
        yield from _arrow(ids, line(picture, arrow), palette)


def line(picture: Box, arrow: Arrow) -> tuple[float, float, float, float]:
    """Return an arrow's ends on the slide: tail x, y, tip x, y."""
    return (
        picture.x + arrow.x0 * picture.w,
        picture.y + arrow.y0 * picture.h,
        picture.x + arrow.x1 * picture.w,
        picture.y + arrow.y1 * picture.h,
    )


def ring(picture: Box, circle: Circle) -> Box:
    """Return the box of a ring on the slide."""
    radius = circle.radius * picture.w
    x, y = picture.x + circle.x * picture.w, picture.y + circle.y * picture.h
    return Box(x - radius, y - radius, 2 * radius, 2 * radius)


def _ring(ids: Ids, box: Box, palette: Palette) -> Iterator[Element]:
    for width, colour in ((_HALO, palette.halo), (_CORE, palette.mark)):
        yield el(
            "p:sp",
            el("p:nvSpPr", properties(ids, "Mark", decorative=True), el("p:cNvSpPr"), el("p:nvPr")),
            el("p:spPr", frame(box), geometry("ellipse"), el("a:noFill"), _pen(width, colour)),
        )


def _arrow(ids: Ids, ends: tuple[float, float, float, float], palette: Palette) -> Iterator[Element]:
    x0, y0, x1, y1 = ends
    length = hypot(x1 - x0, y1 - y0) or 1
    # The halo's head reaches a little past the tip, so that the point too has a dark edge.
    dx, dy = (x1 - x0) / length * 4, (y1 - y0) / length * 4
    yield _connector(ids, (x0 - dx / 2, y0 - dy / 2, x1 + dx, y1 + dy), _HALO, palette.halo, "med")
    yield _connector(ids, ends, _CORE, palette.mark, "lg")


def _connector(
    ids: Ids, ends: tuple[float, float, float, float], width: float, colour: Colour, head: str
) -> Element:
    x0, y0, x1, y1 = ends
    place = frame(Box(min(x0, x1), min(y0, y1), abs(x1 - x0), abs(y1 - y0)))
    if x1 < x0:
        place.set("flipH", "1")
    if y1 < y0:
        place.set("flipV", "1")
    pen = _pen(width, colour)
    pen.append(el("a:round"))
    pen.append(el("a:tailEnd", type="triangle", w=head, len=head))
    return el(
        "p:cxnSp",
        el("p:nvCxnSpPr", properties(ids, "Mark", decorative=True), el("p:cNvCxnSpPr"), el("p:nvPr")),
        el("p:spPr", place, geometry("line"), pen),
    )


def _pen(width: float, colour: Colour) -> Element:
    return el("a:ln", colour.fill(), w=emu(width), cap="rnd")


def label_shapes(ids: Ids, labels: Sequence[Label], palette: Palette, face: Face) -> Iterator[Element]:
    """Draw labels as text boxes on a solid ground."""
    for label in labels:
        paras = [Para(text, LABEL, True, Role.ON_HALO, face=face) for text in label.lines]
        body = text_body(paras, palette, align="ctr", anchor="ctr")
        yield text_box(ids, "Label", label.box, body, ground=palette.halo)


def placed_labels(
    picture: Box,
    arrows: Sequence[Arrow],
    circles: Sequence[Circle],
    words: Sequence[str],
    face: Face,
    letters: Sequence[Box],
) -> tuple[Label, ...]:
    """Find each label a place on the picture, near its mark, off the others and off what is pointed at.

    `letters` are the places of words that the picture itself holds: they are kept free as well.
    """
    lines = [line(picture, arrow) for arrow in arrows]
    rings = [ring(picture, circle) for circle in circles]
    anchors = [(x0, y0) for x0, y0, _, _ in lines] + [(box.x + box.w / 2, box.bottom) for box in rings]
    kept = [*_along(lines), *rings, *letters]
    made: list[Label] = []
    for anchor, text in zip(anchors, words, strict=True):
        if text:
            made.append(_placed(picture, anchor, text, kept, [label.box for label in made], face))
    return tuple(made)


def _along(lines: Sequence[tuple[float, float, float, float]]) -> Iterator[Box]:
    """Cover each arrow with small boxes, and its tip with a larger one."""
    for x0, y0, x1, y1 in lines:
        yield Box(x1 - _HEAD, y1 - _HEAD, 2 * _HEAD, 2 * _HEAD)
        steps = int(hypot(x1 - x0, y1 - y0) / 12) + 1
        for step in range(steps):
            x, y = x0 + (x1 - x0) * step / steps, y0 + (y1 - y0) * step / steps
            yield Box(x - 5, y - 5, 10, 10)


def _placed(
    picture: Box,
    anchor: tuple[float, float],
    text: str,
    kept: Sequence[Box],
    taken: Sequence[Box],
    face: Face,
) -> Label:
    best: tuple[float, Label] | None = None
    for room in (picture.w, picture.w * 0.5, picture.w * 0.3):
        lines = measure.lines(text, max(room - 2 * _PAD_X, LABEL) / face.stretch, LABEL, True)
        wide, tall = _extent(lines, face)
        found = _nearest(_spots(picture, wide, tall, anchor), kept, taken)
        if found is not None and (best is None or found[0] < best[0] - 1e-6):
            best = found[0], Label(lines, found[1])
    if best is None:  # a picture too small for words: they stand just below it
        wide, tall = _extent((text,), face)
        return Label((text,), Box(picture.x, picture.bottom, wide, tall))
    return best[1]


def _extent(lines: Sequence[str], face: Face) -> tuple[float, float]:
    """Return width and height of a label with these lines."""
    wide = max(measure.width(part, LABEL, bold=True) for part in lines) * face.stretch
    return wide + 2 * _PAD_X, len(lines) * LABEL * face.pitch + 2 * _PAD_Y


def _nearest(
    spots: Iterable[tuple[float, Box]], kept: Sequence[Box], taken: Sequence[Box]
) -> tuple[float, Box] | None:
    """Return the best free spot; one that covers what is pointed at costs as much as a long way."""
    best: tuple[float, Box] | None = None
    for far, spot in spots:
        if best is not None and far >= best[0]:
            break
        if any(spot.meets(box, 4) for box in taken):
            continue
        cost = far + _COVERED * sum(spot.meets(box) for box in kept)
        if best is None or cost < best[0]:
            best = cost, spot
    return best


def _spots(
    picture: Box, wide: float, tall: float, anchor: tuple[float, float]
) -> Iterator[tuple[float, Box]]:
    """Yield how far from the anchor each place of a label is, and the place; the nearest first."""
    rows = list(_steps(picture.y, picture.h, tall, anchor[1]))
    columns = list(_steps(picture.x, picture.w, wide, anchor[0]))
    for far, y, x in sorted((hypot(aside, off), y, x) for off, y in rows for aside, x in columns):
        yield far, Box(x, y, wide, tall)


def _steps(start: float, room: float, size: float, point: float) -> Iterator[tuple[float, float]]:
    """Yield how far a point is from a stretch of this size at each step, and where the stretch begins."""
    for step in range(int((room - size) // _STEP) + 1):
        place = start + step * _STEP
        yield max(place - point, 0, point - place - size), place
