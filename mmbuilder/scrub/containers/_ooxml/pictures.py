"""Pictures: each use made anew, cut to what is shown, without a second form behind it."""

from __future__ import annotations

import io
import re
from dataclasses import replace

from mmbuilder.errors import FileRefused
from mmbuilder.scrub.containers._ooxml.work import Scene
from mmbuilder.scrub.containers._ooxml.xml import Element, named, q, remove

Crop = tuple[float, float, float, float]
SIDES = ("l", "t", "r", "b")
_WHOLE = 100_000
"""A crop is in thousandths of a percent (ECMA-376-1, 20.1.8.55 srcRect)."""

_ENDINGS = {
    b"\x89PNG": ("png", "image/png"),
    b"\xff\xd8\xff": ("jpeg", "image/jpeg"),
    b"GIF8": ("gif", "image/gif"),
}
UNREADABLE = "pictures of a kind that is not read (such as EMF, WMF or SVG alone) became a grey placeholder"


def scrub_pictures(scene: Scene) -> None:
    """Make every picture of a part anew."""
    for blip in named(scene.tree, "a:blip"):
        _blip(scene, blip)
    for data in named(scene.tree, "v:imagedata"):
        _imagedata(scene, data)


def _blip(scene: Scene, blip: Element) -> None:
    relation = scene.sources.get(blip.attrib.pop(q("r:embed"), ""))
    if blip.attrib.pop(q("r:link"), None) is not None:
        scene.found("link to a picture outside the file")
    rect = next((node for node in blip.itersiblings(q("a:srcRect"))), None)
    crop = _cut_off(rect) if rect is not None else None
    outside = relation is None or relation.external
    blip.set(q("r:embed"), taken(scene, "" if outside or relation is None else relation.target, crop))


def _cut_off(rect: Element) -> Crop | None:
    """What a crop cuts off, as fractions; a negative side (a margin) stays, fitted to the cut picture."""
    sides = [_fraction(rect.get(side, "0")) for side in SIDES]
    cut = [min(max(side, 0.0), 1.0) for side in sides]
    width, height = 1 - cut[0] - cut[2], 1 - cut[1] - cut[3]
    if not any(cut) or width <= 0 or height <= 0:
        return None
    for side, value, room in zip(SIDES, sides, (width, height, width, height), strict=True):
        rect.attrib.pop(side, None)
        if value < 0:
            rect.set(side, str(round(value / room * _WHOLE)))
    if not rect.attrib:
        remove(rect)
    return (cut[0], cut[1], cut[2], cut[3])


def _fraction(value: str) -> float:
    try:
        return float(value[:-1]) / 100 if value.endswith("%") else float(value) / _WHOLE
    except ValueError:
        return 0.0


def _imagedata(scene: Scene, node: Element) -> None:
    """A picture in the old drawing language of Word; its crop is in 65536ths or a fraction."""
    relation = scene.sources.get(node.attrib.pop(q("r:id"), "") or node.attrib.pop(q("r:pict"), ""))
    for name in [name for name in node.attrib if not name.startswith("crop")]:
        del node.attrib[name]
    sides = [_old(node.attrib.pop(f"crop{side}", "0")) for side in ("left", "top", "right", "bottom")]
    crop = (
        (sides[0], sides[1], sides[2], sides[3])
        if any(sides) and sides[0] + sides[2] < 1 > sides[1] + sides[3]
        else None
    )
    node.set(q("r:id"), taken(scene, relation.target if relation and not relation.external else "", crop))


def _old(value: str) -> float:
    found = re.fullmatch(r"(\d*\.?\d+)(f?)", value)
    return min(1.0, float(found[1]) / (65536 if found[2] else 1)) if found else 0.0


def taken(scene: Scene, source: str, crop: Crop | None) -> str:
    """Id of the relationship to a picture scrubbed and cut; to a grey placeholder where it cannot be read."""
    work = scene.work
    if (source, crop) not in work.media:
        data = _scrubbed(scene, source, crop)
        ending, kind = next(((e, k) for mark, (e, k) in _ENDINGS.items() if data.startswith(mark)), ("", ""))
        if not ending:
            data, (ending, kind) = _as_png(data), _ENDINGS[b"\x89PNG"]
        folder = scene.name.partition("/")[0]
        name = work.name(folder + "/media/image{}." + ending)
        work.media[source, crop] = (name, kind)
        work.add(name, kind, data)
    return scene.relate("image", work.media[source, crop][0])


def _scrubbed(scene: Scene, source: str, crop: Crop | None) -> bytes:
    work = scene.work
    data = work.package.parts.get(source)
    if data is None:
        scene.found("picture that is missing or lies outside the file")
        return placeholder()
    work.used.add(source)
    try:
        clean = work.tools.picture(data, crop)
    except FileRefused:
        scene.found("picture of a kind that is not read")
        work.note(UNREADABLE)
        return placeholder()
    work.findings += [replace(one, where=f"{scene.place}, {one.where}") for one in clean.findings]
    for note in clean.notes:
        work.note(note)
    return clean.data


def _as_png(data: bytes) -> bytes:
    """A clean picture of a format that Office shows nowhere, as one that it does."""
    from PIL import Image

    out = io.BytesIO()
    with Image.open(io.BytesIO(data)) as image:
        image.convert("RGB").save(out, "PNG")
    return out.getvalue()


def placeholder() -> bytes:
    """A grey picture."""
    from PIL import Image

    out = io.BytesIO()
    Image.new("RGB", (64, 48), (200, 200, 200)).save(out, "PNG")
    return out.getvalue()
