"""What a template offers: for each kind of slide a layout, and the places on it."""

from __future__ import annotations

from dataclasses import dataclass

from pptx.presentation import Presentation
from pptx.slide import SlideLayout

from mmbuilder.formats._pptx.geometry import Box
from mmbuilder.formats._pptx.style import Face, Palette


@dataclass(frozen=True)
class Holder:
    """A placeholder of the layout: what a shape says to belong to it."""

    kind: str
    idx: int = 0


@dataclass(frozen=True)
class Seat:
    """A layout and its places.

    Attributes:
        headline, body: where the sentence and the telling stand.
        sizes: headline sizes, largest first.
        palette: colours on its ground.
        title: the headline's placeholder.
        text: the body's placeholder, if there is one.
        band: footer line: confidentiality, use, slide number.
        footer, number: their placeholders, if the layout has them.
        draft: where the DRAFT mark is stamped.
        bar: where a PAUSE bar has to be drawn, because the layout has none.
        moved: the headline's place where it is not the layout's own.
    """

    layout: SlideLayout
    headline: Box
    body: Box
    sizes: tuple[float, ...]
    palette: Palette
    title: Holder
    text: Holder | None
    band: Box
    footer: Holder | None
    number: Holder | None
    draft: Box
    bar: Box | None = None
    moved: Box | None = None


@dataclass(frozen=True)
class Wanted:
    """What a department says of its template; a name that is not said is found by the layout's places.

    Attributes:
        opening, telling: names of layouts, as slide software shows them.
        crest: whether its small pictures stay.
    """

    opening: str = ""
    telling: str = ""
    crest: bool = True


@dataclass(frozen=True)
class Stage:
    """An empty deck with its seats."""

    deck: Presentation
    opening: Seat
    telling: Seat
    written: Seat
    """For a sheet that holds text only: the layout whose body placeholder takes it."""
    pause: Seat
    closing: Seat
    face: Face
