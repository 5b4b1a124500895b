"""The house template as a stage. Its places are read from the file; nothing is told twice."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path
from typing import cast

from pptx import Presentation
from pptx.enum.shapes import PP_PLACEHOLDER as KIND
from pptx.shapes.placeholder import LayoutPlaceholder
from pptx.slide import SlideLayout

from mmbuilder import resources
from mmbuilder.formats._pptx.geometry import EMU, Box
from mmbuilder.formats._pptx.stage import Holder, Seat, Stage
from mmbuilder.formats._pptx.style import DEEP, HEADLINE, HOUSE_FACE, LIGHT, OPENING, Palette

_TITLE, _WRITTEN, _PLAIN, _PAUSE, _CLOSING = range(5)
_DRAFT = Box(814, 36, 92, 28)


def path() -> Path:
    """The file that ships."""
    return resources.templates() / "deck.pptx"


def stage() -> Stage:
    """Open the house template."""
    deck = Presentation(str(path()))
    layouts = deck.slide_layouts
    written = _seat(layouts[_WRITTEN], HEADLINE, LIGHT)
    return Stage(
        deck=deck,
        opening=_seat(layouts[_TITLE], OPENING, DEEP),
        telling=replace(_seat(layouts[_PLAIN], HEADLINE, LIGHT, written.body)),
        written=written,
        pause=_seat(layouts[_PAUSE], HEADLINE, LIGHT),
        closing=_seat(layouts[_CLOSING], HEADLINE[2:], DEEP),
        face=HOUSE_FACE,
    )


def _seat(layout: SlideLayout, sizes: tuple[float, ...], palette: Palette, body: Box | None = None) -> Seat:
    found = {holder.placeholder_format.type: holder for holder in holders(layout)}
    title = found.get(KIND.TITLE) or found[KIND.CENTER_TITLE]
    text = found.get(KIND.BODY) or found.get(KIND.SUBTITLE)
    footer, number = found[KIND.FOOTER], found[KIND.SLIDE_NUMBER]
    room = body or (place(text) if text is not None else None)
    assert room is not None
    left, right = place(footer), place(number)
    return Seat(
        layout=layout,
        headline=place(title),
        body=room,
        sizes=sizes,
        palette=palette,
        title=holder(title),
        text=holder(text) if text is not None else None,
        band=Box(left.x, left.y, right.right - left.x, left.h),
        footer=holder(footer),
        number=holder(number),
        draft=_DRAFT,
    )


def holders(layout: SlideLayout) -> tuple[LayoutPlaceholder, ...]:
    """Return the placeholders of a layout."""
    placeholders: Iterable[LayoutPlaceholder] = cast("Iterable[LayoutPlaceholder]", layout.placeholders)
    return tuple(placeholders)


def place(shape: LayoutPlaceholder) -> Box:
    """Return where a placeholder of a layout stands, its master asked if it does not say itself.

    One that stands nowhere has no size: a template like that is read, and its place not used.
    """
    x, y, w, h = ((value or 0) / EMU for value in (shape.left, shape.top, shape.width, shape.height))
    return Box(x, y, w, h)


def holder(shape: LayoutPlaceholder) -> Holder:
    """Return what a slide's shape says to belong to this placeholder."""
    format_ = shape.placeholder_format
    mark = shape.element.ph
    assert mark is not None  # every placeholder has its p:ph
    return Holder(mark.get("type", "obj"), format_.idx)
