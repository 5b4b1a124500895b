"""Shapes of a slide: hidden ones and those outside it go, embedded files leave their picture."""

from __future__ import annotations

import math
from collections.abc import Iterator

from mmbuilder.scrub.containers._ooxml.work import Scene
from mmbuilder.scrub.containers._ooxml.xml import Element, above, named, q, qs, remove

_SHAPES = qs("p:sp p:pic p:graphicFrame p:cxnSp p:grpSp")
_MEDIA = "a:audioCd a:audioFile a:videoFile a:wavAudioFile a:quickTimeFile"
SLIDE = "slide size"
Box = tuple[float, float, float, float]
"""Left, top, right, bottom, in EMU."""


def media_first(scene: Scene) -> None:
    """Say what sound and video is about to go; its poster stays as a picture. Before `prepare`."""
    for node in named(scene.tree, f"{_MEDIA} p:sndAc"):
        if node.tag != q("p:sndAc"):
            scene.found("sound or video (its still picture stays)")
        remove(node)


def clean_shapes(scene: Scene) -> None:
    """Take out what nobody sees, and what a shape carries besides its looks."""
    for frame in named(scene.tree, "p:oleObj"):
        _only_picture(scene, frame)
    for node in named(scene.tree, "p:cNvPr"):
        if node.get("hidden") in ("1", "true"):
            _take_out(scene, above(node, "p:sp p:pic p:graphicFrame p:cxnSp p:grpSp"), "hidden shape")
    for tree in named(scene.tree, "p:spTree"):
        for shape in list(tree):
            _if_outside(scene, shape, (1.0, 1.0, 0.0, 0.0))
    _plain_fields(scene)
    _animations(scene)


def _only_picture(scene: Scene, embedded: Element) -> None:
    """An embedded or linked file becomes the picture of it that the slide shows."""
    frame = above(embedded, "p:graphicFrame")
    picture = next(embedded.iter(q("p:pic")), None)
    scene.found("embedded document (its picture stays)")
    if frame is None:
        remove(embedded)
    elif picture is None or frame.getparent() is None:
        remove(frame)
    else:
        frame.getparent().replace(frame, picture)


def place(tree: Element, frame: Box = (1.0, 1.0, 0.0, 0.0)) -> Iterator[tuple[Element, Box]]:
    """Yield each shape that says where it stands, and its place on the slide, those of groups too.

    Args:
        tree: whose shapes.
        frame: scale and shift, across and down, from the tree's own measure to the slide's.
    """
    for shape in tree:
        if shape.tag in _SHAPES and (box := _box(shape)):
            yield shape, _moved(box, frame)
            if shape.tag == q("p:grpSp") and (inner := _inner(shape, frame)):
                yield from place(shape, inner)


def _take_out(scene: Scene, shape: Element | None, kind: str) -> None:
    if shape is not None and shape.getparent() is not None:
        scene.found(kind)
        remove(shape)


def _if_outside(scene: Scene, shape: Element, frame: Box) -> None:
    """Take a shape out if no part of it can be on the slide; in a group, each of its shapes.

    Args:
        scene: the slide.
        shape: any child of a shape tree.
        frame: scale and shift, across and down, from the group's own measure to the slide's.
    """
    if shape.tag not in _SHAPES or (box := _box(shape)) is None:
        return
    width, height = (float(side) for side in scene.work.shared[SLIDE].split())
    left, top, right, bottom = _moved(box, frame)
    if right <= 0 or bottom <= 0 or left >= width or top >= height:
        _take_out(scene, shape, "shape outside the slide")
    elif shape.tag == q("p:grpSp") and (inner := _inner(shape, frame)):
        for child in list(shape):
            _if_outside(scene, child, inner)


def _transform(shape: Element) -> Element | None:
    return next((node for node in _near(shape) if node.tag in qs("a:xfrm p:xfrm")), None)


def _near(shape: Element) -> Iterator[Element]:
    for child in shape:
        if child.tag in qs("p:spPr p:grpSpPr p:xfrm"):
            yield child
            yield from child


def _pair(node: Element | None, names: tuple[str, str]) -> tuple[float, float] | None:
    try:
        return (float(node.get(names[0])), float(node.get(names[1]))) if node is not None else None
    except (TypeError, ValueError):
        return None


def _box(shape: Element) -> Box | None:
    """The place of a shape, turned in any way: what it may cover."""
    form = _transform(shape)
    if form is None:
        return None
    at, size = _pair(form.find(q("a:off")), ("x", "y")), _pair(form.find(q("a:ext")), ("cx", "cy"))
    if at is None or size is None:
        return None
    if form.get("rot", "0") != "0":
        half = math.hypot(*size) / 2
        x, y = at[0] + size[0] / 2, at[1] + size[1] / 2
        return (x - half, y - half, x + half, y + half)
    return (*at, at[0] + max(size[0], 1), at[1] + max(size[1], 1))


def _moved(box: Box, frame: Box) -> Box:
    across, down, right, below = frame
    return (box[0] * across + right, box[1] * down + below, box[2] * across + right, box[3] * down + below)


def _inner(group: Element, frame: Box) -> Box | None:
    form = _transform(group)
    if form is None or form.get("rot", "0") != "0":
        return None
    at, size = _pair(form.find(q("a:off")), ("x", "y")), _pair(form.find(q("a:ext")), ("cx", "cy"))
    own, room = _pair(form.find(q("a:chOff")), ("x", "y")), _pair(form.find(q("a:chExt")), ("cx", "cy"))
    if at is None or size is None or own is None or room is None or not all(room):
        return None
    across, down = size[0] / room[0], size[1] / room[1]
    outer = _moved((at[0] - own[0] * across, at[1] - own[1] * down, 0, 0), frame)
    return (across * frame[0], down * frame[1], outer[0], outer[1])


def _plain_fields(scene: Scene) -> None:
    """Fields but the slide number become the words they show: a date field would show a date again."""
    for field in named(scene.tree, "a:fld"):
        if field.get("type") != "slidenum":
            for node in named(field, "a:pPr"):
                remove(node)
            field.tag = q("a:r")
            field.attrib.clear()


def _animations(scene: Scene) -> None:
    """Keep the build of a slide if every shape it moves is still there, else show all at once."""
    ids = {node.get("id") for node in scene.tree.iter(q("p:cNvPr"))}
    for timing in named(scene.tree, "p:timing"):
        played = named(timing, "p:audio p:video p:sndTgt p:snd p:tmpl p:inkTgt p:cmd")
        aims = [
            node.get("spid") for node in named(timing, "p:spTgt p:bldP p:bldGraphic p:bldDgm p:bldOleChart")
        ]
        if any(True for _ in played) or not set(aims) <= ids:
            scene.found("animation of something that was left out")
            remove(timing)


def flatten_links(scene: Scene) -> None:
    """Links go with what they point to; a sound or program behind them goes always."""
    for link in named(scene.tree, "a:hlinkClick a:hlinkHover a:hlinkMouseOver"):
        action = link.get("action", "")
        if action.startswith("ppaction://hlinkshowjump") or action == "ppaction://noaction":
            remove(link)
        elif action and action != "ppaction://hlinksldjump":
            scene.found("link to a program or file")
            remove(link)
        else:
            for name in [name for name in link.attrib if name not in (q("r:id"), "action")]:
                del link.attrib[name]
