"""Attributes and loose texts of a part: the formats' own words and numbers stay, names become ours.

An element or attribute that ECMA-376 does not have goes. What people write is known by its
name: it is scrubbed (alt text) or made neutral (names of shapes). Any other string stays only
as a number, a measure, a colour, a GUID, a formula of geometry, or a word of the format; and any
text only where a step has scrubbed it (`Scene.vouch`).
"""

from __future__ import annotations

import re

from mmbuilder.scrub.containers._ooxml import vocabulary
from mmbuilder.scrub.containers._ooxml.work import Scene
from mmbuilder.scrub.containers._ooxml.xml import (
    NAMESPACES,
    XML_SPACE,
    Element,
    local,
    q,
    qs,
    remove,
    several,
    space,
)

_SHAPE_NAMES = qs("p:cNvPr pic:cNvPr wp:docPr wps:cNvPr wpg:cNvPr xdr:cNvPr cdr:cNvPr dsp:cNvPr")
_THEME_NAMES = qs("a:theme a:clrScheme a:fontScheme a:fmtScheme a:custClr a:tblStyle a:tableStyle p:cSld")
_SCRUBBED = frozenset({"descr", "title", "alt"})
_WRITTEN = {
    (q("v:textpath"), "string"),
    (q("w:tblCaption"), "val"),
    (q("w:tblDescription"), "val"),
}
_LEFT_OUT = several(
    """rsidR rsidRPr rsidRDefault rsidP rsidTr rsidSect rsidDel author initials date macro textlink
    tgtFrame invalidUrl docLocation codeName href filename src relid bmk tooltip spid uniqueId
    matchingName"""
)
_FONTS = {
    (q("w:font"), "name"),
    (q("x:name"), "val"),
    (q("x:rFont"), "val"),
    *((q("w:rFonts"), name) for name in ("ascii", "hAnsi", "cs", "eastAsia")),
}

_MEASURE = r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?(?:%|pt|px|in|cm|mm|pc|pi|em|f|fd)?"
_OPERATION = r"(?:\*/|\+-|\+/|\?:|abs|at2|cat2|cos|max|min|mod|pin|sat2|sin|sqrt|tan|val)(?: -?\w{1,12}){1,3}"
_PLAIN = re.compile(
    "|".join(
        (
            _MEASURE,
            r"#?[0-9A-Fa-f]{2,8}|#[0-9A-Fa-f]{3}(?: \[\d+\])?|[0-9A-Fa-f]{10,24}",
            r"\{?[0-9A-Fa-f]{8}(?:-[0-9A-Fa-f]{4}){3}-[0-9A-Fa-f]{12}\}?",
            r"slidenum|#?_x0000_[a-z]\d{1,6}|true|false|on|off|t|f|auto|ppt_[xywhrc]|style\.\w{3,12}|#ppt_[xywhrc]",
            _OPERATION,
            r"(?:\$?[A-Z]{1,3}\$?\d{1,7}(?::\$?[A-Z]{1,3}\$?\d{1,7})?[ ,]?){1,50}",
            r"[a-z]{2,3}(?:-[A-Za-z]{2,4})*(?:-\d{3})?",
            r"(?:[-+*/().,%#$\d ]|ppt_[xywhrc]|\b[MLCZEmlcze]\b)+|[a-z]{2,12}\([a-zA-Z]{2,12}\)",
            r"\"?[\u2022\uf000-\uf0ff•–—▪▫◦‣·oØ§ü]\"?",
        )
    )
)
_GUIDES = qs("a:gd a:pt a:rect a:arcTo a:pos a:cxn a:ahXY a:ahPolar")
_GUIDE = re.compile(r"(?:connsite[XY]|[a-zA-Z]{1,4}|[a-z]{2,4}[A-Z][a-z]{0,5})\d{0,4}")
_OUTLINE = re.compile(r"[-+\d.,:;@# mlcxenqtwaburvpfi%]{1,4000}")
_STYLE = re.compile(r"[a-z-]{2,40}:[-\w.%# ]{0,24}")
_CODE = re.compile(r"(?:[#0?.,%+/:;()\[\]$@ _*dmyhsE-]|AM/PM|General|Red|\\[^\w]|€|£)+")
_LEVEL = re.compile(r"(?:%\d|[^\w%])*[oO§a-z]?")
_LOOSE = qs("""wp:posOffset wp:align xdr:col xdr:colOff xdr:row xdr:rowOff cdr:x cdr:y p:attrName
    a:tableStyleId""")


def clean_values(scene: Scene) -> None:
    """Go through every element, attribute and loose text of a part, after all other steps."""
    for number, node in enumerate(list(scene.tree.iter()), 1):
        known = vocabulary.attributes(node.tag)
        if known is None:
            scene.found("element that the format does not have")
            remove(node)
            continue
        for name in list(node.attrib):
            _attribute(scene, node, name, number, known.get(name, ""))
        _loose(scene, node)


def _attribute(scene: Scene, node: Element, name: str, number: int, holds: str) -> None:
    value, bare = node.get(name), local(name)
    if scene.vouched(node, name) or (name == XML_SPACE and value in ("preserve", "default")):
        return
    if space(name) == space(q("r:id")):
        if not (holds and scene.leads(value)):
            del node.attrib[name]
        return
    made = _made(scene, node, bare, value, number, holds)
    if made is None:
        del node.attrib[name]
    else:
        node.set(name, made)


def _made(scene: Scene, node: Element, bare: str, value: str, number: int, holds: str) -> str | None:
    """The new value; None where the attribute goes."""
    if not holds or bare in _LEFT_OUT:
        return None
    if bare in ("name", "styleName") and node.tag in _SHAPE_NAMES | _THEME_NAMES:
        return f"Shape {node.get('id', number)}" if node.tag in _SHAPE_NAMES else "Office"
    if bare in _SCRUBBED or (node.tag, bare) in _WRITTEN:
        return _described(scene, value)
    if bare == "typeface" or (node.tag, bare) in _FONTS:
        return value if value in vocabulary.FONTS or _same(scene, value) else "Arial"
    if bare == "formatCode":
        return value if shows_a_number(value) or _same(scene, re.sub(r'[\\"]', "", value)) else "General"
    if node.tag == q("w:lvlText"):
        return value if _LEVEL.fullmatch(value) or _same(scene, value) else ""
    plain = passes(value) or _drawn(node, value)
    outline = bare in _VECTOR or (bare == "style" and ":" in value)
    if _own(node, bare, value) or (plain and (outline or not _tells(scene, node, value, holds))):
        return value
    scene.found("value of a setting that is no plain one")
    return None


def _own(node: Element, bare: str, value: str) -> bool:
    """Whether it is a bullet of one sign, or a link to a slide."""
    if (node.tag, bare) == (q("a:buChar"), "char"):
        return len(value) == 1
    return bare == "action" and value == "ppaction://hlinksldjump"


_FEW = 6
"""Figures that are too few to be somebody's number."""

_NO_NUMBER = re.compile(
    r"#?[0-9A-Fa-f]{6}|\{?[0-9A-Fa-f]{8}(?:-[0-9A-Fa-f]{4}){3}-[0-9A-Fa-f]{12}\}?"
    r"|[0-9A-Fa-f]{20}"
)
"""A colour, a GUID, the form of a font (ten bytes, PANOSE)."""

_VECTOR = several("path v points coordsize coordorigin adj wrapcoords connectlocs")
"""Lists of numbers that are an outline in the old drawing language."""


def _tells(scene: Scene, node: Element, value: str, holds: str) -> bool:
    """Whether figures that pass as a setting, and are no mere measure, are somebody's number."""
    measure = holds == "n" and re.fullmatch(rf"{_MEASURE}|[0-9A-Fa-f]{{8}}", value)
    if measure or sum(map(str.isdigit, value)) < _FEW or _NO_NUMBER.fullmatch(value):
        return False
    if node.tag in _GUIDES:
        return " " in value and re.fullmatch(_OPERATION, value) is None
    return not _same(scene, value)


_URIS = frozenset(
    (
        *NAMESPACES.values(),
        f"{NAMESPACES['a'][:-4]}table",
        "http://schemas.openxmlformats.org/presentationml/2006/ole",
        "http://schemas.microsoft.com/office/word",
    )
)
"""What a frame may say it holds, and whose a setting is."""


def shows_a_number(code: str) -> bool:
    """Whether it is the format of a number or a time, without words of somebody's."""
    return _CODE.fullmatch(code) is not None


def passes(value: str) -> bool:
    """Whether a setting's value is a number, a formula or a word of the format."""
    return (
        value == ""
        or value in vocabulary.words()
        or value in _URIS
        or bool(_PLAIN.fullmatch(value) or _style(value))
        or _list(value)
    )


def _drawn(node: Element, value: str) -> bool:
    """Whether it is a name in a shape's geometry, or an outline in the old drawing language."""
    if node.tag in _GUIDES:
        return _GUIDE.fullmatch(value) is not None
    vector = space(node.tag) == space(q("v:shape")) and not re.search(r"[a-z]{3}", value)
    return vector and _OUTLINE.fullmatch(value) is not None


def _style(value: str) -> bool:
    words = set(re.findall(r"[A-Za-z]{3,}", value)) - _CSS
    parts = [part.strip() for part in value.split(";") if part.strip()]
    return bool(parts) and all(map(_STYLE.fullmatch, parts)) and words <= vocabulary.words()


_CSS = several(
    """position width height left top right bottom margin index rotation flip visibility mso wrap style
    distance text anchor relative absolute page visible hidden char line horizontal vertical percent
    area middle fit shape next textbox layout flow"""
)


def _list(value: str) -> bool:
    parts = value.split()
    return 1 < len(parts) <= 16 and all(part in vocabulary.words() or part.isdecimal() for part in parts)


def _same(scene: Scene, value: str) -> bool:
    fine = scene.work.fine
    if value not in fine:
        fine[value] = scene.work.tools.text(value).text == value
    return fine[value]


def _described(scene: Scene, value: str) -> str:
    """A text that is shown; the file name that a program put in as description is no text."""
    if re.search(r"(?i)[\\/]|\.(?:jpe?g|png|tiff?|gif|bmp|webp|heic|svg|emf|wmf|mp4|mov|dcm)\b", value):
        return ""
    return scene.text(value)


def _settled(scene: Scene, node: Element, text: str) -> bool:
    return passes(text) and not _tells(scene, node, text, "n")


def _loose(scene: Scene, node: Element) -> None:
    node.tail = None
    text = (node.text or "").strip()
    if text and not scene.vouched(node) and not (node.tag in _LOOSE and _settled(scene, node, text)):
        scene.found("text where the format has none, or of a kind that is not shown")
        node.text = None
