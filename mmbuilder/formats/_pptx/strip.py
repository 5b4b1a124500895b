"""Take out of a template all that is not master, layout or theme."""

from __future__ import annotations

import io
from collections.abc import Iterator
from typing import TypeGuard

from pptx.opc.constants import RELATIONSHIP_TYPE as RT
from pptx.opc.package import Part, XmlPart
from pptx.opc.packuri import PackURI
from pptx.parts.presentation import PresentationPart
from pptx.parts.slide import NotesMasterPart
from pptx.presentation import Presentation
from pptx.shapes.picture import Picture

from mmbuilder.errors import FileRefused
from mmbuilder.formats._pptx import house, intake
from mmbuilder.formats._pptx.geometry import EMU
from mmbuilder.formats._pptx.xml import NAMESPACES, Element, el, q

_KEPT = (RT.SLIDE_MASTER, RT.THEME, RT.TABLE_STYLES, RT.PRES_PROPS, RT.VIEW_PROPS)
_KEPT_BELOW = (RT.SLIDE_MASTER, RT.SLIDE_LAYOUT, RT.THEME, RT.IMAGE)
_LISTS = (
    "sldIdLst",
    "notesMasterIdLst",
    "handoutMasterIdLst",
    "custShowLst",
    "embeddedFontLst",
    "extLst",
    "smartTags",
    "custDataLst",
    "kinsoku",
    "modifyVerifier",
    "photoAlbum",
)
_POINTERS = ("id", "embed", "link", "pict")
_ENCODED = {"image/jpeg": "JPEG", "image/png": "PNG"}


_CREST = 200.0
"""Points; a picture on a master or layout of less than this each way is taken for a crest."""


def strip(deck: Presentation, *, crest: bool = True) -> None:
    """Drop slides, notes, comments, tags, fonts, custom XML, links, names; re-encode what pictures stay.

    Args:
        deck: the template.
        crest: whether small pictures on masters and layouts stay: they tell which hospital it is.
    """
    if not crest:
        _drop_crests(deck)
    part = deck.part
    for tag in _LISTS:
        for found in part._element.findall(f"p:{tag}", NAMESPACES):
            part._element.remove(found)
    _drop(part, _KEPT)
    _props(part)
    for number, below in enumerate(_below(part), 1):
        _clean(below)
        _rename(below, number)
    _notes(part)


def is_crest(shape: object) -> TypeGuard[Picture]:
    """Whether a shape of a master or layout is a small picture; a large one is a ground."""
    return isinstance(shape, Picture) and max(shape.width, shape.height) / EMU < _CREST


def _drop_crests(deck: Presentation) -> None:
    for master in deck.slide_masters:
        for sheet in (master, *master.slide_layouts):
            for shape in list(sheet.shapes):
                if is_crest(shape):
                    rel = shape._element.blip_rId
                    shape._element.getparent().remove(shape._element)
                    if rel is not None and rel in sheet.part.rels:  # two crests may be one picture
                        sheet.part.rels.pop(rel)


def _below(part: PresentationPart) -> Iterator[XmlPart]:
    for master in part.presentation.slide_masters:
        yield master.part
        for layout in master.slide_layouts:
            yield layout.part
    # A theme may bring pictures and links of its own.


def _drop(part: Part, kept: tuple[str, ...]) -> set[str]:
    """Drop the relationships that are not of these kinds, or lead out of the file; return their ids."""
    gone = {key for key, rel in part.rels.items() if rel.is_external or rel.reltype not in kept}
    for key in gone:
        part.rels.pop(key)
    return gone


def _props(part: PresentationPart) -> None:
    """Blank the last view and the way of showing: they can hold paths and names."""
    for kind, root in ((RT.PRES_PROPS, "presentationPr"), (RT.VIEW_PROPS, "viewPr")):
        blank = _written(el(f"p:{root}"))
        held = [rel.target_part for rel in part.rels.values() if rel.reltype == kind]
        if held:
            held[0].blob = blank
        else:
            name = {"presentationPr": "presProps", "viewPr": "viewProps"}[root]
            type_ = f"application/vnd.openxmlformats-officedocument.presentationml.{name}+xml"
            part.relate_to(Part(PackURI(f"/ppt/{name}.xml"), type_, part.package, blank), kind)


def _written(root: Element) -> bytes:
    import lxml.etree as etree

    return bytes(etree.tostring(root, xml_declaration=True, encoding="UTF-8", standalone=True))


def _clean(part: XmlPart) -> None:
    """Clear links, tags, names and alt texts of a master or layout."""
    gone = _drop(part, _KEPT_BELOW)
    for found in list(part._element.iter()):
        if any(found.get(q(f"r:{name}")) in gone for name in _POINTERS if found.get(q(f"r:{name}"))):
            _unhook(found)
    for tag in ("p:custDataLst", "p:timing", "p:transition"):
        for found in part._element.iter(q(tag)):
            found.getparent().remove(found)
    for number, found in enumerate(part._element.iter(q("p:cNvPr")), 1):
        found.set("name", f"Shape {number}")
        for name in ("descr", "title"):
            found.attrib.pop(name, None)
    for rel in list(part.rels.values()):
        if rel.reltype == RT.IMAGE:
            _encode(rel.target_part)


def _rename(part: XmlPart, number: int) -> None:
    """Give a master or layout, and its theme, names of ours: a department names them after itself."""
    import lxml.etree as etree

    for sheet in part._element.iter(q("p:cSld")):
        sheet.set("name", f"Layout {number}")
    for rel in part.rels.values():
        if rel.reltype == RT.THEME:
            theme = etree.fromstring(
                rel.target_part.blob, etree.XMLParser(resolve_entities=False, no_network=True)
            )
            for tag in ("a:clrScheme", "a:fontScheme", "a:fmtScheme"):
                for scheme in theme.iter(q(tag)):
                    scheme.set("name", "Template")
            theme.set("name", "Template")
            rel.target_part._blob = _written(theme)


def _unhook(found: Element) -> None:
    """Remove what pointed at what is gone: a link by itself, a picture or object with its shape."""
    shape = found
    if "hlink" not in str(found.tag):
        while shape.getparent() is not None and shape.getparent().tag not in (q("p:spTree"), q("p:grpSp")):
            shape = shape.getparent()
    parent = shape.getparent()
    if parent is not None:
        parent.remove(shape)


def _encode(part: Part) -> None:
    """Write a template's picture anew from its pixels, without metadata; drawings stay as they are."""
    kind = _ENCODED.get(part.content_type)
    if kind is None:
        return
    from PIL import Image

    try:
        with Image.open(io.BytesIO(part.blob)) as opened:
            wanted = "RGB" if kind == "JPEG" else "RGBA"
            pixels = opened.convert(wanted)
    except Exception as fault:
        raise FileRefused(
            intake.said("a damaged picture in a layout", "pictures that can be read")
        ) from fault
    file = io.BytesIO()
    bare = Image.frombytes(wanted, pixels.size, pixels.tobytes())
    bare.save(file, kind, **({"quality": 92, "subsampling": 0} if kind == "JPEG" else {}))
    part._blob = file.getvalue()


def _notes(part: PresentationPart) -> None:
    """Give the deck the house's notes master: the template's own may hold names in header and footer."""
    from pptx import Presentation as open_deck

    ours = open_deck(str(house.path())).part.part_related_by(RT.NOTES_MASTER)
    theirs = ours.part_related_by(RT.THEME)
    theme = Part(PackURI("/ppt/theme/theme99.xml"), theirs.content_type, part.package, theirs.blob)
    master = NotesMasterPart.load(
        PackURI("/ppt/notesMasters/notesMaster1.xml"), ours.content_type, part.package, ours.blob
    )
    master.relate_to(theme, RT.THEME)
    key = part.relate_to(master, RT.NOTES_MASTER)
    listed = el("p:notesMasterIdLst", el("p:notesMasterId", r__id=key))
    part._element.find("p:sldMasterIdLst", NAMESPACES).addnext(listed)
