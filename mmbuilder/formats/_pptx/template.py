"""The user's own template as a stage: its masters, layouts and theme stay, everything else goes."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path

from pptx import Presentation
from pptx.enum.shapes import PP_PLACEHOLDER as KIND
from pptx.presentation import Presentation as Deck
from pptx.shapes.placeholder import LayoutPlaceholder
from pptx.slide import SlideLayout

from mmbuilder.errors import FileRefused
from mmbuilder.formats._pptx import colours, intake, strip
from mmbuilder.formats._pptx.geometry import EMU, Box
from mmbuilder.formats._pptx.house import holder, holders, place
from mmbuilder.formats._pptx.stage import Seat, Stage, Wanted
from mmbuilder.formats._pptx.style import HEADLINE, HOUSE_FACE, OPENING, SMALL, Face, Palette

_NOTHING_SAID = Wanted()

_TITLES = (KIND.TITLE, KIND.CENTER_TITLE)
_FOOT = (KIND.FOOTER, KIND.SLIDE_NUMBER, KIND.DATE)
_MARGIN = 36.0
_FOOT_HEIGHT = 2 * SMALL * 1.35
_DRAFT = (92.0, 28.0)
_BAR = 84.0
_TWO_LINES = 76.0
"""Height that holds two lines of 28 pt in any face."""

_BODY_LEAST = 0.5
"""Share of the slide's height a telling needs."""

# Advance widths against Carlito's over English text. Arial's 1.15 is from memory, on the safe side;
# DejaVu Sans, one of the widest in use, measured 1.25, so a face we do not know gets 1.35.
_FACES = {
    "calibri": HOUSE_FACE,
    "carlito": HOUSE_FACE,
    "arial": Face(1.15, 1.22),
    "helvetica": Face(1.15, 1.22),
}
_UNKNOWN = Face(1.35, 1.36)


@dataclass(frozen=True)
class Found:
    """A layout with its placeholders by kind."""

    layout: SlideLayout
    title: LayoutPlaceholder
    others: tuple[LayoutPlaceholder, ...]

    @property
    def filled(self) -> int:
        """How many placeholders want content: fewest is a title-only layout."""
        return sum(shape.placeholder_format.type not in _FOOT for shape in self.others)

    def first(self, *kinds: KIND) -> LayoutPlaceholder | None:
        """Return the first placeholder of these kinds."""
        return next((shape for shape in self.others if shape.placeholder_format.type in kinds), None)


def stage(path: Path, wanted: Wanted = _NOTHING_SAID) -> Stage:
    """Open a user's template.

    Args:
        path: the template.
        wanted: what the department says of it.

    Raises:
        FileRefused: it is no .pptx, locked, with macros, too large, has no layout to tell a case on, or
            none of a name that was asked for.
    """
    deck, opening, plain = chosen(path, wanted)
    strip.strip(deck, crest=wanted.crest)
    palette, face = colours.palette(deck), _FACES.get(colours.body_face(deck).lower(), _UNKNOWN)
    telling = _seat(deck, plain, HEADLINE, palette)
    return Stage(
        deck=deck,
        opening=_opening(deck, opening, telling, palette),
        telling=telling,
        written=telling,
        pause=_paused(telling),
        closing=telling,
        face=face,
    )


def chosen(path: Path, wanted: Wanted = _NOTHING_SAID) -> tuple[Deck, Found, Found]:
    """Open a template and return it with the layouts that serve its opening and its telling.

    Raises:
        FileRefused: as for `stage`.
    """
    intake.admit(path)
    deck = _opened(path)
    found = [layout for layout in map(_look, _layouts(deck)) if layout is not None]
    if not found:
        raise FileRefused(
            intake.said("no layout with a place for a title", "one layout with a title placeholder")
        )
    plain = _named(found, wanted.telling) or min(found, key=lambda item: item.filled)
    opening = _named(found, wanted.opening) or next((item for item in found if _opens(item)), plain)
    return deck, opening, plain


def looked_at(deck: Deck) -> list[tuple[SlideLayout, str]]:
    """Return every layout with what it lacks to serve; nothing where it could."""
    return [
        (layout, "" if _look(layout) is not None else "no place for a title") for layout in _layouts(deck)
    ]


def _named(found: list[Found], name: str) -> Found | None:
    """Return the layout of a name; letter case and spaces at the ends do not matter."""
    if not name:
        return None
    for item in found:
        if item.layout.name.strip().casefold() == name.strip().casefold():
            return item
    raise FileRefused(
        intake.said(
            "no layout of the name that department.yaml asks for, with a place for a title",
            f"one of the {len(found)} names that `mmbuilder template` lists",
        )
    )


def _opened(path: Path) -> Deck:
    try:
        return Presentation(str(path))
    except Exception as fault:  # whatever the library trips over, the user needs one answer
        raise FileRefused(intake.said("a damaged file", "a .pptx that opens in slide software")) from fault


def _layouts(deck: Deck) -> Iterable[SlideLayout]:
    return (layout for master in deck.slide_masters for layout in master.slide_layouts)


def _look(layout: SlideLayout) -> Found | None:
    shapes = holders(layout)
    title = next((shape for shape in shapes if shape.placeholder_format.type in _TITLES), None)
    return Found(layout, title, tuple(shape for shape in shapes if shape is not title)) if title else None


def _opens(found: Found) -> bool:
    return found.title.placeholder_format.type == KIND.CENTER_TITLE or found.first(KIND.SUBTITLE) is not None


def _seat(deck: Deck, found: Found, sizes: tuple[float, ...], palette: Palette) -> Seat:
    """Return the room left between title and foot, and a headline that makes way for the DRAFT mark."""
    width, height = _size(deck)
    foot = _foot(deck, found)
    crests = _crests(found.layout)
    draft = _beside(Box(width - _MARGIN - _DRAFT[0], 14, *_DRAFT), crests)
    headline = _headline(place(found.title), (draft, *crests), width)
    bottom = min([foot.y, *(crest.y for crest in crests if crest.y > height * 0.7)]) - 10
    if bottom - headline.bottom < height * _BODY_LEAST:
        # A title in the middle of its layout leaves no room below: the headline goes to the top.
        headline = _upper(draft, width)
    top = headline.bottom + 10
    left, right = max(headline.x, _MARGIN), width - _MARGIN
    body = Box(left, top, right - left, bottom - top)
    footer, number = found.first(KIND.FOOTER), found.first(KIND.SLIDE_NUMBER)
    return Seat(
        layout=found.layout,
        headline=headline,
        body=body,
        sizes=sizes,
        palette=palette,
        title=holder(found.title),
        text=None,
        band=foot,
        footer=holder(footer) if footer is not None else None,
        number=holder(number) if number is not None else None,
        draft=draft,
        moved=headline,
    )


def _crests(layout: SlideLayout) -> tuple[Box, ...]:
    """Return the places of small pictures on the layout and its master."""
    return tuple(
        Box(shape.left / EMU, shape.top / EMU, shape.width / EMU, shape.height / EMU)
        for shape in (*layout.shapes, *layout.slide_master.shapes)
        if strip.is_crest(shape)
    )


def _beside(draft: Box, crests: tuple[Box, ...]) -> Box:
    """Move the DRAFT mark left of a crest in the corner."""
    for crest in crests:
        if draft.meets(crest):
            draft = replace(draft, x=crest.x - 12 - draft.w)
    return draft


def _headline(title: Box, taken: tuple[Box, ...], width: float) -> Box:
    """Return the template's own place for the headline, or ours where that cannot hold two lines."""
    clear = title
    for box in taken:
        clear = _clear(clear, box)
    usable = clear.w >= width * 0.4 and clear.x >= 0 and clear.right <= width and clear.y >= 0
    return replace(clear, h=max(clear.h, _TWO_LINES)) if usable else _upper(taken[0], width)


def _upper(draft: Box, width: float) -> Box:
    return Box(_MARGIN, draft.bottom + 8, width - 2 * _MARGIN, _TWO_LINES)


def _clear(title: Box, taken: Box) -> Box:
    """Narrow a headline from the side on which something stands in its way."""
    if not title.meets(taken):
        return title
    if taken.x + taken.w / 2 > title.x + title.w / 2:
        return replace(title, w=taken.x - 12 - title.x)
    return replace(title, x=taken.right + 12, w=title.right - taken.right - 12)


def _foot(deck: Deck, found: Found) -> Box:
    """Return the footer line: where the layout has its own, else above the lower edge."""
    width, height = _size(deck)
    own = [place(shape) for shape in found.others if shape.placeholder_format.type in _FOOT]
    low = [box for box in own if box.y > height * 0.8]
    top = min((box.y for box in low), default=height - _MARGIN / 2 - _FOOT_HEIGHT)
    top = min(top, height - _FOOT_HEIGHT - 4)
    band = Box(_MARGIN, top, width - 2 * _MARGIN, _FOOT_HEIGHT)
    for crest in _crests(found.layout):
        band = _clear(band, crest)
    return band


def _opening(deck: Deck, found: Found, telling: Seat, palette: Palette) -> Seat:
    """Return the title layout: its own title place, the lines below it in its subtitle's place."""
    seat = _seat(deck, found, OPENING, palette)
    subtitle = found.first(KIND.SUBTITLE, KIND.BODY)
    if subtitle is None:
        return seat
    title, low = place(found.title), place(subtitle)
    bottom = seat.band.y - 10
    if low.y < title.bottom or bottom - low.y < 80 or title.h < _TWO_LINES:
        return telling
    body = replace(low, h=bottom - low.y)
    headline = _clear(title, seat.draft)
    return replace(seat, headline=headline, body=body, text=holder(subtitle), moved=headline)


def _paused(telling: Seat) -> Seat:
    """Return the telling layout with a bar at the left that stops the room."""
    left = _BAR + 24
    shift = max(left - telling.body.x, 0)
    headline = replace(telling.headline, x=telling.headline.x + shift, w=telling.headline.w - shift)
    return replace(
        telling,
        headline=headline,
        moved=headline,
        body=replace(telling.body, x=telling.body.x + shift, w=telling.body.w - shift),
        band=replace(
            telling.band, x=max(left, telling.band.x), w=telling.band.right - max(left, telling.band.x)
        ),
        bar=Box(0, 0, _BAR, telling.band.bottom + 4),
    )


def _size(deck: Deck) -> tuple[float, float]:
    assert deck.slide_width
    assert deck.slide_height
    return deck.slide_width / EMU, deck.slide_height / EMU
