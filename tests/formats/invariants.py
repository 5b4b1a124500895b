"""What has to hold in every deck we write: `check_deck(data)` asserts all of it.

Contrast and sizes are judged by the WCAG 2 formula, written here a second time so that a slip
in the package does not vouch for itself.
"""

from __future__ import annotations

import io
import posixpath
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from lxml import etree
from PIL import Image
from pptx import Presentation
from pptx.slide import Slide

NS = {
    "a": "http://schemas.openxmlformats.org/drawingml/2006/main",
    "p": "http://schemas.openxmlformats.org/presentationml/2006/main",
    "r": "http://schemas.openxmlformats.org/officeDocument/2006/relationships",
    "adec": "http://schemas.microsoft.com/office/drawing/2017/decorative",
}
SMALL_PRINT = ("Confidentiality", "Use", "Slide number", "Stamp")
BODY_LEAST, TABLE_LEAST, SMALL_LEAST = 20, 18, 12
CONTRAST_LEAST = 4.5


@dataclass(frozen=True)
class Shown:
    """A shape that carries text or a picture, in EMU."""

    name: str
    kind: str
    x: int
    y: int
    w: int
    h: int

    def meets(self, other: Shown) -> bool:
        return (
            self.x < other.x + other.w
            and other.x < self.x + self.w
            and self.y < other.y + other.h
            and other.y < self.y + self.h
        )


def check_deck(data: bytes, *, house: bool = True) -> None:
    """Assert every invariant.

    Args:
        data: a finished deck.
        house: made on the house template; a user's own brings pictures and colours we do not vouch for.
    """
    parts = _parts(data)
    _properties_blank(parts)
    _nothing_stray(parts)
    _media_clean(parts)
    deck = Presentation(io.BytesIO(data))
    size = deck.slide_width, deck.slide_height
    titles = []
    for slide in deck.slides:
        _ids_unique(slide)
        _places(slide, size)
        _placeholders_filled(slide)
        _pictures_told(slide)
        _letters(slide)
        if house:
            _contrast(slide)
        assert slide.has_notes_slide, "a slide without a script"
        assert slide.shapes.title is not None, "a slide without a headline"
        titles.append(slide.shapes.title.text_frame.text)
    assert all(titles), "an empty headline"
    repeated = [one for one, other in pairwise(titles) if one == other]
    assert not repeated, "two slides in a row with one headline"


def _parts(data: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        assert all(entry.date_time == (1980, 1, 1, 0, 0, 0) for entry in archive.infolist())
        assert archive.testzip() is None
        return {name: archive.read(name) for name in archive.namelist()}


def _properties_blank(parts: dict[str, bytes]) -> None:
    for name in ("docProps/core.xml", "docProps/app.xml"):
        root = etree.fromstring(parts[name])
        assert not len(root), name
        assert not (root.text or "").strip(), name


def _nothing_stray(parts: dict[str, bytes]) -> None:
    """No workbook, thumbnail or printer; nothing unreachable; nothing that leads out."""
    for name in parts:
        assert not any(
            word in name.lower() for word in ("embeddings", "thumbnail", "printer", "custom", "fonts")
        ), name
    assert parts["_rels/.rels"]
    reached = {"[Content_Types].xml", "_rels/.rels"}
    for name in (name for name in parts if name.endswith(".rels")):
        folder = posixpath.dirname(posixpath.dirname(name))
        for relation in etree.fromstring(parts[name]):
            assert relation.get("TargetMode") != "External", name
            target = relation.get("Target")
            full = (
                target.lstrip("/")
                if target.startswith("/")
                else posixpath.normpath(posixpath.join(folder, target))
            )
            assert full in parts, (name, target)
            reached |= {full, name}
    assert set(parts) == reached, "a part that nothing points to"
    listed = etree.fromstring(parts["[Content_Types].xml"])
    for entry in listed:
        if entry.get("PartName"):
            assert entry.get("PartName").lstrip("/") in parts


def _media_clean(parts: dict[str, bytes]) -> None:
    for name, data in parts.items():
        if "/media/" not in name:
            continue
        if name.endswith(".svg"):
            assert b"<metadata" not in data, name
            assert b"<!--" not in data, name
        elif name.endswith((".jpg", ".png", ".jpeg")):
            with Image.open(io.BytesIO(data)) as picture:
                assert not picture.getexif(), name
                kept = set(picture.info) - {"jfif", "jfif_version", "jfif_unit", "jfif_density", "dpi"}
                assert not kept, (name, kept)


def _ids_unique(slide: Slide) -> None:
    ids = [found.get("id") for found in slide.element.iter(f"{{{NS['p']}}}cNvPr")]
    assert len(ids) == len(set(ids))


def _shown(slide: Slide) -> Iterator[Shown]:
    for shape in slide.shapes:
        kind = etree.QName(shape.element).localname
        has_text = shape.has_text_frame and shape.text_frame.text.strip()
        if kind == "sp" and not has_text:
            kind = "mark"
        yield Shown(shape.name, kind, shape.left, shape.top, shape.width, shape.height)


def _places(slide: Slide, size: tuple[int, int]) -> None:
    shown = list(_shown(slide))
    for shape in shown:
        if shape.kind in ("mark", "cxnSp"):
            continue
        assert shape.x >= 0, shape
        assert shape.y >= 0, shape
        assert shape.x + shape.w <= size[0] + 1, shape
        assert shape.y + shape.h <= size[1] + 1, shape
    telling = [shape for shape in shown if shape.kind in ("sp", "graphicFrame")]
    pictures = [shape for shape in shown if shape.kind == "pic"]
    for place, one in enumerate(telling):
        for other in telling[place + 1 :]:
            assert not one.meets(other), (one, other)
    for picture in pictures:
        for shape in telling:
            if shape.name.startswith("Label"):
                continue
            assert not picture.meets(shape), (picture, shape)
    for label in (shape for shape in telling if shape.name.startswith("Label")):
        assert any(_inside(label, picture) for picture in pictures), label


def _inside(label: Shown, picture: Shown) -> bool:
    return (
        picture.x - 1 <= label.x
        and picture.y - 1 <= label.y
        and label.x + label.w <= picture.x + picture.w + 1
        and label.y + label.h <= picture.y + picture.h + 1
    )


def _placeholders_filled(slide: Slide) -> None:
    for holder in slide.placeholders:
        assert holder.has_text_frame
        assert holder.text_frame.text.strip() or holder.element.findall(".//a:fld", NS), holder.name


def _pictures_told(slide: Slide) -> None:
    for shape in slide.shapes:
        props = shape.element.find(".//p:cNvPr", NS)
        kind = etree.QName(shape.element).localname
        if kind in ("pic", "graphicFrame"):
            assert props.get("descr"), shape.name
        if kind == "cxnSp" or (kind == "sp" and not shape.text_frame.text and not shape.is_placeholder):
            assert props.find(".//adec:decorative", NS) is not None, shape.name


def _letters(slide: Slide) -> None:
    for shape in slide.shapes:
        table = etree.QName(shape.element).localname == "graphicFrame"
        facts = table and shape.element.find(".//a:tblPr", NS).get("firstRow") != "1"
        least = TABLE_LEAST if table and not facts else BODY_LEAST
        if shape.name.rsplit(" ", 1)[0] in SMALL_PRINT:
            least = SMALL_LEAST
        for props in shape.element.iterfind(".//a:rPr", NS):
            assert int(props.get("sz")) >= least * 100, (shape.name, props.get("sz"))


def _contrast(slide: Slide) -> None:
    colours = _theme(slide)
    ground = _ground(slide)
    for shape in slide.shapes:
        own = shape.element.find("p:spPr/a:solidFill", NS)
        behind = _rgb(own[0], colours) if own is not None else _rgb(ground, colours)
        for props in shape.element.iterfind(".//a:rPr", NS):
            fill = props.find("a:solidFill", NS)
            colour = fill[0] if fill is not None else _inherited(slide, shape)
            ratio = contrast(_rgb(colour, colours), behind)
            assert ratio >= CONTRAST_LEAST, (shape.name, ratio)


def _ground(slide: Slide) -> etree._Element:
    for level in (slide, slide.slide_layout, slide.slide_layout.slide_master):
        found = level.element.find(".//p:bg//a:solidFill", NS)
        if found is not None:
            return found[0]
    raise AssertionError("no ground")


def _inherited(slide: Slide, shape: object) -> etree._Element:
    """Return the colour a headline takes from its layout."""
    idx = shape.placeholder_format.idx  # type: ignore[attr-defined]
    for holder in slide.slide_layout.placeholders:
        found = holder.element.find(".//a:lvl1pPr/a:defRPr/a:solidFill", NS)
        if holder.placeholder_format.idx == idx and found is not None:
            return found[0]
    raise AssertionError("no colour")


def _theme(slide: Slide) -> dict[str, str]:
    part = slide.slide_layout.slide_master.part.part_related_by(
        "http://schemas.openxmlformats.org/officeDocument/2006/relationships/theme"
    )
    scheme = etree.fromstring(part.blob).find(".//a:clrScheme", NS)
    return {etree.QName(slot).localname: slot[0].get("val") for slot in scheme}


def _rgb(colour: etree._Element, colours: dict[str, str]) -> str:
    if etree.QName(colour).localname == "srgbClr":
        return str(colour.get("val"))
    names = {"tx1": "dk1", "bg1": "lt1", "tx2": "dk2", "bg2": "lt2"}
    return colours[names.get(colour.get("val"), colour.get("val"))]


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours. Source: WCAG 2 definition of contrast ratio."""

    def luminance(rgb: str) -> float:
        total = 0.0
        for share, place in ((0.2126, 0), (0.7152, 2), (0.0722, 4)):
            value = int(rgb[place : place + 2], 16) / 255
            total += share * (value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4)
        return total

    bright, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (bright + 0.05) / (dark + 0.05)
