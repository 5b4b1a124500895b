"""Colours and face of somebody else's theme, and whether they can be read."""

from __future__ import annotations

import lxml.etree as etree
from pptx.opc.constants import RELATIONSHIP_TYPE as RT
from pptx.presentation import Presentation

from mmbuilder.formats._pptx.style import Colour, Palette
from mmbuilder.formats._pptx.xml import NAMESPACES, Element

READABLE = 4.5
"""WCAG 2 success criterion 1.4.3, level AA."""


def luminance(rgb: str) -> float:
    """Relative luminance of six hex digits. Source: WCAG 2 definition of relative luminance."""
    channels = (int(rgb[place : place + 2], 16) / 255 for place in (0, 2, 4))
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """Contrast ratio, 1 to 21. Source: WCAG 2 definition of contrast ratio."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def palette(deck: Presentation) -> Palette:
    """Return the theme's text colour throughout, its accent and our stamp only where they can be read."""
    mapped = _mapped(deck)
    ground = mapped.get("bg1", "FFFFFF")
    ink = Colour("tx1")
    accent = Colour("accent1") if contrast(mapped.get("accent1", ground), ground) >= READABLE else ink
    stamp = next((rgb for rgb in ("963A00", "FFC48A") if contrast(rgb, ground) >= READABLE), "")
    return Palette(ink, ink, accent, Colour(stamp) if stamp else ink, accent)


def body_face(deck: Presentation) -> str:
    """Return the name of the theme's face for running text."""
    found = _theme(deck).find(".//a:fontScheme/a:minorFont/a:latin", NAMESPACES)
    return found.get("typeface", "") if found is not None else ""


def _theme(deck: Presentation) -> Element:
    part = deck.slide_masters[0].part.part_related_by(RT.THEME)
    return etree.fromstring(part.blob, etree.XMLParser(resolve_entities=False, no_network=True))


def _mapped(deck: Presentation) -> dict[str, str]:
    """Return the colours by the names that slides use, as the master maps them."""
    slots = {}
    for slot in _theme(deck).find(".//a:clrScheme", NAMESPACES):
        value = slot[0].get("lastClr") or slot[0].get("val", "")
        slots[etree.QName(slot).localname] = value
    mapping = deck.slide_masters[0].element.find("p:clrMap", NAMESPACES)
    named = (
        dict(mapping.attrib) if mapping is not None else {"bg1": "lt1", "tx1": "dk1", "accent1": "accent1"}
    )
    return {name: slots[slot] for name, slot in named.items() if len(slots.get(slot, "")) == 6}
