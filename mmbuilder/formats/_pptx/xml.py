"""Write DrawingML as nested calls: `el("a:off", x=0, y=0)`."""

from __future__ import annotations

from typing import TypeAlias

import lxml.etree as etree

Element: TypeAlias = etree._Element

NAMESPACES = {
    "a": "http://schemas.openxmlformats.org/drawingml/2006/main",
    "p": "http://schemas.openxmlformats.org/presentationml/2006/main",
    "r": "http://schemas.openxmlformats.org/officeDocument/2006/relationships",
    "asvg": "http://schemas.microsoft.com/office/drawing/2016/SVG/main",
    "adec": "http://schemas.microsoft.com/office/drawing/2017/decorative",
}


def q(name: str) -> str:
    """`a:off` to lxml's `{namespace}off`."""
    prefix, _, local = name.partition(":")
    return f"{{{NAMESPACES[prefix]}}}{local}"


def el(tag: str, *children: Element | None, text: str = "", **attributes: str | float) -> Element:
    """Return one element; children that are None are left out, `r__id` means `r:id`."""
    prefix = tag.partition(":")[0]
    made = etree.Element(q(tag), nsmap={prefix: NAMESPACES[prefix]})
    for name, value in attributes.items():
        made.set(q(name.replace("__", ":")) if "__" in name else name, str(value))
    made.text = text or None
    made.extend(child for child in children if child is not None)
    return made
