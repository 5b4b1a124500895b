"""The allow-list below the parts: every element, attribute and word that the formats themselves have."""

from __future__ import annotations

from functools import cache
from importlib import resources

from mmbuilder.scrub.containers._ooxml.xml import NAMESPACES, q

_SHIPPED = """Aptos,Aptos Display,Aptos Narrow,Arial,Arial Black,Arial Narrow,Arial Unicode MS,Bahnschrift,
    Book Antiqua,Bookman Old Style,Calibri,Calibri Light,Cambria,Cambria Math,Candara,Carlito,
    Caladea,Century,Century Gothic,Century Schoolbook,Comic Sans MS,Consolas,Constantia,Corbel,
    Courier,Courier New,DejaVu Sans,DejaVu Sans Mono,DejaVu Serif,Droid Sans,Franklin Gothic Book,
    Franklin Gothic Medium,Garamond,Geneva,Georgia,Gill Sans,Gill Sans MT,Helvetica,Helvetica Neue,
    Impact,Lato,Liberation Mono,Liberation Sans,Liberation Serif,Lucida Console,Lucida Sans,
    Lucida Sans Unicode,Mangal,Meiryo,Microsoft Sans Serif,MS Gothic,MS Mincho,MS PGothic,MS PMincho,
    Noto Sans,Noto Serif,Open Sans,OpenSymbol,Palatino,Palatino Linotype,Roboto,Segoe UI,
    Segoe UI Light,Segoe UI Semibold,SimSun,Source Sans Pro,Symbol,Tahoma,Times,Times New Roman,
    Trebuchet MS,Tw Cen MT,Ubuntu,Verdana,Webdings,Wingdings,Wingdings 2,Wingdings 3,Yu Gothic,
    Yu Mincho,Segoe UI Emoji,+mj-lt,+mn-lt,+mj-ea,+mn-ea,+mj-cs,+mn-cs"""
FONTS = frozenset(font.strip() for font in _SHIPPED.split(","))
"""Fonts that come with systems and office programs; common practice, no source."""


@cache
def _read() -> tuple[frozenset[str], dict[str, dict[str, str]]]:
    text = (resources.files("mmbuilder.scrub.containers._ooxml") / "vocabulary.txt").read_text(
        encoding="utf-8"
    )
    first, *lines = text.splitlines()
    elements: dict[str, dict[str, str]] = {}
    for line in lines:
        tag, *attributes = line.split(" ")
        elements[q(tag)] = {_spelt(one[2:]): one[0] for one in attributes if _spelt(one[2:])}
    return frozenset(first.split(" ")), elements


def _spelt(name: str) -> str:
    prefix, colon, _ = name.partition(":")
    if not colon:
        return name
    return q(name) if prefix in NAMESPACES else ""


def words() -> frozenset[str]:
    """Every word that is a value of some setting."""
    return _read()[0]


def attributes(tag: str) -> dict[str, str] | None:
    """Attributes of an element and what each holds (w word, n number, s string); None for an unknown one."""
    return _read()[1].get(tag)
