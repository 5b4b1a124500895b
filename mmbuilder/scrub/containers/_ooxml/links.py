"""Relationships: known ones lead to parts made anew, all others go with what refers to them."""

from __future__ import annotations

from mmbuilder.scrub.containers._ooxml.work import Scene
from mmbuilder.scrub.containers._ooxml.xml import Element, above, local, q, qs, remove, space, unwrap

_R = space(q("r:id"))
_FRAMES = """p:graphicFrame w:drawing xdr:twoCellAnchor xdr:oneCellAnchor xdr:absoluteAnchor cdr:relSizeAnchor
    cdr:absSizeAnchor"""
_FRAMED = qs("c:chart dgm:relIds")
"""Elements whose frame is empty without them."""

_TEXT_AROUND = qs("w:hyperlink")
_LINKS = qs("a:hlinkClick a:hlinkHover a:hlinkMouseOver w:hyperlink x:hyperlink")


def relink(scene: Scene) -> None:
    """Point every reference of a part to the new parts; pictures are done before."""
    ours = {key for key, kind, _ in scene.relations if kind == "image"}
    for node in list(scene.tree.iter()):
        for name in [name for name in node.attrib if space(name) == _R and node.get(name)]:
            if node.tag in (q("a:blip"), q("v:imagedata")) and node.get(name) in ours:
                continue
            _point(scene, node, name)


def _point(scene: Scene, node: Element, name: str) -> None:
    relation = scene.sources.get(node.get(name))
    target = scene.work.take(relation)
    if target and relation is not None:
        node.set(name, scene.relate(relation.type, target))
        return
    if node.tag in _LINKS:
        if relation is not None and relation.external:
            scene.found("link out of the file")
    elif relation is not None:
        scene.found("reference to a part that is left out")
    _without(node, name)


def _without(node: Element, name: str) -> None:
    """Take out what refers to nothing."""
    if node.tag in _TEXT_AROUND:
        del node.attrib[name]
        unwrap(node)
    elif node.tag in _FRAMED:
        frame = above(node, _FRAMES)
        remove(frame if frame is not None else node)
    elif local(node.tag) in ("pageSetup", "fill", "textpath"):
        del node.attrib[name]
    else:
        parent = node.getparent()
        remove(node)
        if parent is not None and len(parent) == 0 and local(parent.tag).endswith("Lst"):
            remove(parent)
