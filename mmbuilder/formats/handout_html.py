"""The paper that goes with a deck, as one self-contained page that prints."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any, LiteralString, assert_never

from jinja2 import Environment, FileSystemLoader, StrictUndefined, Template
from markupsafe import Markup, escape

from mmbuilder import labels
from mmbuilder.formats._paper.drawings import drawings
from mmbuilder.resources import templates
from mmbuilder.safe.bound import bound
from mmbuilder.safe.cautions import CAUTION
from mmbuilder.safe.direction import runs_left
from mmbuilder.safe.text import EMPTY, SafeText, capital, wording
from mmbuilder.storyboard.blocks import (
    Block,
    Bullets,
    Callout,
    Diagram,
    Facts,
    Paragraph,
    Picture,
    Sheet,
    Storyboard,
    Table,
    TimeChart,
)

FORMAT = "html"
"""What a use calls it."""

SUFFIX = ".html"

_SHEET = Sheet()


@dataclass(frozen=True)
class _Drawings:
    """What a block is drawn as, and what the drawings show, told."""

    alt: SafeText = EMPTY
    pictures: tuple[Markup, ...] = ()
    notes: SafeText = EMPTY


def write(board: Storyboard, sheet: Sheet = _SHEET) -> bytes:
    """Write the page.

    Args:
        board: a storyboard made for paper (`storyboard.compose_papers`).
        sheet: what it is printed on; a page takes as many as it needs.

    Returns:
        UTF-8 HTML with its style and drawings inside; it asks for no other file.
    """
    page = _template("handout.html.j2")
    language, size = Markup(labels.spoken()), _page(sheet)
    return page.render(board=board, block=_block, language=language, page=size, caution=CAUTION).encode()


def _page(sheet: Sheet) -> Markup:
    """The sheet as CSS names it (CSS Paged Media, `size`)."""
    return Markup(f"{sheet.size.value} {'portrait' if sheet.upright else 'landscape'}")


@cache
def _template(name: str) -> Template:
    environment = Environment(
        loader=FileSystemLoader(templates()),
        autoescape=True,
        undefined=StrictUndefined,
        finalize=_reveal,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.globals["wording"], environment.filters["capital"] = wording, capital
    environment.filters["way"] = _way
    return environment.get_template(name)


def _reveal(value: object) -> object:
    """Let nothing onto the page but safe text, counts and our own markup."""
    if isinstance(value, SafeText):
        return escape(bound(value.reveal()))
    if isinstance(value, Markup | int | float):
        return value
    raise TypeError(f"a page part of type {type(value).__name__} is not safe to write")


def _way(text: SafeText) -> Markup:
    """A browser's own guess would count a letter that is kept apart."""
    return Markup("rtl" if runs_left(text.reveal()) else "ltr")


def _block(block: Block) -> Markup:
    macros: Any = _template("handout_blocks.html.j2").module
    return Markup(getattr(macros, _macro(block))(block, _drawings(block)))


def _macro(block: Block) -> LiteralString:
    match block:
        case Paragraph():
            return "paragraph"
        case Bullets():
            return "bullets"
        case Facts():
            return "facts"
        case Table():
            return "grid"
        case Callout():
            return "callout"
        case TimeChart():
            return "drawing"
        case Diagram():
            return "diagram"
        case Picture():
            return "still"
        case _:
            assert_never(block)


def _drawings(block: Block) -> _Drawings:
    """Return the block's drawings as inline SVG, so that their words can be searched and read aloud."""
    made = drawings(block)
    return _Drawings(made.alt, tuple(map(_inline, made.svgs)), made.notes)


def _inline(svg: bytes) -> Markup:
    told = svg.decode()
    return Markup(told[told.index("<svg") :])
